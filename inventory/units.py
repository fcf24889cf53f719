"""Base units and exact conversions: litres, the two US quarts, inches, pounds; printed in both systems.

Every factor is a Fraction. International inch = 25.4 mm and pound = 0.45359237 kg exactly (international
yard and pound agreement, 1959). US liquid gallon = 231 in3 and US bushel = 2150.42 in3 (US customary
definitions; NIST Handbook 44, appendix C, from memory). UN/ECE Recommendation 20 tells the two quarts
apart as QTD and QTL: a "quart" of soil or bedding is dry, a "quart" of a tank or bottle is liquid. Litres
are stored; quarts are only printed.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

Number = int | Fraction | Decimal | str
Dimension = Literal["count", "volume", "mass", "length"]
BASE_UNITS: Mapping[str, Dimension] = MappingProxyType(
    {"piece": "count", "mL": "volume", "g": "mass", "mm": "length"}
)

_CUBIC_INCH_ML = Fraction("16.387064")  # 2.54 cm cubed
_INCH_MM = Fraction("25.4")
_POUND_G = Fraction("453.59237")


class NotConvertible(ValueError):
    """A unit that is not known here, or two that measure different things."""


@dataclass(frozen=True, slots=True)
class Unit:
    """A unit by its name here: what one of it is in the base unit of its dimension."""

    name: str
    dimension: Dimension
    in_base: Fraction


def _units(*rows: tuple[str, Dimension, Fraction]) -> Mapping[str, Unit]:
    return MappingProxyType({name: Unit(name, dimension, factor) for name, dimension, factor in rows})


UNITS: Mapping[str, Unit] = _units(
    ("piece", "count", Fraction(1)),
    ("mL", "volume", Fraction(1)),
    ("L", "volume", Fraction(1000)),
    ("m3", "volume", Fraction(10**6)),
    ("cubic_inch", "volume", _CUBIC_INCH_ML),
    ("cubic_foot", "volume", 1728 * _CUBIC_INCH_ML),
    ("cubic_yard", "volume", 46656 * _CUBIC_INCH_ML),
    ("liquid_quart", "volume", Fraction("57.75") * _CUBIC_INCH_ML),
    ("gallon", "volume", 231 * _CUBIC_INCH_ML),
    ("fluid_ounce", "volume", Fraction(231, 128) * _CUBIC_INCH_ML),
    ("dry_quart", "volume", Fraction("67.200625") * _CUBIC_INCH_ML),
    ("dry_gallon", "volume", Fraction("268.8025") * _CUBIC_INCH_ML),
    ("bushel", "volume", Fraction("2150.42") * _CUBIC_INCH_ML),
    ("g", "mass", Fraction(1)),
    ("kg", "mass", Fraction(1000)),
    ("lb", "mass", _POUND_G),
    ("oz", "mass", _POUND_G / 16),
    ("mm", "length", Fraction(1)),
    ("cm", "length", Fraction(10)),
    ("m", "length", Fraction(1000)),
    ("in", "length", _INCH_MM),
    ("ft", "length", 12 * _INCH_MM),
)


def convert(amount: Number, unit: str, *, to: str) -> Fraction:
    """An amount in another unit of the same dimension, exactly.

    >>> convert(8, "dry_quart", to="L") == Fraction("8.80976754172")
    True
    """
    source, target = _unit(unit), _unit(to)
    if source.dimension != target.dimension:
        raise NotConvertible(f"{unit} measures {source.dimension} and {to} measures {target.dimension}.")
    return Fraction(amount) * source.in_base / target.in_base


def in_base_unit(amount: Number, unit: str, *, base_unit: str) -> int:
    """An amount as a whole number of an item's base unit, half up: stock is counted in whole base units.

    >>> in_base_unit(8, "dry_quart", base_unit="mL")
    8810
    """
    if base_unit not in BASE_UNITS:
        raise NotConvertible(f"{base_unit!r} is not one of {', '.join(BASE_UNITS)}.")
    exact = convert(amount, unit, to=base_unit)
    return int((abs(exact) + Fraction(1, 2)) // 1) * (-1 if exact < 0 else 1)


def quarts_meant(quarts: Number, *, litres: Number) -> str:
    """Which quart a label means, told by its metric twin: 'dry_quart' or 'liquid_quart'.

    The twin is printed to two or three digits, so half a step of the one-decimal figure (and at least 1 %
    of it) is allowed; the two quarts lie 16 % apart. Raises NotConvertible when neither fits.

    >>> quarts_meant(8, litres="8.8"), quarts_meant(8, litres="7.6")
    ('dry_quart', 'liquid_quart')
    """
    printed = Fraction(litres)
    slack = max(Fraction(1, 20), printed / 100)
    for unit in ("dry_quart", "liquid_quart"):
        if abs(convert(quarts, unit, to="L") - printed) <= slack:
            return unit
    raise NotConvertible(f"{quarts} quarts are neither dry nor liquid quarts at {litres} L.")


def rounded(exact: Fraction, *, places: int, down: bool = False) -> Decimal:
    """A fraction as a decimal with so many places, half up, or down where it must not overstate.

    >>> rounded(Fraction(2, 3), places=2)
    Decimal('0.67')
    """
    scaled = Decimal(exact.numerator * 10 ** (places + 3) // exact.denominator).scaleb(-(places + 3))
    return scaled.quantize(Decimal(1).scaleb(-places), rounding=ROUND_FLOOR if down else ROUND_HALF_UP)


def volume_in_both(millilitres: int, *, quart: Literal["dry", "liquid"] = "dry") -> str:
    """A volume as printed in both systems; the US figure is rounded down so that it never says more.

    >>> volume_in_both(8810)
    '8.81 L (8.00 dry qt)'
    """
    litres = Fraction(millilitres, 1000)
    quarts = convert(litres, "L", to=f"{quart}_quart")
    return f"{_trimmed(rounded(litres, places=3))} L ({rounded(quarts, places=2, down=True)} {quart} qt)"


def length_in_both(millimetres: int) -> str:
    """A length as printed in both systems.

    >>> length_in_both(450)
    '450 mm (17.7 in)'
    """
    return f"{millimetres} mm ({rounded(convert(millimetres, 'mm', to='in'), places=1)} in)"


def mass_in_both(grams: int) -> str:
    """A mass as printed in both systems.

    >>> mass_in_both(2500)
    '2.5 kg (5.51 lb)'
    """
    kilograms = rounded(Fraction(grams, 1000), places=3)
    return f"{_trimmed(kilograms)} kg ({rounded(convert(grams, 'g', to='lb'), places=2)} lb)"


def _unit(name: str) -> Unit:
    if name not in UNITS:
        raise NotConvertible(f"{name!r} is not a unit known here.")
    return UNITS[name]


def _trimmed(number: Decimal) -> str:
    return f"{number.normalize():f}"
