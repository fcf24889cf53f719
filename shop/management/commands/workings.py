"""Every pure calculation at the terminal."""

import json
from typing import Any

from django.core.management.base import BaseCommand, CommandParser

from inventory.errors import BadInput, FieldError
from shop.calc import calculations
from shop.management.terminal import or_refuse

DIGITS = 6  # more than any of these figures is good for


class Command(BaseCommand):
    help = "List every calculation, or compute one: workings NAME key=value … (values are JSON literals)."
    requires_system_checks = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("name", nargs="?", help="module.function, as the list shows it")
        parser.add_argument("values", nargs="*", metavar="key=value")
        parser.add_argument("--json", action="store_true", help="print JSON")

    def handle(self, *args: Any, name: str | None, values: list[str], json: bool, **options: Any) -> None:
        shown = or_refuse(lambda: calculations.compute(name, read(values)) if name else calculations.listed())
        self.stdout.write(as_text(shown) if not json else as_json(shown))


def read(values: list[str]) -> dict[str, Any]:
    """Arguments from `key=value` words: JSON literals; a bare word is text, so a shell needs no quotes."""
    arguments: dict[str, Any] = {}
    for word in values:
        key, equals, literal = word.partition("=")
        if not equals or not key or key in arguments:
            fault = "is given twice" if key in arguments else "is not of the form key=value"
            raise BadInput([FieldError(f"/{key}", f"{word} {fault}.")])
        arguments[key] = read_literal(key, literal)
    return arguments


def read_literal(key: str, literal: str) -> Any:
    """One JSON value; NaN and infinities stay text, which no number accepts."""
    try:
        return json.loads(literal, parse_constant=str)
    except json.JSONDecodeError:
        if literal[:1] in tuple('[{"') or not literal:
            raise BadInput([FieldError(f"/{key}", f"{key} is not a JSON value: {literal!r}.")]) from None
        return literal
    except RecursionError:
        raise BadInput([FieldError(f"/{key}", f"{key} is nested too deeply.")]) from None


def as_json(shown: Any) -> str:
    """JSON for programs."""
    return json.dumps(shown, indent=2, ensure_ascii=False)


def as_text(shown: Any) -> str:
    """Lines for a person."""
    if isinstance(shown, list):
        return "\n\n".join(_entry(calculation) for calculation in shown)
    lines = [
        f"{shown['name']} = {_value(shown['value'], shown['unit'])}",
        f"  formula: {_formula(calculations.found(shown['name']).formula)}",
        f"  source: {shown['source']}",
    ]
    return "\n".join(lines if shown["valid"] else [*lines, f"  outside the source's range: {shown['note']}"])


def _entry(calculation: dict[str, Any]) -> str:
    arguments = ", ".join(_argument(argument) for argument in calculation["arguments"])
    return (
        f"{calculation['name']}({arguments}) -> {calculation['unit'] or '-'}\n"
        f"  {calculation['summary']}\n  formula: {_formula(calculation['formula'])}\n"
        f"  valid: {calculation['valid']}\n  source: {calculation['source']}"
    )


def _formula(text: str) -> str:
    """Its lines below each other."""
    return text.replace("\n", "\n    ")


def _value(value: Any, unit: str) -> str:
    """The figure as a person reads it; in JSON it has all its digits."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return json.dumps(_rounded(value), ensure_ascii=False)
    return json.dumps(_rounded(value)) + ("" if unit in ("", "-") else f" {unit}")


def _rounded(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _rounded(part) for key, part in value.items()}
    if isinstance(value, list):
        return [_rounded(part) for part in value]
    return float(f"{value:.{DIGITS}g}") if isinstance(value, float) else value


def _argument(argument: dict[str, Any]) -> str:
    unit = f" [{argument['unit']}]" if argument["unit"] else ""
    return argument["name"] + unit + ("" if argument["required"] else f" = {json.dumps(argument['default'])}")
