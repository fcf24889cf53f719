"""A day, or a fortnight, of a planted box: temperatures, humidity and water, minute by minute.

The box is lumped into air, walls and soil. The figures are estimates of a model that no enclosure has
been measured against, good for comparing builds and for seeing what a schedule does. The heat that water
itself brings or takes along is left out: a fifth of a litre 5 K colder is less than a hundredth of a day's.
"""

from inventory.calc.checks import within
from inventory.calc.errors import Impossible
from kits.physics import day_balance as balance
from kits.physics.air import humidity_ratio
from kits.physics.checks import percent
from kits.physics.day_box import Amounts, Network, State, network, saturation
from kits.physics.day_curve import DayCurve, Shed, curve_of
from kits.physics.day_parts import (
    COLDEST_C,
    Enclosure,
    Heater,
    Lamp,
    Mister,
    RoomDay,
    Start,
    box_of,
    liveable,
)
from kits.physics.day_schedule import DAY_S, Schedule, Step, Timeline, mean_forcing, timeline

__all__ = ["climate_summary"]

SUMMARY_KLUX = 10.0
BOILING_C = 95.0
SMALLEST_M, LARGEST_M = 0.01, 100.0
LEAST_U, GREATEST_U = 0.001, 1000.0
LEAST_SOIL_M = 0.001
ENOUGH = 1e5
STEP_S = 60.0
LONG_STEP_S = 600.0  # of many days; within 0.02 K and 0.1 % humidity of steps of two minutes
# A box finds its mean day in a few leaps and its swing from there in days of coarse steps: two for most,
# more where deep soil is slow, until midnight comes back as it was.
SETTLING_LEAPS = 4
SETTLING_LEAP_S = 2e5
MOST_SETTLING_DAYS = 20
SETTLING_STEP_S = 900.0
SETTLED_K = 0.02


def climate_summary(  # noqa: PLR0913, PLR0917 - plain numbers to try, all part of the question
    width_m: float,
    depth_m: float,
    height_m: float,
    wall_u: float,
    top_u: float,
    floor_u: float,
    air_changes_h: float,
    room_day_c: float,
    room_night_c: float,
    room_pct: float,
    lamp_w: float = 0.0,
    heater_w: float = 0.0,
    heater_day_c: float = 25.0,
    heater_night_c: float = 20.0,
    misting_l_day: float = 0.0,
    soil_depth_m: float = 0.05,
    leaf_area_m2: float = 0.0,
) -> dict[str, float]:
    """Extremes of temperature and humidity of a box over a day, with what it takes in heat and water.

    Formula:
        heat and water of air, walls and soil minute by minute, after days of the same kind; the lamp is on
        from 8 to 20 h with half of its watts on the soil and a quarter in the air; half the water is misted
        at 8:30, half at 19:30, 55 % of it hanging as drops, 45 % draining
    Args:
        width_m: inside width [m]
        depth_m: inside depth from front to back [m]
        height_m: inside height [m]
        wall_u: U-value of the walls, both faces indoors [W/m2K]
        top_u: U-value of the top [W/m2K]
        floor_u: U-value of the floor [W/m2K]
        air_changes_h: volumes of inside air replaced in an hour [1/h]
        room_day_c: room by day [C]
        room_night_c: room by night [C]
        room_pct: relative humidity of the room [%]
        lamp_w: watts of the lamps [W]
        heater_w: watts of a heater on a proportional thermostat [W]
        heater_day_c: target from 7 to 19 h [C]
        heater_night_c: target by night [C]
        misting_l_day: water misted in a day [L]
        soil_depth_m: mean depth of the soil, which starts eight tenths full [m]
        leaf_area_m2: area of the leaves, one side [m2]
    Returns:
        lowest_c, highest_c, lowest_soil_c, highest_soil_c [C], lowest_pct, mean_pct, highest_pct [%],
        heater_kwh [kWh], evaporated_l, condensed_l, carried_away_l, soil_gain_l [L]
    Raises:
        Impossible: a side outside 0.01 to 100, a U-value outside 0.001 to 1000, soil of less than 0.001 or
        up to the top, watts, water, leaves or air changes outside 0 to 100000, a humidity outside 0 to 100,
        temperatures outside -40 to 80, a lamp that boils the water
    Valid:
        width_m 0.2..2.5; depth_m 0.2..1.2; height_m 0.2..2; wall_u 0.5..6; top_u 0.5..10; floor_u 0.5..6;
        air_changes_h 0..200; room_day_c 5..40; room_night_c 5..40; soil_depth_m 0.02..0.4; well mixed air;
        an estimate: no enclosure was measured against it, and shares, soil and drops are estimates too
    Source:
        balances of heat and water of a lumped box, worked here; leaves after Ehrler and van Bavel (1968)
    Example:
        >>> sides, u_values = (0.45, 0.45, 0.6), (3.788, 5.0, 2.07)
        >>> day = climate_summary(*sides, *u_values, 5, 22, 19, 45, lamp_w=50, misting_l_day=0.2)
        >>> round(day["lowest_c"]), round(day["highest_c"])
        (19, 26)
    """
    within(SMALLEST_M, LARGEST_M, width_m=width_m, depth_m=depth_m, height_m=height_m)
    liveable(room_day_c=room_day_c, room_night_c=room_night_c)
    liveable(heater_day_c=heater_day_c, heater_night_c=heater_night_c)
    percent(room_pct=room_pct)
    within(LEAST_U, GREATEST_U, wall_u=wall_u, top_u=top_u, floor_u=floor_u)
    within(LEAST_SOIL_M, LARGEST_M, soil_depth_m=soil_depth_m)
    within(0, ENOUGH, lamp_w=lamp_w, heater_w=heater_w, misting_l_day=misting_l_day)
    within(0, ENOUGH, leaf_area_m2=leaf_area_m2, air_changes_h=air_changes_h)
    box = box_of(
        (width_m, depth_m, height_m),
        u_w_m2k=(wall_u, top_u, floor_u),
        air_changes_h=air_changes_h,
        soil_depth_m=soil_depth_m,
        leaf_area_m2=leaf_area_m2,
    )
    klux = SUMMARY_KLUX if lamp_w else 0.0
    schedule = Schedule(
        room=RoomDay(day_c=room_day_c, night_c=room_night_c, day_pct=room_pct, night_pct=room_pct),
        lamps=(Lamp(watts=lamp_w, from_h=8, until_h=20, soil_share=0.5, air_share=0.25, leaf_klux=klux),),
        heater=Heater(watts=heater_w, day_c=heater_day_c, night_c=heater_night_c),
        mister=Mister(litres_per_event=misting_l_day / 2, times_h=(8.5, 19.5)),
    )
    curve = simulate(box, schedule=schedule, start=Start(soil_water_l=0.8 * box.container_capacity_l))
    return _summary(curve)


