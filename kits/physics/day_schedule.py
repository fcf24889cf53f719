"""The clock of a simulated day: steps that end where something switches, and what acts in each of them."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from kits.physics.air import humidity_ratio
from kits.physics.day_parts import DAY_H, Enclosure, Heater, Lamp, Mister, RoomDay, span_h

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

    Floats = NDArray[numpy.float64]
    Marks = NDArray[numpy.bool_]

HOUR_S = 3600.0
DAY_S = 86400.0
# The air of a small box settles seconds after a lamp's click: steps begin with this share there and double.
FIRST_SHARE = 1 / 32
# A thermostat leaves its limits within minutes of a switch: so long no step is more than a quarter.
CAREFUL_S = 300.0
# Resistance of the air around a leaf, and of a leaf in the dark and at 40 klux: Ehrler and van Bavel (1968),
# Plant Physiology 43:208, eight species (abstract); a conductance in proportion to the light is assumed.
LEAF_AIR_S_M = 100.0
DARK_LEAF_S_M = 4000.0
LIT_LEAF_S_M_KLUX = 4000.0


class Forcing(NamedTuple):
    """What acts on the box at one moment."""

    room_c: float
    room_ratio: float
    air_w: float
    glass_w: float
    soil_w: float
    leaf_m3_s: float
    target_c: float


class Step(NamedTuple):
    """One step: its length, the forcing at its middle and at its end, the mistings at its start."""

    seconds: float
    middle: Forcing
    end: Forcing
    mistings: int


@dataclass(frozen=True, slots=True)
class Timeline:
    """The steps of a run, the clock at each step's start and end, and which of these moments are reported."""

    seconds: "Floats"
    reported: "Marks"
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """Everything with hours in it."""

    room: RoomDay
    lamps: tuple[Lamp, ...] = ()
    heater: Heater | None = None
    mister: Mister | None = None

    def edges_h(self) -> set[float]:
        """Hours of the day at which something switches or a smooth change begins or ends."""
        spans = [(lamp.from_h, lamp.until_h) for lamp in self.lamps]
        room, heater, mister = self.room, self.heater, self.mister
        spans += [(hour, hour + room.ramp_h) for hour in (room.day_from_h, room.day_until_h)]
        if heater:
            spans.append((heater.day_from_h, heater.day_until_h))
        return {hour % DAY_H for span in spans for hour in span} | set(mister.times_h if mister else ())


def timeline(
    schedule: Schedule, box: Enclosure, *, days: int, step_s: float, report_s: float, refine: int = 1
) -> Timeline:
    """The steps of a number of days; `refine` cuts each of them into that many equal ones."""
    import numpy as np

    clock = _clock(schedule.edges_h(), days=days, step_s=step_s, report_s=report_s, refine=refine)
    lengths = np.diff(clock)
    middles = clock[:-1] + lengths / 2
    # Switches stand at the ends of steps, so the middle of a step tells what is on in all of it.
    switched = _switched(schedule, box, middles / HOUR_S)
    middle = _forcings(schedule.room, middles / HOUR_S, switched)
    end = _forcings(schedule.room, clock[1:] / HOUR_S, switched)
    mistings = _mistings(schedule.mister, clock)
    steps = map(Step._make, zip(lengths.tolist(), middle, end, mistings, strict=True))
    return Timeline(clock, _is_multiple(clock, report_s), tuple(steps))


def mean_forcing(clock: Timeline) -> Forcing:
    """What acts on the box on the average of the run."""
    import numpy as np

    columns = zip(*(step.middle for step in clock.steps), strict=True)
    weights = np.diff(clock.seconds)
    return Forcing._make(float(np.average(column, weights=weights)) for column in columns)


def room_at(room: RoomDay, hours: "Floats") -> "tuple[Floats, Floats]":
    """Temperature and relative humidity of the room at hours of the clock."""
    share = _day_share(room, hours)
    return (
        room.night_c + (room.day_c - room.night_c) * share,
        room.night_pct + (room.day_pct - room.night_pct) * share,
    )


