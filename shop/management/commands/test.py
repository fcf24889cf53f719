"""`test`: the whole suite."""

import os
import sys
from collections.abc import Sequence
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from shop.runtime import browser

SIDE_BY_SIDE = ("-n", "2", "--dist", "loadgroup")
CHOOSES_WORKERS = (
    "-n",
    "--numprocesses",
    "--pdb",
    "-s",
    "no:xdist",
    "-h",
    "--help",
    "--collect-only",
    "--co",
)


class Command(BaseCommand):
    help = "Run the whole suite, or what the pytest arguments choose."

    def run_from_argv(self, argv: Sequence[str]) -> None:
        """Hand every argument to pytest, which takes this process's place."""
        chosen = list(argv[2:])
        if not browser.ensured():
            sys.exit("The tests of screens need a browser: install Chromium and run this again.")
        own = any(word.startswith(CHOOSES_WORKERS) for word in chosen)
        words = [sys.executable, "-m", "pytest", *(() if own else SIDE_BY_SIDE), *chosen]
        os.chdir(settings.BASE_DIR)
        sys.stdout.flush()
        os.execv(sys.executable, words)  # noqa: S606  The suite runs as this process.

    def handle(self, *args: Any, **options: Any) -> None:
        """Run everything when called from code."""
        self.run_from_argv(["manage.py", "test"])
