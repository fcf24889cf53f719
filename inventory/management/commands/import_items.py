"""The catalogue and opening stock from a file."""

import json
from pathlib import Path
from typing import Any, NoReturn

from django.core.management.base import BaseCommand, CommandParser

from inventory.actors import SYSTEM
from inventory.errors import BadInput, Refusal
from inventory.services import importing


class Command(BaseCommand):
    help = "Take items (column code) and opening stock (columns item, quantity) from a CSV or XLSX file."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path)
        parser.add_argument("--preview", action="store_true", help="tell what would change and write nothing")
        parser.add_argument("--json", action="store_true", help="print JSON")

    def handle(self, *args: Any, file: Path, preview: bool, json: bool, **options: Any) -> None:
        try:
            found = self.outcome(file, preview=preview).as_json()
        except Refusal as refusal:
            self.refuse(refusal)
        except OSError as fault:
            self.refuse(f"The file {file} cannot be read: {fault.strerror}.")
        if found["errors"]:
            self.refuse(*(error["detail"] for error in found["errors"]))
        self.stdout.write(as_json(found) if json else importing.describe(found))

    def outcome(self, file: Path, *, preview: bool) -> importing.Preview:
        content = file.read_bytes()
        if preview:
            return importing.preview(content, name=file.name)
        return importing.run(content, name=file.name, actor=SYSTEM)

    def refuse(self, *reasons: Exception | str) -> NoReturn:
        for reason in reasons:
            faults = (
                [error.detail for error in reason.errors] if isinstance(reason, BadInput) else [str(reason)]
            )
            self.stderr.write("\n".join(faults))
        raise SystemExit(2)


def as_json(found: dict[str, Any]) -> str:
    return json.dumps(found, indent=2, ensure_ascii=False)
