"""Light for plants: photons that reach a spot from a lamp, the light of a day, and how long a day is."""

import math
from datetime import date

from inventory.calc.checks import finite, not_negative, positive, within
from kits.physics.day_length import hours_above_horizon, sun_declination_deg

__all__ = [
    "bar_ppfd",
    "bar_ppfd_at",
    "daily_light_integral",
    "day_length_h",
    "panel_ppfd",
    "panel_ppfd_at",
    "point_ppfd",
    "ppfd_for_daily_light_integral",
]

SECONDS_PER_HOUR = 3600.0
UMOL_PER_MOL = 1e6


def daily_light_integral(ppfd: float, hours: float) -> float:
    """Light that a spot gets in a day of steady lamps.

    Formula:
        DLI = PPFD x 3600 x hours / 10^6
    Args:
        ppfd: photosynthetic photon flux density [umol/m2/s]
        hours: hours of light in a day [h]
    Returns:
        daily light integral [mol/m2/d]
    Raises:
        Impossible: a negative flux, hours outside 0 to 24
    Valid:
        ppfd 0..2500; photons of 400 to 700 nm
    Source:
        definition of the daily light integral
    Example:
        >>> round(daily_light_integral(231.48, 12), 3)
        10.0
    """
    not_negative(ppfd=ppfd)
    within(0, 24, hours=hours)
    return ppfd * SECONDS_PER_HOUR * hours / UMOL_PER_MOL


def ppfd_for_daily_light_integral(daily_light_integral: float, hours: float) -> float:
    """Steady flux that gives a daily light integral.

    Formula:
        PPFD = DLI x 10^6 / (3600 x hours)
    Args:
        daily_light_integral: light wanted in a day [mol/m2/d]
        hours: hours of light in a day [h], > 0
    Returns:
        photosynthetic photon flux density [umol/m2/s]
    Raises:
        Impossible: a negative light, hours not above 0 and at most 24
    Valid:
        daily_light_integral 0..65; photons of 400 to 700 nm
    Source:
        definition of the daily light integral
    Example:
        >>> round(ppfd_for_daily_light_integral(4, 12), 2)
        92.59
    """
    not_negative(daily_light_integral=daily_light_integral)
    positive(hours=hours)
    within(0, 24, hours=hours)
    return daily_light_integral * UMOL_PER_MOL / (SECONDS_PER_HOUR * hours)


def point_ppfd(flux_umol_s: float, distance_m: float, aside_m: float = 0.0) -> float:
    """Photons on a level spot below a small flat lamp that faces down.

    Formula:
        PPFD = PPF h^2 / (pi r^4), r^2 = h^2 + aside^2, which is PPF / (pi h^2) right below
    Args:
        flux_umol_s: photosynthetic photon flux of the lamp [umol/s]
        distance_m: height h of the lamp above the spot [m], > 0
        aside_m: distance of the spot from right below the lamp [m]
    Returns:
        photosynthetic photon flux density [umol/m2/s]
    Raises:
        Impossible: a negative flux, a distance not above zero
    Valid:
        distance_m 0.1..5; from about five diameters of the lamp, here one of 20 mm; equally bright from all
        sides of its front, so no lens or deep reflector
    Source:
        cosine law for a flat diffuse source and a flat receiver
    Example:
        >>> round(point_ppfd(60, 0.30), 1)
        212.2
    """
    not_negative(flux_umol_s=flux_umol_s)
    positive(distance_m=distance_m)
    finite(aside_m=aside_m)
    squared = distance_m**2 + aside_m**2
    return flux_umol_s * distance_m**2 / (math.pi * squared**2)


def bar_ppfd(flux_umol_s: float, length_m: float, distance_m: float) -> float:
    """Photons on a level spot below the middle of a thin flat bar that faces down.

    Formula:
        PPFD = PPF / (pi L d) [t + sin t cos t], t = atan(L / (2 d))
    Args:
        flux_umol_s: photosynthetic photon flux of the bar [umol/s]
        length_m: lit length L [m], > 0
        distance_m: distance d below the bar [m], > 0
    Returns:
        photosynthetic photon flux density [umol/m2/s]
    Raises:
        Impossible: a negative flux, a length or distance not above zero
    Valid:
        distance_m 0.05..3; length_m 0.05..3; a bar much narrower than the distance, without lenses
    Source:
        integral of the cosine law over a line, worked and checked by quadrature
    Example:
        >>> round(bar_ppfd(40, 0.6, 0.30), 2)
        90.92
    """
    return bar_ppfd_at(flux_umol_s, length_m, distance_m)


def bar_ppfd_at(
    flux_umol_s: float, length_m: float, distance_m: float, along_m: float = 0.0, aside_m: float = 0.0
) -> float:
    """Photons on a level spot anywhere below a thin flat bar that faces down.

    Formula:
        PPFD = PPF / (pi L) x h^2 / (2 D^3) [g(t1) + g(t2)], g(t) = t + sin t cos t, D^2 = h^2 + aside^2,
        t1 = atan((L/2 - along) / D), t2 = atan((L/2 + along) / D)
    Args:
        flux_umol_s: photosynthetic photon flux of the bar [umol/s]
        length_m: lit length L [m], > 0
        distance_m: height h of the bar above the spot [m], > 0
        along_m: distance of the spot from the middle, along the bar [m]
        aside_m: distance of the spot from below the bar, across it [m]
    Returns:
        photosynthetic photon flux density [umol/m2/s]
    Raises:
        Impossible: a negative flux, a length or distance not above zero
    Valid:
        distance_m 0.05..3; length_m 0.05..3; a bar much narrower than the distance, without lenses
    Source:
        integral of the cosine law over a line, worked and checked by quadrature
    Example:
        >>> round(bar_ppfd_at(40, 0.6, 0.30, aside_m=0.15), 2)
        62.09
    """
    not_negative(flux_umol_s=flux_umol_s)
    positive(length_m=length_m, distance_m=distance_m)
    finite(along_m=along_m, aside_m=aside_m)
    distance = math.hypot(distance_m, aside_m)
    swept = _swept((length_m / 2 - along_m) / distance) + _swept((length_m / 2 + along_m) / distance)
    return flux_umol_s / (math.pi * length_m) * distance_m**2 / (2 * distance**3) * swept


