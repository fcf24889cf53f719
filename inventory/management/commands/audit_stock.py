"""Whether every stock figure agrees with the movements and holds that it comes from."""

import json
import sys
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from inventory.selectors import ledger


class Command(BaseCommand):
    help = "Recomputes stock from movements and holds; exit status 0 when all agree, 1 with the differences."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--json", action="store_true", help="counts, sums and differences as JSON")

    def handle(self, *args: Any, **options: Any) -> None:
        audit = ledger.audit()
        if options["json"]:
            self.stdout.write(json.dumps(audit.as_json(), indent=2))
        else:
            self._tell(audit)
        if audit.differences:
            sys.exit(1)

    def _tell(self, audit: ledger.Audit) -> None:
        for name, value in audit.counts.items():
            self.stdout.write(f"{name.replace('_', ' ')}: {value}")
        for found in audit.differences:
            self.stdout.write(
                f"{found.figure} of {found.about} says {found.stored}, the ledger gives {found.recomputed}"
            )
        self.stdout.write("All figures agree." if not audit.differences else "Some figures do not agree.")
