import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from shop.measure.rows import Row

MEASURES = {
    "plan": "planning",
    "hold": "holding",
    "http": "serving",
    "key": "answering",
    "look": "looking",
    "mix": "designing",
    "paper": "papers",
    "read": "reading",
    "start": "starting",
}


class Command(BaseCommand):
    help = "Measure speed against limits taken in the same run; the shop's own data stays untouched."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("name", nargs="?", help=f"one of: {', '.join(MEASURES)} (all when left out)")
        parser.add_argument("--json", action="store_true", help="rows as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        if options["name"] and options["name"] not in MEASURES:
            raise CommandError(f"name must be one of: {', '.join(MEASURES)}.", returncode=2)
        as_json = options["json"]
        if options["name"]:
            rows = [row.as_json() for row in self._rows(options["name"], quiet=as_json)]
        else:
            rows = [row for name in MEASURES for row in _apart(name, as_json=as_json)]
        if as_json:
            self.stdout.write(json.dumps(rows, indent=1))

    def _rows(self, name: str, *, quiet: bool) -> Iterator[Row]:
        measure: Callable[[], Iterator[Row]] = import_module(f"shop.measure.{MEASURES[name]}").measure
        for row in measure():
            if not quiet:
                self.stdout.write(_line(row))
                self.stdout.flush()
            yield row


def _apart(name: str, *, as_json: bool) -> list[dict[str, Any]]:
    """The rows of one measure, taken in a process of its own: none finds the memory that another one filled.

    Written by that process as they come, unless they are wanted `as_json`.
    """
    words = [sys.executable, str(settings.BASE_DIR / "manage.py"), "measure", name]
    done = subprocess.run(
        [*words, *(["--json"] if as_json else [])],
        stdout=subprocess.PIPE if as_json else None,
        text=True,
        check=False,
    )
    if done.returncode:
        raise CommandError(f"measure {name} came to no end.", returncode=done.returncode)
    found: list[dict[str, Any]] = json.loads(done.stdout) if as_json else []
    return found


def _line(row: Row) -> str:
    sign = "at least" if row.more_is_better else "at most "
    verdict = "met   " if row.met else "MISSED"
    figures = f"{row.value:10.2f} {row.unit:4}  {sign} {row.limit:9.2f}  ratio {row.ratio:5.2f}"
    return f"{verdict} {row.name:28} {figures}  {row.note}"
