"""`restore FILE`: a backup comes back into an empty database, proved."""

from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from shop.runtime import prepare
from shop.runtime.commands import say
from shop.runtime.errors import CannotRun
from shop.services import backups


class Command(BaseCommand):
    help = "Bring a backup into an empty database; it is kept only when counts, sums and checksums agree."
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)

    def handle(self, *args: Any, **options: Any) -> None:
        try:
            manifest = backups.restore(options["file"].absolute())
        except backups.BackupRefused as why:
            raise CannotRun(str(why)) from why
        prepare.bring_up_to_date(say)
        prepare.record_demo_state("never")
        rows = sum(table["rows"] for table in manifest["tables"].values())
        self.stdout.write(f"Restored {rows} rows of {manifest['made_at']}; all counts and checksums agree.")
