"""Every pure calculation of the house, by name: where the rooms of calculations are listed."""

import inspect
import itertools
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from inventory.calc import workings

ROOMS = ("inventory.calc", "kits.physics")
_NUMBER = re.compile(r"[+-]?([0-9]{1,300}\.?[0-9]{0,300}|\.[0-9]{1,300})([eE][+-]?[0-9]{1,3})?")


@dataclass(frozen=True, slots=True)
class Subject:
    """The calculations of one module, with what its first line says that they are about."""

    name: str
    about: str
    calculations: tuple[workings.Calculation, ...]


def listed() -> list[dict[str, Any]]:
    """All calculations with their arguments, units, valid ranges and sources."""
    return [calculation.as_json() for calculation in workings.catalogue(ROOMS)]


def compute(name: str, arguments: Mapping[str, Any]) -> dict[str, Any]:
    """One calculation on plain JSON values; raises Unknown or BadInput naming the argument."""
    return workings.compute(name, arguments, rooms=ROOMS)


def found(name: str) -> workings.Calculation:
    """A calculation by its name; raises Unknown."""
    return workings.find(name, rooms=ROOMS)


def grouped(asked: str = "") -> list[Subject]:
    """The calculations that answer to every word of a search, by what they are about.

    >>> [one.name for subject in grouped("dew point") for one in subject.calculations]
    ['air.dew_point_c']
    """
    wanted = asked.casefold().split()
    found = [one for one in workings.catalogue(ROOMS) if all(word in _told(one) for word in wanted)]
    by_module = itertools.groupby(found, key=lambda one: one.name.partition(".")[0])
    groups = ((module.replace("_", " "), tuple(members)) for module, members in by_module)
    return [Subject(name, _about(members[0]), members) for name, members in groups]


def _about(one: workings.Calculation) -> str:
    return (inspect.getdoc(inspect.getmodule(one.function)) or "").partition("\n")[0]


def _told(one: workings.Calculation) -> str:
    words = one.name.replace("_", " ")
    return f"{one.name} {words} {one.described.summary} {_about(one)}".casefold()


def read_texts(
    calculation: workings.Calculation, texts: Mapping[str, str]
) -> tuple[dict[str, Any], dict[str, str]]:
    """The arguments as typed, with a sentence for each that cannot be read; empty ones are left out."""
    arguments: dict[str, Any] = {}
    faults: dict[str, str] = {}
    for parameter in calculation.parameters:
        text = texts.get(parameter.name, "").strip()
        if not text:
            continue
        try:
            arguments[parameter.name] = text if parameter.kind is str else _read(text)
        except (json.JSONDecodeError, RecursionError):
            faults[parameter.name] = f"{parameter.name} is not a list or object as JSON writes it."
    return arguments, faults


def _read(text: str) -> Any:
    """A number as people write it, a list or object as JSON writes it, else a bare word."""
    if _NUMBER.fullmatch(text):
        return int(text) if text.lstrip("+-").isdecimal() else float(text)
    if text[0] in '[{"' or text in ("true", "false", "null"):
        return json.loads(text, parse_constant=str)
    return text


def as_text(value: Any) -> str:
    """An argument as it is typed."""
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)
