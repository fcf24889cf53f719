"""The catalogue and the stock on hand as a file."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from inventory.actors import SYSTEM
from inventory.services import exporting


class Command(BaseCommand):
    help = "Write items to a CSV file, or items and stock to an XLSX file; import_items reads both back."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument(
            "--stock", action="store_true", help="write the stock on hand to a CSV file instead"
        )

    def handle(self, *args: Any, file: Path, stock: bool, **options: Any) -> None:
        try:
            file.write_bytes(content(file.suffix.lower(), stock=stock))
        except (ValueError, OSError) as refusal:
            self.stderr.write(str(refusal))
            raise SystemExit(2) from refusal


def content(suffix: str, *, stock: bool) -> bytes:
    if suffix == ".csv":
        return exporting.stock_csv(actor=SYSTEM) if stock else exporting.items_csv(actor=SYSTEM)
    if suffix == ".xlsx":
        return exporting.workbook(actor=SYSTEM)
    raise ValueError("file must end in .csv or .xlsx.")
