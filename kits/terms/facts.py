"""What is known about animals, plants, crews, enclosures, styles, media and mixes: value, mark and source."""

from collections.abc import Mapping
from dataclasses import dataclass, field

Value = float | int | str | bool | None


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
