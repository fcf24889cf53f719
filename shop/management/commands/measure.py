import json
from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any

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
        rows = list(self._rows([options["name"]] if options["name"] else list(MEASURES), options["json"]))
        if options["json"]:
            self.stdout.write(json.dumps([row.as_json() for row in rows], indent=1))

    def _rows(self, names: list[str], quiet: bool) -> Iterator[Row]:
        for name in names:
            measure: Callable[[], Iterator[Row]] = import_module(f"shop.measure.{MEASURES[name]}").measure
            for row in measure():
                if not quiet:
                    self.stdout.write(_line(row))
                    self.stdout.flush()
                yield row


def _line(row: Row) -> str:
    sign = "at least" if row.more_is_better else "at most "
    verdict = "met   " if row.met else "MISSED"
    figures = f"{row.value:10.2f} {row.unit:4}  {sign} {row.limit:9.2f}  ratio {row.ratio:5.2f}"
    return f"{verdict} {row.name:28} {figures}  {row.note}"