def is_on(hours: "Floats", from_h: float, until_h: float) -> "Marks":
    """Whether an hour of the clock lies in a span of the day."""
    # An hour read from a clock in seconds may fall short of the switch by its last digit.
    return (hours - from_h + 1e-9) % DAY_H < span_h(from_h, until_h)


def _clock(edges_h: Iterable[float], *, days: int, step_s: float, report_s: float, refine: int) -> "Floats":
    import numpy as np

    end = days * DAY_S
    edges = [day * DAY_S + hour * HOUR_S for day in range(days) for hour in {0.0, *edges_h}]
    short = [0.0]
    while short[-1] < CAREFUL_S:
        short.append(short[-1] + min(max(FIRST_SHARE * step_s, short[-1]), step_s / 4))
    marks = [
        np.add.outer(edges, short).ravel(),
        np.arange(0, end + step_s, step_s),
        np.arange(0, end, report_s),
    ]
    clock = np.unique(np.round(np.concatenate(marks), 3))
    clock = np.append(clock[clock < end - 1e-6], end)
    parts = np.arange((len(clock) - 1) * refine + 1) / refine
    finer: Floats = np.interp(parts, np.arange(len(clock)), clock)
    return finer


def _is_multiple(clock: "Floats", period_s: float) -> "Marks":
    import numpy as np

    multiple: Marks = np.abs(clock / period_s - np.round(clock / period_s)) * period_s < 1e-4
    return multiple


def _day_share(room: RoomDay, hours: "Floats") -> "Floats":
    import numpy as np

    since = (hours - room.day_from_h) % DAY_H
    rise = np.clip(since / room.ramp_h, 0, 1)
    fall = np.clip((since - span_h(room.day_from_h, room.day_until_h)) / room.ramp_h, 0, 1)
    share: Floats = _smooth(rise) - _smooth(fall)
    return share


def _smooth(share: "Floats") -> "Floats":
    return share * share * (3 - 2 * share)


def _switched(schedule: Schedule, box: Enclosure, hours: "Floats") -> "list[list[float]]":
    import numpy as np

    air, glass, soil, klux = (np.zeros_like(hours) for _ in range(4))
    for lamp in schedule.lamps:
        on = is_on(hours, lamp.from_h, lamp.until_h)
        air += on * lamp.watts * lamp.air_share
        glass += on * lamp.watts * lamp.glass_share
        soil += on * lamp.watts * lamp.soil_share
        klux += on * lamp.leaf_klux
    leaf = np.minimum(DARK_LEAF_S_M, LIT_LEAF_S_M_KLUX / np.maximum(klux, 1e-9)) + LEAF_AIR_S_M
    columns = (air, glass, soil, box.leaf_area_m2 / leaf, targets_c(schedule.heater, hours))
    return [column.tolist() for column in columns]


def targets_c(heater: Heater | None, hours: "Floats") -> "Floats":
    """Temperature that the thermostat is set to at hours of the clock; 0 where there is none."""
    import numpy as np

    if heater is None:
        return np.zeros_like(hours)
    by_day = is_on(hours, heater.day_from_h, heater.day_until_h)
    targets: Floats = np.where(by_day, heater.day_c, heater.night_c)
    return targets


def _forcings(room: RoomDay, hours: "Floats", switched: "Sequence[Sequence[float]]") -> list[Forcing]:
    celsius, pct = (values.tolist() for values in room_at(room, hours))
    # Most hours are plain day or plain night, so that few moments differ.
    ratio = {pair: humidity_ratio(*pair) for pair in set(zip(celsius, pct, strict=True))}
    ratios = [ratio[pair] for pair in zip(celsius, pct, strict=True)]
    return list(map(Forcing._make, zip(celsius, ratios, *switched, strict=True)))


def _mistings(mister: Mister | None, clock: "Floats") -> list[int]:
    import numpy as np

    count = np.zeros(len(clock) - 1, dtype=int)
    for hour in mister.times_h if mister else ():
        times = np.arange(hour * HOUR_S, clock[-1], DAY_S)
        np.add.at(count, np.searchsorted(clock, times - 1e-2), 1)
    return count.tolist()
