"""A day, or a fortnight, of a planted box: temperatures, humidity and water, minute by minute.

The box is lumped into air, walls and soil. The figures are estimates of a model that no enclosure has
been measured against, good for comparing builds and for seeing what a schedule does. The heat that water
itself brings or takes along is left out: a fifth of a litre 5 K colder is less than a hundredth of a day's.
"""

from inventory.calc.errors import Impossible
from kits.physics import day_balance as balance
from kits.physics.day_box import Amounts, Network, State, humidity_ratio, network
from kits.physics.day_curve import DayCurve, Shed, curve_of
from kits.physics.day_parts import Enclosure, Mister, Start
from kits.physics.day_schedule import DAY_S, Schedule, Step, Timeline, mean_forcing, timeline

STEP_S = 60.0
LONG_STEP_S = 120.0
# A box finds its mean day in a few leaps and its swing from there in days of coarse steps.
SETTLING_LEAPS = 3
SETTLING_LEAP_S = 1e6
SETTLING_DAYS = 2
SETTLING_STEP_S = 1200.0


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
    net = _network(box, schedule)
    if start.air_c is None:
        coarse = timeline(schedule, box, days=1, step_s=SETTLING_STEP_S, report_s=DAY_S, refine=refine)
        return _run(net, schedule, clock, _settled(net, coarse, schedule.mister, start))
    return _run(net, schedule, clock, _standing(start, start.air_c))


def _whole(**counts: int) -> None:
    for name, count in counts.items():
        if isinstance(count, bool) or not (isinstance(count, int) and count >= 1):
            raise Impossible(name, "must be a whole number from 1")


def _standing(start: Start, celsius: float) -> State:
    ratio = humidity_ratio(celsius, start.air_pct)
    return State(celsius, celsius, celsius, celsius, ratio, start.soil_water_l, 0.0, start.reservoir_l)


def _network(box: Enclosure, schedule: Schedule) -> Network:
    room = schedule.room
    celsius, pct = (room.day_c + room.night_c) / 2, (room.day_pct + room.night_pct) / 2
    ratio = humidity_ratio(celsius, pct)
    return network(box, schedule.heater, room_c=celsius, room_ratio=ratio)


def _settled(net: Network, clock: Timeline, mister: Mister | None, start: Start) -> State:
    """The state at midnight after days like this one, with the water of the start."""
    mean = mean_forcing(clock)
    state = _standing(start, mean.room_c)._replace(ratio=mean.room_ratio)
    water = {"soil_l": start.soil_water_l, "reservoir_l": start.reservoir_l}
    for _ in range(SETTLING_LEAPS):
        leap = balance.moved(net, state, mean, SETTLING_LEAP_S)
        state = balance.applied(net, state, leap)._replace(film_l=0.0, **water)
    for _ in range(SETTLING_DAYS):
        for step in clock.steps:
            state = _next(net, mister, state, step)[0]
        state = state._replace(**water)
    return state


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