def panel_ppfd(flux_umol_s: float, width_m: float, length_m: float, distance_m: float) -> float:
    """Photons on a level spot below the middle of an evenly lit flat panel.

    Formula:
        PPFD = PPF / (w l) x F, F = (2/pi) [X/sqrt(1+X^2) atan(Y/sqrt(1+X^2)) + Y/sqrt(1+Y^2)
        atan(X/sqrt(1+Y^2))], X = w / (2 d), Y = l / (2 d)
    Args:
        flux_umol_s: photosynthetic photon flux of the panel [umol/s]
        width_m: lit width w [m], > 0
        length_m: lit length l [m], > 0
        distance_m: distance d below the panel [m], > 0
    Returns:
        photosynthetic photon flux density [umol/m2/s]
    Raises:
        Impossible: a negative flux, a side or distance not above zero
    Valid:
        distance_m 0.02..3; width_m 0.02..3; length_m 0.02..3; without lenses
    Source:
        configuration factor of a rectangle seen from a parallel patch, standard form of radiation textbooks
    Example:
        >>> round(panel_ppfd(60, 0.6, 0.3, 0.45), 2)
        69.69
    """
    return panel_ppfd_at(flux_umol_s, width_m, length_m, distance_m)


def panel_ppfd_at(
    flux_umol_s: float,
    width_m: float,
    length_m: float,
    distance_m: float,
    aside_m: float = 0.0,
    along_m: float = 0.0,
) -> float:
    """Photons on a level spot anywhere below an evenly lit flat panel.

    Formula:
        PPFD = PPF / (w l) x [C(x2, y2) - C(x1, y2) - C(x2, y1) + C(x1, y1)], the edges seen from the spot,
        C(x, y) = 1/(2 pi) [X/sqrt(1+X^2) atan(Y/sqrt(1+X^2)) + Y/sqrt(1+Y^2) atan(X/sqrt(1+Y^2))],
        X = x / d, Y = y / d
    Args:
        flux_umol_s: photosynthetic photon flux of the panel [umol/s]
        width_m: lit width w [m], > 0
        length_m: lit length l [m], > 0
        distance_m: distance d below the panel [m], > 0
        aside_m: distance of the spot from below the middle, along the width [m]
        along_m: distance of the spot from below the middle, along the length [m]
    Returns:
        photosynthetic photon flux density [umol/m2/s]
    Raises:
        Impossible: a negative flux, a side or distance not above zero
    Valid:
        distance_m 0.02..3; width_m 0.02..3; length_m 0.02..3; without lenses
    Source:
        configuration factor of a rectangle seen from a parallel patch, four corners added
    Example:
        >>> round(panel_ppfd_at(60, 0.6, 0.3, 0.45, aside_m=0.3), 2)
        47.01
    """
    not_negative(flux_umol_s=flux_umol_s)
    positive(width_m=width_m, length_m=length_m, distance_m=distance_m)
    finite(aside_m=aside_m, along_m=along_m)
    left, right = ((edge - aside_m) / distance_m for edge in (-width_m / 2, width_m / 2))
    front, back = ((edge - along_m) / distance_m for edge in (-length_m / 2, length_m / 2))
    seen = _corner(right, back) - _corner(left, back) - _corner(right, front) + _corner(left, front)
    return flux_umol_s / (width_m * length_m) * max(0.0, seen)


def day_length_h(latitude_deg: float, longitude_deg: float, date: date) -> float:
    """Hours from sunrise to sunset, with the refraction at the horizon and the upper rim of the sun.

    Formula:
        hours above the horizon at latitude, at the sun's declination on the local noon, 0.8333 deg below
    Args:
        latitude_deg: latitude, north positive [deg]
        longitude_deg: longitude, east positive [deg]
        date: day
    Returns:
        day length [h], 0 in the polar night and 24 under the midnight sun
    Raises:
        Impossible: a latitude outside -90 to 90, a longitude outside -180 to 180
    Valid:
        latitude_deg -65..65; year(date) 1950..2050; a level horizon; within 0.02 h of NREL's algorithm there.
        Nearer to the poles nights and days without end come out as 0 and 24 h, but in the weeks around the
        first and last of them the sun's change within the day errs by up to half an hour to 80 deg
    Source:
        sunrise equation; sun by the low-precision formula of the Astronomical Almanac, from memory, checked
        against two open libraries
    Example:
        >>> from datetime import date
        >>> round(day_length_h(40.7128, -74.0060, date(2026, 6, 21)), 2)
        15.09
    """
    within(-180, 180, longitude_deg=longitude_deg)
    return hours_above_horizon(latitude_deg, sun_declination_deg(date, longitude_deg))


def _swept(tangent: float) -> float:
    """The angle plus its sine times its cosine, from its tangent."""
    return math.atan(tangent) + tangent / (1 + tangent * tangent)


def _corner(x: float, y: float) -> float:
    """Configuration factor of a rectangle with one corner right above the spot; odd in both sides."""
    over_x, over_y = math.sqrt(1 + x * x), math.sqrt(1 + y * y)
    return (x / over_x * math.atan(y / over_x) + y / over_y * math.atan(x / over_y)) / (2 * math.pi)