def _summary(curve: DayCurve) -> dict[str, float]:
    air_c, soil_c, pct, totals = curve.air_c, curve.soil_c, curve.humidity_pct, curve.totals
    return {
        "lowest_c": float(air_c.min()),
        "highest_c": float(air_c.max()),
        "lowest_soil_c": float(soil_c.min()),
        "highest_soil_c": float(soil_c.max()),
        "lowest_pct": float(pct.min()),
        "mean_pct": float(pct[:-1].mean()),
        "highest_pct": min(100.0, float(pct.max())),
        "heater_kwh": totals.heater_j / 3.6e6,
        "evaporated_l": totals.evaporated_l,
        "condensed_l": totals.condensed_l,
        "carried_away_l": totals.carried_away_l,
        "soil_gain_l": float(curve.soil_water_l[-1] - curve.soil_water_l[0]),
    }


def simulate(
    box: Enclosure,
    *,
    schedule: Schedule,
    start: Start,
    days: int = 1,
    report_min: float = 1.0,
    refine: int = 1,
) -> DayCurve:
    """Temperatures, humidity and water of a box from midnight on, at equal times.

    Formula:
        C dT/dt = sum of heat flows; m dw/dt = evaporation - dew - vapour carried away; each litre of water
        is in air, drops, soil or reservoir, or gone
    Args:
        box: areas, resistances, stores
        schedule: room, lamps, heater and mister with their hours
        start: water in the box, and its temperature where it has not stood like this for days
        days: length of the run [d]
        report_min: time between two reported moments [min]
        refine: number of equal parts into which each step is cut [-]
    Returns:
        curves and totals
    Raises:
        Impossible: no whole number of days or parts, a time between reports outside a minute to a day
    Valid:
        box of glass or board in a room, air well mixed; an estimate
    Source:
        balances of heat and water of a lumped box, worked here; wet faces by the Lewis relation; leaves
        after Ehrler and van Bavel (1968)
    """
    _whole(days=days, refine=refine)
    if not 1 <= report_min <= 1440:
        raise Impossible("report_min", "must lie from 1 to 1440")
    step_s = STEP_S if days <= 2 else LONG_STEP_S
    clock = timeline(schedule, box, days=days, step_s=step_s, report_s=report_min * 60, refine=refine)
    coarse = timeline(schedule, box, days=1, step_s=SETTLING_STEP_S, report_s=DAY_S, refine=refine)
    mean = _mean_state(box, schedule, coarse, start)
    net = network(box, schedule.heater, air_c=mean.air_c, ratio=mean.ratio)
    first = _standing(start) or _swung(net, coarse, schedule.mister, mean)
    return _run(net, schedule, clock, first)


