"""What is known about animals, plants, crews, enclosures, styles, media and mixes: value, mark and source."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field

Value = float | int | str | bool | None
_KEYS = re.compile(r"\s*\[[A-Z][A-Z0-9-]*\]")  # how our tables name their sources, such as [DE97]


@dataclass(frozen=True, slots=True)
class Figure:
    """One published figure: A veterinary, law or reviewed; B general page; M memory or practice; own."""

    value: Value
    mark: str
    source: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Subject:
    """One thing that facts are known about; an absent figure is unknown, never zero."""

    kind: str  # animal, plant, cleanup, enclosure, style, medium or mix
    code: str
    name: str
    english_name: str = ""
    figures: Mapping[str, Figure] = field(default_factory=dict)

    def value(self, key: str) -> Value:
        """The figure's value, or None where nothing is known."""
        figure = self.figures.get(key)
        return None if figure is None else figure.value

    def number(self, key: str) -> float | None:
        """The figure as a number, or None where nothing is known."""
        value = self.value(key)
        return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None

    def text(self, key: str) -> str:
        """The figure as text, empty where nothing is known."""
        value = self.value(key)
        return "" if value is None else str(value)

    def words(self, key: str) -> tuple[str, ...]:
        """The semicolon-separated words of a figure."""
        return tuple(word.strip() for word in self.text(key).split(";") if word.strip())

    def source(self, key: str) -> str:
        """Mark and source of a figure as one phrase for a working."""
        figure = self.figures.get(key)
        return "" if figure is None else f"{figure.source} [{figure.mark}]"

    def credit(self, key: str) -> str:
        """Source of a figure in words for a customer, without the keys of our tables."""
        figure = self.figures.get(key)
        return "" if figure is None else in_words(figure.source, figure.mark)


_MARKED = {"A": "veterinary, legal or reviewed source", "B": "general guide", "M": "from memory or practice"}


def in_words(source: str, mark: str) -> str:
    """A source without the keys of our tables; where little else names it, what its mark means.

    >>> in_words("[DE97] German expert report of 1997 [RST]", "B")
    'German expert report of 1997'
    >>> in_words("[HB-CC]", "A")
    'veterinary, legal or reviewed source'
    """
    words = _KEYS.sub("", source).strip(" ,;")
    says_so = mark != "M" or "no source" in words
    return words if words and says_so else ", ".join(filter(None, (words, _MARKED.get(mark, ""))))


@dataclass(frozen=True, slots=True)
class Facts:
    """All subjects by code; `version` changes whenever any figure does."""

    animals: Mapping[str, Subject]
    plants: Mapping[str, Subject]
    cleanup: Mapping[str, Subject]
    enclosures: Mapping[str, Subject]
    styles: Mapping[str, Subject]
    media: Mapping[str, Subject] = field(default_factory=dict)  # what soils and their ingredients hold
    mixes: Mapping[str, Subject] = field(default_factory=dict)  # recipes: parts by volume of each medium
    version: int = 0
