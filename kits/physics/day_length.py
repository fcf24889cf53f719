"""How high the sun stands through the year, and the hours of light that lamps can follow."""

import math
from collections.abc import Sequence
from datetime import date
from typing import Literal, TypedDict

from inventory.calc.checks import within
from inventory.calc.errors import Impossible

__all__ = ["customary_photoperiod_h", "hours_above_horizon", "photoperiod"]

# Refraction at the horizon (34') and half the sun's width (16').
RISE_DEG = 0.8333
TIMER_STEPS_PER_HOUR = 4
CUSTOMARY_H = {"tropical": 12.0, "temperate_summer": 14.0, "temperate_winter": 10.0}
_ORDINAL_OF_2000 = 730120  # 1 January 2000; the almanac counts from its noon


class LitDay(TypedDict):
    """One day of a season: its length, and the hours that a timer in quarter hours gives."""

    date: str
    day_length_h: float
    timer_h: float


def hours_above_horizon(
    latitude_deg: float, declination_deg: float, below_horizon_deg: float = RISE_DEG
) -> float:
    """Hours of a day in which the sun stands above a height, from its declination.

    Formula:
        D = (24 / pi) acos[-(sin p + sin(latitude) sin(declination)) / (cos(latitude) cos(declination))],
        the argument held within -1 to 1
    Args:
        latitude_deg: latitude, north positive [deg]
        declination_deg: declination of the sun [deg]
        below_horizon_deg: how far below the horizon its middle may stand p [deg]
    Returns:
        hours [h], 0 in the polar night and 24 under the midnight sun
    Raises:
        Impossible: a latitude or angle outside -90 to 90, a declination outside -23.5 to 23.5
    Valid:
        latitude_deg -65..65; below_horizon_deg 0..18; the declination of noon held all day
    Source:
        sunrise equation, spherical astronomy
    Example:
        >>> hours_above_horizon(0, 10, 0)
        12.0
    """
    within(-90, 90, latitude_deg=latitude_deg, below_horizon_deg=below_horizon_deg)
    within(-23.5, 23.5, declination_deg=declination_deg)
    latitude, declination = math.radians(latitude_deg), math.radians(declination_deg)
    above = math.sin(math.radians(below_horizon_deg)) + math.sin(latitude) * math.sin(declination)
    # At the poles the cosine is a rounding error above zero, and the limits below settle the answer.
    cosine = -above / (math.cos(latitude) * math.cos(declination))
    return 24 / math.pi * math.acos(max(-1.0, min(1.0, cosine)))


def photoperiod(latitude_deg: float, longitude_deg: float, dates: Sequence[date]) -> list[LitDay]:
    """Hours of light through a season at an animal's home, for the lamps' timer.

    Formula:
        day length on each date; timer rounded to quarter hours
    Args:
        latitude_deg: latitude of the home range, north positive [deg]
        longitude_deg: longitude of the home range, east positive [deg]
        dates: days, for example the first of every month
    Returns:
        date, day length [h] and timer [h] for each date
    Raises:
        Impossible: a latitude outside -90 to 90, a longitude outside -180 to 180
    Valid:
        latitude_deg -65..65; year(dates) 1950..2050; as light.day_length_h
    Source:
        sunrise equation; sun by the low-precision formula of the Astronomical Almanac, from memory
    Example:
        >>> from datetime import date
        >>> photoperiod(-21.5, 165.5, [date(2026, 7, 1)])[0]["timer_h"]
        10.75
    """
    within(-180, 180, longitude_deg=longitude_deg)
    return [_lit_day(latitude_deg, longitude_deg, day) for day in dates]


def customary_photoperiod_h(season: Literal["tropical", "temperate_summer", "temperate_winter"]) -> float:
    """Hours of light that keepers commonly give where the home range is not looked up.

    Formula:
        table: 12 tropical, 14 temperate summer, 10 temperate winter
    Args:
        season: climate of the home range and half of the year
    Returns:
        hours of light in a day [h]
    Raises:
        Impossible: a season that is not in the table
    Valid:
        a starting point; `photoperiod` follows the home range
    Source:
        common practice, no source; 12 to 14 h for a water dragon in the Austrian ordinance BGBl. II 486/2004
    Example:
        >>> customary_photoperiod_h("tropical")
        12.0
    """
    if season not in CUSTOMARY_H:
        raise Impossible("season", f"must be one of {', '.join(CUSTOMARY_H)}")
    return CUSTOMARY_H[season]


def sun_declination_deg(day: date, longitude_deg: float = 0.0) -> float:
    """Declination of the sun at mean noon of a place, by the almanac's low-precision formula (0.01 deg)."""
    days = day.toordinal() - _ORDINAL_OF_2000 - longitude_deg / 360
    mean_longitude = math.radians(280.460 + 0.9856474 * days)
    anomaly = math.radians(357.528 + 0.9856003 * days)
    ecliptic = mean_longitude + math.radians(1.915 * math.sin(anomaly) + 0.020 * math.sin(2 * anomaly))
    tilt = math.radians(23.439 - 4e-7 * days)
    return math.degrees(math.asin(math.sin(tilt) * math.sin(ecliptic)))


def _lit_day(latitude_deg: float, longitude_deg: float, day: date) -> LitDay:
    hours = hours_above_horizon(latitude_deg, sun_declination_deg(day, longitude_deg))
    timer = round(hours * TIMER_STEPS_PER_HOUR) / TIMER_STEPS_PER_HOUR
    return {"date": day.isoformat(), "day_length_h": hours, "timer_h": timer}
