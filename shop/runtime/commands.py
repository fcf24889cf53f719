"""Runs a manage.py command with what it needs: nothing, the database server, or a shop ready for work."""

import sys
from collections.abc import Sequence
from contextlib import ExitStack

import django
from django.core.management import ManagementUtility, get_commands

from shop.runtime.errors import CannotRun

ALONE = {
    "help", "version", "check", "test", "start", "workings", "diffsettings", "startapp", "startproject",
    "spectacular", "collectstatic", "findstatic", "compilemessages", "makemessages",
}  # fmt: skip
SERVER_ONLY = {
    "migrate", "makemigrations", "showmigrations", "sqlmigrate", "squashmigrations", "optimizemigration",
    "dbshell", "restore",
}  # fmt: skip


def run(arguments: Sequence[str]) -> int:
    """Run the command; return its exit status."""
    utility = ManagementUtility(list(arguments))
    try:
        with ExitStack() as held:
            _prepare(arguments, held)
            utility.execute()
    except CannotRun as refusal:
        print(refusal.sentence, file=sys.stderr)  # noqa: T201  This is the terminal.
        return 2
    except KeyboardInterrupt:
        return 130
    return 0


def _prepare(arguments: Sequence[str], held: ExitStack) -> None:
    name = arguments[1] if len(arguments) > 1 else "help"
    django.setup()  # First, since get_commands remembers for good what it finds when it is first asked.
    asks_for_help = bool({"-h", "--help", "--version"} & set(arguments[1:]))
    if asks_for_help or name in ALONE or name not in get_commands():
        return
    from shop.runtime import prepare

    held.enter_context(prepare.server(say))
    if name not in SERVER_ONLY:
        prepare.shop(say)


def say(text: str) -> None:
    """Tell a step on standard error, so that standard output holds only a command's answer."""
    print(text, file=sys.stderr, flush=True)  # noqa: T201  This is the terminal.
