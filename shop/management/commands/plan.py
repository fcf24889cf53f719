"""`plan SPEC.json`: the main job at the terminal."""

import shutil
from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import BaseCommand

from kits.documents.build_sheet import build_sheet
from kits.selectors import plans
from kits.terms.plan import Plan
from shop.calc.plan_text import as_text
from shop.management import terminal
from shop.models import House
from shop.selectors import documents, house

NOT_COMPLETE = 3


class Command(BaseCommand):
    help = (
        "Work out a complete kit from a build spec and today's stock. "
        "Exit status 0 when it is complete, 3 when something is short or unmet, 2 for a bad spec."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("spec", metavar="SPEC.json", help="the build spec; - reads standard input")
        parser.add_argument("--json", action="store_true", help="print the plan as JSON and nothing else")
        parser.add_argument(
            "--why", action="store_true", help="also print why each line is there and where figures come from"
        )
        parser.add_argument(
            "--build-sheet", metavar="OUT.pdf", help="also write the build sheet to this file"
        )
        parser.add_argument("--paper", default="letter", help="paper of the build sheet: letter or a4")

    def handle(self, *args: Any, spec: str, json: bool, **options: Any) -> None:
        data = terminal.read_json(spec)
        plan: Plan = terminal.or_refuse(lambda: plans.plan_for(data, terms=house.terms(House.current())))
        if options["build_sheet"]:
            _write_build_sheet(plan, Path(options["build_sheet"]), paper=options["paper"])
        document = plan.as_json()
        width = shutil.get_terminal_size((120, 40)).columns
        text = as_text(document, width=width, why=options["why"])
        self.stdout.write(terminal.as_json(document) if json else text, ending="")
        if json:
            self.stdout.write("")
        if not plan.complete:
            raise SystemExit(NOT_COMPLETE)


def _write_build_sheet(plan: Plan, path: Path, *, paper: str) -> None:
    """The whole sheet is in the file, or the file is as it was."""
    sheet, scene = documents.build_sheet_of_plan(plan)
    content = terminal.or_refuse(lambda: build_sheet(sheet, scene, paper=paper))
    draft = path.with_name(f".{path.name}.draft")
    try:
        draft.write_bytes(content)
        draft.replace(path)
    except OSError as error:
        draft.unlink(missing_ok=True)
        terminal.refuse(f"The build sheet cannot be written to {path}: {error.strerror}.")
