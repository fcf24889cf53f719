"""`facts KIND [CODE]`: what is known of an animal, plant or other subject, with mark and source."""

import json as json_module
import textwrap
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import BaseCommand

from kits.selectors import fact_sheets
from kits.selectors.fact_sheets import FactSheet, KnownFigure
from shop.management.terminal import as_json, or_refuse

WIDTH = 118


class Command(BaseCommand):
    help = f"List the subjects of a kind ({', '.join(fact_sheets.KINDS)}), or all that is known of one."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("kind", metavar="KIND")
        parser.add_argument("code", nargs="?", metavar="CODE")
        parser.add_argument("--json", action="store_true", help="print JSON and nothing else")

    def handle(self, *args: Any, kind: str, code: str | None, json: bool, **options: Any) -> None:
        if code is None:
            rows = or_refuse(lambda: fact_sheets.listed(kind))
            self.stdout.write(as_json(rows) if json else "\n".join(_row(row) for row in rows))
            return
        found = or_refuse(lambda: fact_sheets.sheet(kind, code))
        self.stdout.write(as_json(found.as_json()) if json else _text(found))


def _row(row: dict[str, Any]) -> str:
    return f"{row['code']:<36} {row['english_name'] or row['name']}"


def _text(sheet: FactSheet) -> str:
    lines = [", ".join(filter(None, (sheet.name, sheet.english_name)))]
    lines += [line for figure in sheet.figures for line in _figure(figure)]
    return "\n".join([*lines, "", *(f"{mark}" for mark in fact_sheets.MARKS.values())])


def _figure(figure: KnownFigure) -> list[str]:
    value = figure.value if isinstance(figure.value, str) else json_module.dumps(figure.value)
    unit = "" if figure.unit in ("", "text", "yes/no", "-") else f" {figure.unit}"
    instead = "" if figure.published is None else f"; published: {json_module.dumps(figure.published)}"
    told = [
        f"{figure.source}{instead}",
        *(_read_in(source.words, source.address) for source in figure.read_in),
    ]
    head = f"  {figure.field:<26} {value}{unit}  [{figure.mark}]"
    return [head, *(line for text in told for line in _wrapped(text))]


def _read_in(words: str, address: str) -> str:
    return f"read in: {words}" + (f", {address}" if address else "")


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=" " * 6, subsequent_indent=" " * 8, break_long_words=False
    )
