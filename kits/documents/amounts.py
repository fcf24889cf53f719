"""Figures as customers read them: both systems side by side, the one that the spec asks for first."""

from fractions import Fraction

from inventory.units import convert
from kits.drawings.measures import inch_text
from kits.terms.rounding import rounded

US = "us"


def length(mm: float, units: str) -> str:
    """A length.

    >>> length(443, "us"), length(443, "metric")
    ('17½ in (443 mm)', '443 mm (17½ in)')
    """
    return _both(f"{rounded(mm)} mm", inch_text(mm), units)


def size(width_mm: float, depth_mm: float, height_mm: float, units: str) -> str:
    """Width, depth and height of a box.

    >>> size(443, 443, 592, "us")
    '17½ x 17½ x 23¼ in (443 x 443 x 592 mm)'
    """
    sides = (width_mm, depth_mm, height_mm)
    metric = " x ".join(rounded(side) for side in sides)
    inches = " x ".join(inch_text(side).removesuffix(" in") for side in sides)
    return _both(f"{metric} mm", f"{inches} in", units)


def dry_volume(litres: float, units: str) -> str:
    """A volume of soil, stones or leaves.

    >>> dry_volume(17.4937, "us")
    '15.9 dry qt (17.5 L)'
    """
    return _both(f"{rounded(litres, 1)} L", f"{rounded(_in(litres, 'L', 'dry_quart'), 1)} dry qt", units)


def water(litres: float, units: str) -> str:
    """A volume of water.

    >>> water(0.16, "metric")
    '0.16 L (5.4 fl oz)'
    """
    metric = f"{rounded(litres, 2)} L" if litres < 1 else f"{rounded(litres, 1)} L"
    ounces, quarts = _in(litres, "L", "fluid_ounce"), _in(litres, "L", "liquid_quart")
    return _both(
        metric, f"{rounded(ounces, 1)} fl oz" if litres < 1 else f"{rounded(quarts, 1)} liquid qt", units
    )


def mass(kg: float, units: str) -> str:
    """A mass.

    >>> mass(41.57, "us")
    '92 lb (42 kg)'
    """
    places = 0 if kg >= 10 else 1
    return _both(f"{rounded(kg, places)} kg", f"{rounded(_in(kg, 'kg', 'lb'), places)} lb", units)


def temperature(low_c: float | None, high_c: float | None, units: str) -> str:
    """A band of temperatures, open where a bound is not known.

    >>> temperature(22, 26, "us"), temperature(None, 24, "metric")
    ('72 to 79 °F (22 to 26 °C)', 'at most 24 °C (at most 75 °F)')
    """
    celsius = band(low_c, high_c, "\u00b0C")
    return _both(celsius, band(_fahrenheit(low_c), _fahrenheit(high_c), "\u00b0F"), units)


def band(low: float | None, high: float | None, unit: str) -> str:
    """A band of figures, open where a bound is not known.

    >>> band(50, 80, "%"), band(3, None, "h")
    ('50 to 80 %', 'at least 3 h')
    """
    if low is None or high is None:
        known = high if low is None else low
        word = "at most" if low is None else "at least"
        return "" if known is None else f"{word} {rounded(known)} {unit}"
    least, most = rounded(low), rounded(high)
    return f"{least} {unit}" if least == most else f"{least} to {most} {unit}"


def _fahrenheit(celsius: float | None) -> float | None:
    return None if celsius is None else celsius * 9 / 5 + 32


def _both(metric: str, customary: str, units: str) -> str:
    first, second = (customary, metric) if units == US else (metric, customary)
    return f"{first} ({second})" if second else first


def _in(amount: float, unit: str, to: str) -> float:
    return float(convert(Fraction(amount), unit, to=to))
