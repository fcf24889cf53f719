"""The catalogue and the stock on hand as a file."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from inventory.services import exporting
from kits.services import profile_columns
from shop.management import terminal
from shop.management.terminal import OPERATOR


class Command(BaseCommand):
    help = (
        "Write items and what they can do in a kit to a CSV file, or items and stock to an XLSX file; "
        "import_items reads both back."
    )

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument(
            "--stock", action="store_true", help="write the stock on hand to a CSV file instead"
        )

    def handle(self, *args: Any, file: Path, stock: bool, **options: Any) -> None:
        try:
            file.write_bytes(_content(file.suffix.lower(), stock=stock))
        except ValueError as refusal:
            terminal.refuse(str(refusal))
        except OSError as fault:
            terminal.refuse(f"The file {file} cannot be written: {fault.strerror}.")


def _content(suffix: str, *, stock: bool) -> bytes:
    if suffix == ".csv" and stock:
        return exporting.stock_csv(actor=OPERATOR)
    if suffix == ".csv":
        return exporting.items_csv(actor=OPERATOR, extra=profile_columns)
    if suffix == ".xlsx":
        return exporting.workbook(actor=OPERATOR, extra=profile_columns)
    raise ValueError("file must end in .csv or .xlsx.")