def _whole(**counts: int) -> None:
    for name, count in counts.items():
        if isinstance(count, bool) or not (isinstance(count, int) and count >= 1):
            raise Impossible(name, "must be a whole number from 1")


def _standing(start: Start) -> State | None:
    """The box as it is given, all at one temperature; None where it is to have stood for days."""
    if start.air_c is None:
        return None
    return _even(start, start.air_c, humidity_ratio(start.air_c, start.air_pct))


def _even(start: Start, celsius: float, ratio: float) -> State:
    return State(celsius, celsius, celsius, celsius, ratio, start.soil_water_l, 0.0, start.reservoir_l)


def _mean_state(box: Enclosure, schedule: Schedule, clock: Timeline, start: Start) -> State:
    """The box in the mean of its day, with the water of the start; it also tells the density of its air."""
    act = mean_forcing(clock)
    net = network(box, schedule.heater, air_c=act.room_c, ratio=act.room_ratio)
    state = _even(start, act.room_c, act.room_ratio)
    water = {"soil_l": start.soil_water_l, "film_l": 0.0, "reservoir_l": start.reservoir_l}
    for _ in range(SETTLING_LEAPS):
        leap = balance.moved(net, state, act, SETTLING_LEAP_S)
        state = _guess(net, balance.applied(net, state, leap))._replace(**water)
    return state


def _guess(net: Network, state: State) -> State:
    """A state that can be, near one that a leap along straight lines may have thrown too far."""
    air_c, glass_c, soil_c, probe_c = (min(max(celsius, COLDEST_C), BOILING_C) for celsius in state[:4])
    ratio = min(max(0.0, state.ratio), saturation(net.saturated, air_c)[0])
    return State(air_c, glass_c, soil_c, probe_c, ratio, state.soil_l, state.film_l, state.reservoir_l)


def _must_not_boil(state: State) -> None:
    if not (state.air_c < BOILING_C and state.glass_c < BOILING_C and state.soil_c < BOILING_C):
        raise Impossible("lamp_w", "must not bring the box to the heat of boiling water")


def _swung(net: Network, clock: Timeline, mister: Mister | None, mean: State) -> State:
    """The state at midnight once the day has swung around its mean, with the water of the mean."""
    state = mean
    for _ in range(MOST_SETTLING_DAYS):
        before = state
        for step in clock.steps:
            state = _next(net, mister, state, step)[0]
        state = state._replace(soil_l=mean.soil_l, reservoir_l=mean.reservoir_l)
        if _apart_k(before, state) < SETTLED_K:
            break
    return state


def _apart_k(one: State, other: State) -> float:
    """The largest change of temperature in air, walls and soil."""
    return max(abs(a - b) for a, b in zip(one[:3], other[:3], strict=True))


def _run(net: Network, schedule: Schedule, clock: Timeline, first: State) -> DayCurve:
    states, moves, sheds = [first], [], []
    for step in clock.steps:
        state, amounts, shed = _next(net, schedule.mister, states[-1], step)
        states.append(state)
        moves.append(amounts)
        sheds.append(shed)
    return curve_of(net, schedule, clock, states=states, moves=moves, sheds=sheds)


def _next(net: Network, mister: Mister | None, state: State, step: Step) -> tuple[State, Amounts, Shed]:
    """One step, with what is sprayed at its start and what runs over at its end."""
    misted_l = drained_l = 0.0
    if step.mistings and mister:
        misted_l = step.mistings * mister.litres_per_event
        drained_l = misted_l * mister.drain_share
        state = _misted(net, state, misted_l * mister.evaporating_share, misted_l - drained_l, drained_l)
    state, amounts = balance.advance(net, state, step)
    _must_not_boil(state)
    overflow_l = max(0.0, state.reservoir_l - net.reservoir_full_l)
    return (
        state._replace(reservoir_l=state.reservoir_l - overflow_l),
        amounts,
        Shed(misted_l, drained_l, overflow_l),
    )


def _misted(net: Network, state: State, hanging_l: float, staying_l: float, drained_l: float) -> State:
    """Drops hang until the leaves drip; what drips or fell to the ground is in the soil."""
    hanging_l = min(hanging_l, max(0.0, net.film_full_l - state.film_l))
    return state._replace(
        film_l=state.film_l + hanging_l,
        soil_l=state.soil_l + staying_l - hanging_l,
        reservoir_l=state.reservoir_l + drained_l,
    )
