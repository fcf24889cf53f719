"""Reads the sections of a calculation's docstring: what it takes, gives, is valid for, and who says so."""

import functools
import inspect
import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

SECTIONS = ("Formula", "Args", "Returns", "Raises", "Valid", "Source", "Example")
_HEADING = re.compile(rf"^({'|'.join(SECTIONS)}):[ \t]*", re.MULTILINE)
_ARGUMENT = re.compile(r"^(\w+):[ \t]*", re.MULTILINE)
_UNIT = re.compile(r"\[([^\]]*)\]")
_NUMBER = r"[-+]?\d+(?:\.\d+)?(?:[eE][-+]?\d+)?"
_MEASURED = r"[a-z]+\(\w+(?:, [\d.]+)*\)"
_ABOUT = rf"(?:{_MEASURED}|[A-Za-z_][\w.]*(?: ?[-+*/] ?[\w.]+)*)"
_RANGE = re.compile(rf"^(?P<about>{_ABOUT}) (?P<low>{_NUMBER})?\.\.(?P<high>{_NUMBER})?")


@dataclass(frozen=True, slots=True)
class Range:
    """The values of an argument, or of arithmetic on arguments, that the source covers; ends included."""

    about: str
    low: float | None
    high: float | None

    def __str__(self) -> str:
        low = "" if self.low is None else f"{self.low:g}"
        high = "" if self.high is None else f"{self.high:g}"
        return f"{low}..{high}"

    def holds(self, value: float) -> bool:
        """Whether the value lies inside, ends included."""
        return (self.low is None or value >= self.low) and (self.high is None or value <= self.high)


@dataclass(frozen=True, slots=True)
class Described:
    """A docstring taken apart."""

    summary: str
    sections: dict[str, str]

    @property
    def arguments(self) -> dict[str, str]:
        """Argument name -> what the docstring says of it."""
        pieces = _ARGUMENT.split(inspect.cleandoc(self.sections.get("Args", "")))
        return {name: _one_line(text) for name, text in zip(pieces[1::2], pieces[2::2], strict=True)}

    @property
    def ranges(self) -> tuple[Range, ...]:
        """The clauses of `Valid:` that a machine can check."""
        return _ranges(self.sections.get("Valid", ""))

    def text(self, section: str) -> str:
        """A section on one line; empty when it is missing."""
        return _one_line(self.sections.get(section, ""))


def describe(function: Callable[..., Any]) -> Described:
    """The docstring of a function, by section."""
    pieces = _HEADING.split(inspect.getdoc(function) or "")
    sections = dict(zip(pieces[1::2], pieces[2::2], strict=True))
    return Described(
        summary=_one_line(pieces[0]), sections={name: text.strip("\n") for name, text in sections.items()}
    )


def unit_in(text: str) -> str:
    """The unit between the first square brackets: 'depth [m], > 0' -> 'm'."""
    found = _UNIT.search(text)
    return found.group(1) if found else ""


@functools.cache
def _ranges(valid: str) -> tuple[Range, ...]:
    """A plan asks for the ranges of one calculation a dozen times."""
    clauses = re.split(r";|\n", valid)
    return tuple(_range(found) for clause in clauses if (found := _RANGE.match(clause.strip())))


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _range(found: re.Match[str]) -> Range:
    low, high = found["low"], found["high"]
    return Range(
        about=found["about"],
        low=None if low is None else float(low),
        high=None if high is None else float(high),
    )
