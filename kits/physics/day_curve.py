"""The curves of a simulated day, what went in and out, and how they lie against what the animals want."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, NamedTuple

from kits.physics.day_balance import duty_at
from kits.physics.day_box import EVAPORATION_J_KG, Amounts, Network, State, relative_humidities_pct
from kits.physics.day_parts import Bands
from kits.physics.day_schedule import HOUR_S, Schedule, Timeline, is_on, targets_c

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[Any]


class Shed(NamedTuple):
    """Water of one step that no exchange moved: sprayed, run through at once, run over the reservoir."""

    misted_l: float
    drained_l: float
    overflowed_l: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Totals:
    """Heat and water that went in and out over the run, added up from what moved in each step."""

    lamps_j: float
    heater_j: float
    walls_j: float
    top_j: float
    floor_j: float
    ventilation_j: float
    latent_j: float
    misted_l: float
    evaporated_l: float
    condensed_l: float
    carried_away_l: float
    drained_l: float
    overflowed_l: float


@dataclass(frozen=True, slots=True, kw_only=True)
class DayCurve:
    """What was simulated, at equal times; shares and duty are those of the moment."""

    minutes: "Floats"
    air_c: "Floats"
    glass_c: "Floats"
    soil_c: "Floats"
    humidity_pct: "Floats"
    soil_water_l: "Floats"
    film_water_l: "Floats"
    reservoir_l: "Floats"
    lamp_shares: "Floats"  # one row a lamp
    heater_duty: "Floats"
    misted_l: "Floats"
    totals: Totals
    stored_j: float  # gain of heat in air, walls and soil from the first moment to the last
    dry_air_kg: float  # what the box holds of it, taken as constant
    stored_l: float  # gain of water in air, soil, drops and reservoir

    def against(self, bands: Bands) -> tuple["BandCheck", ...]:
        """How temperature and humidity lie against the bands, by day and by night.

        Formula:
            share inside = moments inside / moments; the worst is the moment farthest outside
        Args:
            bands: lowest and highest temperature [C] and relative humidity [%] by day and by night
        Returns:
            one check each for temperature by day, by night, humidity by day, by night
        Raises:
            nothing
        Valid:
            a run of whole days
        Source:
            counting
        """
        by_day = is_on(self.minutes[:-1] / 60, bands.day_from_h, bands.day_until_h)
        minutes, air, pct = self.minutes[:-1], self.air_c[:-1], self.humidity_pct[:-1]
        return (
            _check("temperature", "day", bands.day_c, minutes[by_day], air[by_day]),
            _check("temperature", "night", bands.night_c, minutes[~by_day], air[~by_day]),
            _check("humidity", "day", bands.day_pct, minutes[by_day], pct[by_day]),
            _check("humidity", "night", bands.night_pct, minutes[~by_day], pct[~by_day]),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class BandCheck:
    """How a figure lies against its band in one part of the day; hours are hours in each day of the run."""

    figure: str  # temperature or humidity
    part: str  # day or night
    low: float
    high: float
    share_inside: float
    share_below: float
    share_above: float
    lowest: float
    lowest_at_min: float
    highest: float
    highest_at_min: float

    @property
    def worst(self) -> float | None:
        """The value farthest outside the band; None when all lies inside."""
        under, over = self.low - self.lowest, self.highest - self.high
        if max(under, over) <= 0:
            return None
        return self.lowest if under >= over else self.highest


def _check(
    figure: str, part: str, band: tuple[float, float], minutes: "Floats", values: "Floats"
) -> BandCheck:
    low, high = band
    lowest, highest = int(values.argmin()), int(values.argmax())
    below, above = float((values < low).mean()), float((values > high).mean())
    return BandCheck(
        figure=figure, part=part, low=low, high=high,
        share_inside=1 - below - above, share_below=below, share_above=above,
        lowest=float(values[lowest]), lowest_at_min=float(minutes[lowest]),
        highest=float(values[highest]), highest_at_min=float(minutes[highest]),
    )  # fmt: skip


def curve_of(
    net: Network,
    schedule: Schedule,
    clock: Timeline,
    *,
    states: Sequence[State],
    moves: Sequence[Amounts],
    sheds: Sequence[Shed],
) -> DayCurve:
    """Arrays of the reported moments and the totals of all steps."""
    import numpy as np

    hours = clock.seconds[clock.reported] / HOUR_S
    columns = (np.array(column)[clock.reported] for column in zip(*states, strict=True))
    air_c, glass_c, soil_c, probe_c, ratio, soil_l, film_l, reservoir_l = columns
    targets = targets_c(schedule.heater, hours)
    return DayCurve(
        minutes=hours * 60,
        air_c=air_c,
        glass_c=glass_c,
        soil_c=soil_c,
        humidity_pct=relative_humidities_pct(air_c, ratio),
        soil_water_l=soil_l,
        film_water_l=film_l,
        reservoir_l=reservoir_l,
        lamp_shares=np.array(
            [is_on(hours, lamp.from_h, lamp.until_h) for lamp in schedule.lamps], dtype=float
        ),
        heater_duty=np.array([duty_at(net, *pair) for pair in zip(probe_c, targets, strict=True)]),
        misted_l=_by_moment(clock, np.array([shed.misted_l for shed in sheds])),
        totals=_totals(Amounts._make(_sums(moves)), Shed._make(_sums(sheds))),
        dry_air_kg=net.dry_air_kg,
        stored_j=_heat_j(net, states[-1]) - _heat_j(net, states[0]),
        stored_l=_water_l(net, states[-1]) - _water_l(net, states[0]),
    )


def _by_moment(clock: Timeline, misted_l: "Floats") -> "Floats":
    """Litres sprayed from each reported moment until the next."""
    import numpy as np

    since = np.flatnonzero(clock.reported)
    return np.append(np.add.reduceat(misted_l, since[:-1]), 0.0)


def _sums(rows: Sequence[tuple[float, ...]]) -> list[float]:
    return [math.fsum(column) for column in zip(*rows, strict=True)]


def _totals(moved: Amounts, shed: Shed) -> Totals:
    evaporated = moved.from_soil_l + moved.transpired_l + moved.from_film_l
    condensed = moved.dew_l + moved.fog_l
    return Totals(
        lamps_j=moved.lamp_air_j + moved.lamp_glass_j + moved.lamp_soil_j,
        heater_j=moved.heater_j,
        walls_j=moved.glass_to_room_j,
        top_j=moved.top_to_room_j,
        floor_j=moved.soil_to_room_j,
        ventilation_j=moved.vented_j,
        latent_j=EVAPORATION_J_KG * (evaporated - condensed),
        misted_l=shed.misted_l,
        evaporated_l=evaporated,
        condensed_l=condensed,
        carried_away_l=moved.carried_l,
        drained_l=moved.drained_l + shed.drained_l,
        overflowed_l=shed.overflowed_l,
    )


def _heat_j(net: Network, state: State) -> float:
    return net.air_j_k * state.air_c + net.glass_j_k * state.glass_c + net.soil_j_k * state.soil_c


def _water_l(net: Network, state: State) -> float:
    return net.dry_air_kg * state.ratio + state.soil_l + state.film_l + state.reservoir_l
