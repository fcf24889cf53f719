"""The catalogue and opening stock from a file."""

import sys
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser

from inventory.errors import BadInput, Refusal
from inventory.services import importing
from kits.services import profile_columns
from shop.management import terminal
from shop.management.terminal import OPERATOR

MOST_TOLD = 40


class Command(BaseCommand):
    help = (
        "Take items (a table with the column code) and opening stock (columns item and quantity) from a CSV "
        "or XLSX file: all of it or nothing, every fault told with its row. Columns role.figure, such as "
        "drainage.litres, say what an item can do in a kit; lists (substrate.styles[]) are parted by ;. "
        "Places, suppliers and mixes that rows name are made by their code, and so are tax classes whose "
        "rate stands in the column tax_rate_pct. Opening stock only goes into items that have not moved yet. "
        "export_items writes such a file."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--preview", action="store_true", help="tell what would change and write nothing")
        parser.add_argument("--json", action="store_true", help="print JSON")

    def handle(self, *args: Any, file: Path, preview: bool, json: bool, **options: Any) -> None:
        try:
            found = _outcome(file, only_look=preview).as_json()
        except BadInput as refusal:
            found = {
                "errors": [{"pointer": error.pointer, "detail": error.detail} for error in refusal.errors]
            }
        except Refusal as refusal:
            terminal.refuse(refusal.sentence)
        except OSError as fault:
            terminal.refuse(f"The file {file} cannot be read: {fault.strerror}.")
        if found["errors"] and json:
            self.stdout.write(terminal.as_json(found))
            raise SystemExit(terminal.BAD_INPUT)
        if found["errors"]:
            _refuse([error["detail"] for error in found["errors"]])
        self.stdout.write(terminal.as_json(found) if json else importing.describe(found, only_looked=preview))


def _outcome(file: Path, *, only_look: bool) -> importing.Preview:
    content = file.read_bytes()
    if only_look:
        return importing.preview(content, name=file.name, extra=profile_columns)
    return importing.run(content, name=file.name, actor=OPERATOR, extra=profile_columns)


def _refuse(sentences: list[str]) -> NoReturn:
    """Every fault on a line of its own, as far as a screen is long."""
    more = len(sentences) - MOST_TOLD
    told = [*sentences[:MOST_TOLD], f"{more} more faults; --json tells them all."] if more > 0 else sentences
    sys.stderr.write("".join(f"{sentence}\n" for sentence in told))
    raise SystemExit(terminal.BAD_INPUT)
