"""`trace LOT`: where a lot came from and who got it."""

from argparse import ArgumentParser
from collections.abc import Mapping
from typing import Any

from django.core.management.base import BaseCommand

from inventory.selectors import lots
from shop.management.terminal import as_json, or_refuse


class Command(BaseCommand):
    help = "Trace a lot back to where it came from and forward to every demand that got some of it."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("lot", metavar="LOT")
        parser.add_argument("--json", action="store_true", help="print JSON and nothing else")

    def handle(self, *args: Any, lot: str, json: bool, **options: Any) -> None:
        trace = or_refuse(lambda: lots.trace(lot)).as_json()
        self.stdout.write(as_json(trace) if json else _text(trace))


def _text(trace: Mapping[str, Any]) -> str:
    lines = [f"Lot {trace['lot']} of {trace['item']}, {trace['state']}"]
    for heading, steps in (("Came from", trace["back"]), ("Went to", trace["forward"])):
        lines.append(heading)
        lines += [_step(step) for step in steps] or ["    nothing"]
    return "\n".join(lines)


def _step(step: Mapping[str, Any]) -> str:
    whom = step["demand_ref"] or step["kind"]
    return f"    {step['at'][:16].replace('T', ' ')}  {abs(step['quantity']):>6}  {whom}  by {step['by']}"
