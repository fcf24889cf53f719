"""`plan SPEC.json`: the main job at the terminal."""

import shutil
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from kits.selectors import plans
from shop.calc.plan_text import as_text
from shop.management import terminal
from shop.models import House
from shop.selectors import house

NOT_COMPLETE = 3


class Command(BaseCommand):
    help = (
        "Work out a complete kit from a build spec and today's stock. "
        "Exit status 0 when it is complete, 3 when something is short or unmet, 2 for a bad spec."
    )

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("spec", metavar="SPEC.json", help="the build spec; - reads standard input")
        parser.add_argument("--json", action="store_true", help="print the plan as JSON and nothing else")

    def handle(self, *args: Any, spec: str, json: bool, **options: Any) -> None:
        data = terminal.read_json(spec)
        plan = terminal.or_refuse(lambda: plans.plan_for(data, terms=house.terms(House.current())))
        document = plan.as_json()
        width = shutil.get_terminal_size((120, 40)).columns
        self.stdout.write(terminal.as_json(document) if json else as_text(document, width=width), ending="")
        if json:
            self.stdout.write("")
        if not plan.complete:
            raise SystemExit(NOT_COMPLETE)
