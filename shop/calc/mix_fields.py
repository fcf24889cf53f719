"""What is asked of a mix: the texts of the fields as numbers, and each fault as a sentence at its field."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from types import MappingProxyType

from inventory.errors import FieldError
from kits.physics.mix_design import MOST_INGREDIENTS

STYLE, WITH = "style", "with"
LITRES = 10.0  # a bucket
NUMBER = re.compile(r"([0-9]{1,6}(?:[.,][0-9]{1,6})?|[.,][0-9]{1,6})")
LENGTHS_MM: Mapping[str, float] = MappingProxyType(
    {"": 1.0, "mm": 1.0, "cm": 10.0, "in": 25.4, "inch": 25.4, "inches": 25.4, '"': 25.4, "\u2033": 25.4}
)
PERCENT: Mapping[str, float] = MappingProxyType({"": 0.01, "%": 0.01})
LITRE: Mapping[str, float] = MappingProxyType({"": 1.0, "l": 1.0})
DENSITY: Mapping[str, float] = MappingProxyType({"": 1.0, "kg/l": 1.0})
PLAIN: Mapping[str, float] = MappingProxyType({"": 1.0})


@dataclass(frozen=True, slots=True)
class NumberField:
    """One field: its name on the page, the units that may be typed, its limits and how they are said."""

    name: str
    units: Mapping[str, float]
    least: float
    most: float
    limits: str


def _pair(
    name: str, units: Mapping[str, float], least: float, most: float, limits: str
) -> tuple[NumberField, NumberField]:
    ends = ("at least", "at most")
    low, high = (NumberField(f"{name}, {end}", units, least, most, limits) for end in ends)
    return low, high


BOUNDS: Mapping[str, tuple[NumberField, NumberField]] = MappingProxyType(
    {
        "water": _pair("Water", PERCENT, 0.0, 1.0, "a share from 0 to 100 %"),
        "air": _pair("Air", PERCENT, 0.0, 1.0, "a share from 0 to 100 %"),
        "density": _pair("Dry density", DENSITY, 0.01, 3.0, "between 0.01 and 3 kg/L"),
        "carbon_nitrogen": _pair("C:N", PLAIN, 1.0, 1000.0, "between 1 and 1000"),
    }
)
_DEPTH = (LENGTHS_MM, 5.0, 2000.0, "between 5 and 2000 mm, or in inches with in after it")
NUMBERS: Mapping[str, NumberField] = MappingProxyType(
    {
        "front": NumberField("Depth at the front", *_DEPTH),
        "back": NumberField("Depth at the back", *_DEPTH),
        "litres": NumberField("Litres wanted", LITRE, 0.1, 100_000.0, "between 0.1 and 100000 L"),
        **{f"{about}_lo": pair[0] for about, pair in BOUNDS.items()},
        **{f"{about}_hi": pair[1] for about, pair in BOUNDS.items()},
    }
)


@dataclass(frozen=True, slots=True)
class Asked:
    """What somebody wants of a mix: numbers in mm, L, shares and kg/L; what is silent is the style's."""

    style: str = ""
    numbers: Mapping[str, float] = field(default_factory=dict)
    items: tuple[str, ...] = ()


def read(
    texts: Mapping[str, str], items: Sequence[str], *, styles: Sequence[str], known: Sequence[str]
) -> tuple[Asked, list[FieldError]]:
    """What the fields say, and a fault for each that says nothing sensible, whose field counts as silent."""
    faults: list[FieldError] = []
    numbers = {}
    for name in NUMBERS:
        value = _number(name, texts.get(name, ""), faults)
        if value is not None:
            numbers[name] = value
    for about in BOUNDS:
        _ordered(about, numbers, faults)
    style = _style(texts.get(STYLE, ""), styles, faults)
    return Asked(style, numbers, _items(items, known, faults)), faults


def address(texts: Mapping[str, str], items: Sequence[str]) -> list[tuple[str, str]]:
    """The fields that say something, as they stand in an address that can be passed on."""
    said = [(name, texts[name].strip()) for name in (STYLE, *NUMBERS) if texts.get(name, "").strip()]
    return said + [(WITH, item) for item in items]


def value_of(text: str, units: Mapping[str, float]) -> float | None:
    """A number with or without its unit, in the field's own unit; None for anything else.

    >>> value_of("100", LENGTHS_MM), value_of("4 in", LENGTHS_MM), value_of("4,5 cm", LENGTHS_MM)
    (100.0, 101.6, 45.0)
    >>> value_of("four", LENGTHS_MM), value_of("45 %", PERCENT)
    (None, 0.45)
    """
    found = NUMBER.match(text.strip())
    if found is None:
        return None
    factor = units.get(text.strip()[found.end() :].strip().lower())
    return None if factor is None else round(float(found[1].replace(",", ".")) * factor, 9)


def _number(name: str, text: str, faults: list[FieldError]) -> float | None:
    if not text.strip():
        return None
    told = NUMBERS[name]
    value = value_of(text, told.units)
    if value is not None and told.least <= value <= told.most:
        return value
    faults.append(FieldError(f"/{name}", f"{told.name} must be {told.limits}."))
    return None


def _ordered(about: str, numbers: dict[str, float], faults: list[FieldError]) -> None:
    low, high = numbers.get(f"{about}_lo"), numbers.get(f"{about}_hi")
    if low is not None and high is not None and low > high:
        del numbers[f"{about}_hi"]
        least, most = BOUNDS[about]
        faults.append(FieldError(f"/{about}_hi", f"{most.name} must not be below {least.name.lower()}."))


def _style(style: str, styles: Sequence[str], faults: list[FieldError]) -> str:
    if style and style not in styles:
        faults.append(FieldError(f"/{STYLE}", f"Style must be one of {', '.join(styles)}."))
        return ""
    return style


def _items(items: Sequence[str], known: Sequence[str], faults: list[FieldError]) -> tuple[str, ...]:
    chosen = tuple(dict.fromkeys(items))
    strange = [item for item in chosen if item not in known]
    if strange:
        faults.append(FieldError(f"/{WITH}", f"Ingredients may not name {strange[0][:80]!r}, which is none."))
    if len(chosen) > MOST_INGREDIENTS:
        faults.append(FieldError(f"/{WITH}", f"Ingredients may be {MOST_INGREDIENTS} at most."))
    return () if strange or len(chosen) > MOST_INGREDIENTS else chosen
