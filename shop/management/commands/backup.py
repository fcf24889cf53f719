"""`backup FILE`: one file that holds all."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from shop.runtime.errors import CannotRun
from shop.services import backups


class Command(BaseCommand):
    help = "Write one file that holds the whole shop, with the counts and checksums that prove it."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            manifest = backups.make(options["file"].absolute())
        except backups.BackupRefused as why:
            raise CannotRun(str(why)) from why
        rows = sum(table["rows"] for table in manifest["tables"].values())
        self.stdout.write(f"{options['file']}: {len(manifest['tables'])} tables, {rows} rows.")
