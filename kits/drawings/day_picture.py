"""What the picture of a day shows, as plain data."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, isfinite

from inventory.calc.errors import Impossible

HOURS = 24.0
Pair = tuple[float, float]
CURVES = ("air_c", "soil_c", "surface_c", "humidity_pct", "heater_duty")


@dataclass(frozen=True, slots=True, kw_only=True)
class DayPicture:
    """Curves at ascending minutes from midnight, the bands that are wanted, and what was on when.

    Hours may run past midnight (a lamp from 20 to 6). Curves that are not known are left empty. Raises
    Impossible where a curve does not have a finite value for each minute.
    """

    minutes: Sequence[float]
    air_c: Sequence[float]
    humidity_pct: Sequence[float]
    soil_c: Sequence[float] = ()
    surface_c: Sequence[float] = ()
    heater_duty: Sequence[float] = ()  # shares from 0 to 1
    day_c: Pair | None = None
    night_c: Pair | None = None
    humidity_band: Pair | None = None
    day_hours: Pair = (7.0, 19.0)
    lamp_hours: Sequence[tuple[str, float, float]] = ()  # name, from, until
    mist_hours: Sequence[float] = ()
    units: str = "metric"

    def __post_init__(self) -> None:
        if len(self.minutes) < 2 or not all(a < b for a, b in pairwise(self.minutes)):
            raise Impossible("minutes", "must ascend over at least two moments")
        for name in CURVES:
            curve = getattr(self, name)
            if name in ("air_c", "humidity_pct") and not curve:
                raise Impossible(name, "must not be empty")
            if curve and len(curve) != len(self.minutes):
                raise Impossible(name, "must have a value for each moment")
            if not all(isfinite(value) for value in curve):
                raise Impossible(name, "must be finite")

    @property
    def hours(self) -> list[float]:
        """The moments in hours."""
        return [minute / 60 for minute in self.minutes]

    @property
    def until_h(self) -> float:
        """The end of the picture: whole days."""
        return HOURS * max(1, ceil(self.minutes[-1] / 60 / HOURS - 1e-3))

    def daily(self, from_h: float, until_h: float) -> Iterator[Pair]:
        """The spells of every day of the picture that something lasts from one hour to another.

        Example:
            >>> day = DayPicture(minutes=(0, 1440), air_c=(20, 20), humidity_pct=(60, 60))
            >>> list(day.daily(20, 6)), list(day.daily(8, 20)), list(day.daily(7, 7))
            ([(0.0, 6.0), (20.0, 24.0)], [(8.0, 20.0)], [])
        """
        start, end = from_h % HOURS, until_h % HOURS if until_h != HOURS else HOURS
        spells = [(start, end)] if start <= end else [(0.0, end), (start, HOURS)]
        if until_h - from_h >= HOURS:
            spells = [(0.0, HOURS)]
        for day in range(round(self.until_h / HOURS)):
            for low, high in spells:
                if high > low:
                    yield day * HOURS + low, day * HOURS + high
