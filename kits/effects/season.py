"""How long the lamps are on: twelve hours all year, or as long as the day at a latitude, month by month."""

import functools
from collections.abc import Iterator
from datetime import date

from kits.physics.day_length import photoperiod
from kits.terms.build import Build

USUAL_H = 12.0  # of light a day for animals and plants of the tropics; common practice, no source
SHORT_H = 9.0  # shorter days are those of a winter rest; common practice, no source
# Years differ by less than a timer's quarter hour, so that every plan takes the days of one.
YEAR, MIDDLE = 2026, 15
MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October",
    "November", "December",
)  # fmt: skip


def middles() -> list[date]:
    """The middle of each month."""
    return [date(YEAR, month + 1, MIDDLE) for month in range(len(MONTHS))]


@functools.lru_cache(maxsize=64)
def by_month(latitude_deg: float) -> tuple[float, ...]:
    """Hours of light in the middle of each month, to a timer's quarter of an hour."""
    return tuple(day["timer_h"] for day in photoperiod(latitude_deg, 0.0, middles()))


def hours(build: Build) -> tuple[float, ...]:
    """Hours of light in each month of this build; one figure for all of them where no season is kept."""
    return (USUAL_H,) if build.latitude_deg is None else by_month(build.latitude_deg)


def shortest_h(build: Build) -> float:
    """Hours of light in the darkest month."""
    return min(hours(build))


def longest_h(build: Build) -> float:
    """Hours of light in the brightest month."""
    return max(hours(build))


def mean_h(build: Build) -> float:
    """Hours of light on the mean of the year."""
    found = hours(build)
    return sum(found) / len(found)


def month_of(build: Build, wanted_h: float) -> int:
    """The first month, from 0, with so many hours."""
    return hours(build).index(wanted_h)


def changes(build: Build) -> Iterator[tuple[int, float]]:
    """Months, from 1, in which the timer is set anew, and to how many hours."""
    found = hours(build)
    for month, lit in enumerate(found):
        if lit != found[month - 1]:
            yield month + 1, lit
