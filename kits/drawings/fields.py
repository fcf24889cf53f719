"""A field over the section of a box, as plain data, and the bands of its values with their patterns."""

from dataclasses import dataclass
from itertools import pairwise
from math import inf, isfinite

from inventory.calc.errors import Impossible
from kits.drawings.axes import figure, plain
from kits.drawings.isolines import value_at
from kits.drawings.labels import Point
from kits.drawings.legend import Entry

Mark = tuple[float, float, str]  # distance from the front, height above the floor [mm], words
Lamp = tuple[str, float, float]  # "tube" or "spot", distance from the front, height of its lower edge [mm]
GRADES = ("thin dots", "dots", "thick dots")


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """Values over a section: `values[k][i]` at height `up_mm[k]` and distance `along_mm[i]` from the front.

    `wanted` is the band that the animal wants, `limit` what is too much. With a `lamp` the map shows this one
    where it is reckoned to be, in place of all lamps where the kit's drawings propose them. Raises
    Impossible where rows and axes do not agree, an axis does not ascend or a value is not finite.
    """

    along_mm: tuple[float, ...]
    up_mm: tuple[float, ...]
    values: tuple[tuple[float, ...], ...]
    name: str
    unit: str = ""
    levels: tuple[float, ...] = ()
    wanted: tuple[float, float] | None = None
    limit: float | None = None
    marks: tuple[Mark, ...] = ()
    lamp: Lamp | None = None

    def __post_init__(self) -> None:
        for name in ("along_mm", "up_mm"):
            axis = getattr(self, name)
            if len(axis) < 2 or not all(a < b for a, b in pairwise(axis)):
                raise Impossible(name, "must ascend over at least two places")
        if len(self.values) != len(self.up_mm) or any(len(r) != len(self.along_mm) for r in self.values):
            raise Impossible("values", "must have a row for each height and a value for each place")
        if not all(isfinite(value) for row in self.values for value in row):
            raise Impossible("values", "must be finite")

    def at(self, place: Point) -> float:
        """The value at a place, linear between grid points."""
        return value_at(self.along_mm, self.up_mm, self.values, place)

    def covers(self, place: Point) -> bool:
        """Whether a place lies on the grid."""
        x, y = place
        return self.along_mm[0] <= x <= self.along_mm[-1] and self.up_mm[0] <= y <= self.up_mm[-1]

    @property
    def sign(self) -> str:
        """The unit as it is written behind a figure."""
        return {"": "", "C": " °C", "F": " °F"}.get(self.unit, f" {self.unit}")

    @property
    def heading(self) -> str:
        """Name and unit."""
        return f"{self.name},{self.sign}" if self.sign else self.name

    @property
    def strong(self) -> tuple[float, ...]:
        """The levels that decide: ends of the wanted band, and the limit."""
        return (*(self.wanted or ()), *(() if self.limit is None else (self.limit,)))

    def lines(self) -> list[tuple[float, bool]]:
        """Every level once, ascending, and whether it decides."""
        return [(level, level in self.strong) for level in sorted({*self.levels, *self.strong})]


@dataclass(frozen=True, slots=True)
class Band:
    """Values from low up to high, with the pattern that stands for them; no pattern leaves them blank."""

    low: float
    high: float
    pattern: str
    words: str

    def has(self, value: float) -> bool:
        """Whether a value belongs to the band."""
        return self.low <= value < self.high

    def meets(self, least: float, most: float) -> bool:
        """Whether any value between two belongs to the band."""
        return self.low <= most and least < self.high


def bands(field: Field) -> list[Band]:
    """The bands from the least value up."""
    if field.wanted is None:
        return _graded(field)
    low, high = field.wanted
    most = inf if field.limit is None else max(field.limit, high)
    found = [
        Band(-inf, low, "", "below wanted"),
        Band(low, high, "wanted", f"wanted {plain(low)} to {plain(high)}{field.sign}"),
        Band(high, most, "dots", "above wanted"),
    ]
    if field.limit is not None:
        found.append(Band(most, inf, "checks", f"too much, above {plain(most)}{field.sign}"))
    return found


def _graded(field: Field) -> list[Band]:
    """Three densities of dots above the lower levels; blank below the first."""
    levels = sorted({*field.levels, *field.strong})
    count = min(len(levels), len(GRADES))
    picked = [levels[(number * len(levels)) // count] for number in range(count)]
    ends = [*picked[1:], inf] if picked else []
    found = [Band(-inf, picked[0], "", f"below {plain(picked[0])}")] if picked else []
    for low, high, pattern in zip(picked, ends, GRADES[len(GRADES) - count :], strict=True):
        words = f"above {plain(low)}" if high == inf else f"{plain(low)} to {plain(high)}"
        found.append(Band(low, high, pattern, words))
    return found


def key(field: Field, least: float, most: float) -> list[Entry]:
    """What the patterns mean, for those that occur; a wanted band that is nowhere is said to be nowhere."""
    found = []
    for band in bands(field):
        if band.meets(least, most):
            found.append(Entry(band.words, pattern=band.pattern, empty=True))
        elif band.pattern == "wanted":
            found.append(Entry(f"{band.words}: nowhere here", pattern=band.pattern))
    if not any(least < level < most for level, _ in field.lines()):
        found.insert(0, Entry(everywhere(field, least, most)))
    return found


def everywhere(field: Field, least: float, most: float) -> str:
    """The values of a field that no line runs through."""
    low, high = figure(least), figure(most)
    return f"{low if low == high else f'{low} to {high}'}{field.sign} everywhere"
