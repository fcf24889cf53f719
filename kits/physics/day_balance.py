"""Heat and water of a planted box over one step: each exchange is worked out once and joins two stores.

A step is linearly implicit: conductances stand as they are at its start, differences as they are at its end,
so that the seconds of the air and the hours of the soil live with the same step. Switches (the limits of the
thermostat, dew on the glass, fog) are tried again until they agree with the end of the step. Twice two half
steps less one whole step makes it second order; as amounts are combined and not states, nothing is lost.
"""

from typing import NamedTuple

from kits.physics.day_box import EVAPORATION_J_KG, Amounts, Network, State, saturation
from kits.physics.day_schedule import Forcing, Step

# Time in which water above container capacity runs through the soil: estimate.
DRAIN_S = 900.0
# Time in which fog settles: anything far below a step.
FOG_S = 1.0
# Difference from the room below which moist air and draughts keep the exchange from stopping: estimate.
STILL_K = 0.1
TRIES = 6


class Faces(NamedTuple):
    """Saturation at the three faces with its slope, and the water at hand, at the start of a step."""

    air_sat: float
    air_slope: float
    glass_sat: float
    glass_slope: float
    soil_sat: float
    soil_slope: float
    usable_l: float
    wetness: float
    film_l: float


class Moment(NamedTuple):
    """Everything that one linearly implicit step starts from."""

    net: Network
    state: State
    faces: Faces
    act: Forcing
    seconds: float


class Exchange(NamedTuple):
    """Conductances of one step to the room by moving air, and for vapour from soil, leaves and drops."""

    vent_kg_s: float
    soil_kg_s: float
    leaf_kg_s: float
    film_kg_s: float


class Switches(NamedTuple):
    """Which limits hold at the end of a step: dew on the glass, fog in the air, the heater's duty."""

    dew: bool
    fog: bool
    heating: int  # -1 off, 0 within the band, 1 full


class Change(NamedTuple):
    """The solution of one step: changes of air, glass, soil and humidity, and the duty."""

    air_k: float
    glass_k: float
    soil_k: float
    ratio: float
    duty: float


UNCHANGED = Change(0.0, 0.0, 0.0, 0.0, 0.0)


def duty_at(net: Network, probe_c: float, target_c: float) -> float:
    """Share of its watts that the heater gives."""
    return min(1.0, max(0.0, (target_c + net.band_k / 2 - probe_c) / net.band_k))


def advance(net: Network, state: State, step: Step) -> tuple[State, Amounts]:
    """The box one step later and what moved meanwhile."""
    half = step.seconds / 2
    faces = _faces(net, state)
    start = Moment(net, state, faces, step.middle, half)
    first, before = _moved(start, _switches(start, UNCHANGED))
    middle = applied(net, state, first)
    second, after = _moved(Moment(net, middle, _faces(net, middle), step.end, half), before)
    whole, over_all = _moved(Moment(net, state, faces, step.end, step.seconds), after)
    # Where something switches within the step the error is no longer smooth, and only half steps are sound.
    if before == after == over_all:
        amounts = Amounts._make([2 * (a + b) - c for a, b, c in zip(first, second, whole, strict=True)])
    else:
        amounts = Amounts._make([a + b for a, b in zip(first, second, strict=True)])
    reached = applied(net, state, amounts)
    fog_l = _excess_l(net, reached)
    if fog_l > 0:
        amounts = amounts._replace(fog_l=amounts.fog_l + fog_l)
        reached = applied(net, state, amounts)
    return reached, amounts


def moved(net: Network, state: State, act: Forcing, seconds: float) -> Amounts:
    """What moves during one linearly implicit step."""
    moment = Moment(net, state, _faces(net, state), act, seconds)
    return _moved(moment, _switches(moment, UNCHANGED))[0]


def applied(net: Network, state: State, a: Amounts) -> State:
    """The state after these amounts moved."""
    leaf_l = a.transpired_l + a.from_film_l
    soil_heater_j = a.heater_j * net.heater_soil_share
    air_j = (
        a.lamp_air_j + a.heater_j - soil_heater_j - a.air_to_glass_j + a.soil_to_air_j
        - a.top_to_room_j - a.vented_j - EVAPORATION_J_KG * (leaf_l - a.fog_l)
    )  # fmt: skip
    glass_j = a.lamp_glass_j + a.air_to_glass_j - a.glass_to_room_j + EVAPORATION_J_KG * a.dew_l
    soil_j = (
        a.lamp_soil_j + soil_heater_j - a.soil_to_air_j - a.soil_to_room_j - EVAPORATION_J_KG * a.from_soil_l
    )
    vapour_l = a.from_soil_l + leaf_l - a.dew_l - a.fog_l - a.carried_l
    soil_l = a.dew_l + a.fog_l - a.from_soil_l - a.transpired_l - a.drained_l
    return State(
        state.air_c + air_j / net.air_j_k,
        state.glass_c + glass_j / net.glass_j_k,
        state.soil_c + soil_j / net.soil_j_k,
        state.probe_c + a.probe_k,
        state.ratio + vapour_l / net.dry_air_kg,
        state.soil_l + soil_l,
        state.film_l - a.from_film_l,
        state.reservoir_l + a.drained_l,
    )


def _moved(moment: Moment, switches: Switches) -> tuple[Amounts, Switches]:
    """What moves, and the switches as they were found at the end; the first guess of them is given."""
    exchange = _exchange(moment)
    for _ in range(TRIES):
        change = _solve(moment, exchange, switches)
        found = _switches(moment, change)
        if found == switches:
            break
        # From one limit to the other: the band between them decides, for less heat always asks for more.
        switches = found if found.heating * switches.heating >= 0 else found._replace(heating=0)
    return _amounts(moment, exchange, switches, change), switches


def _faces(net: Network, state: State) -> Faces:
    table, usable = net.saturated, max(0.0, state.soil_l - net.dry_l)
    return Faces(
        *saturation(table, state.air_c),
        *saturation(table, state.glass_c),
        *saturation(table, state.soil_c),
        usable,
        min(1.0, usable / net.free_l) if net.free_l else 0.0,
        max(0.0, state.film_l),
    )


def _exchange(moment: Moment) -> Exchange:
    net, state, faces, act, seconds = moment
    changes = net.changes_s
    if net.buoyant_s:
        warmer = state.air_c - act.room_c
        changes += net.buoyant_s * (warmer * warmer + STILL_K * STILL_K) ** net.half_exponent
    soil_kg_s = net.wet_soil_kg_s * faces.wetness
    leaf_kg_s = act.leaf_m3_s * net.dry_air_kg_m3 * faces.wetness
    lack = max(0.0, faces.air_sat - state.ratio)
    # A store that a step would empty gives way as it empties: the share that is kept leaves it above nothing.
    drawn = seconds * (soil_kg_s * max(0.0, faces.soil_sat - state.ratio) + leaf_kg_s * lack)
    kept = faces.usable_l / (faces.usable_l + drawn) if drawn else 1.0
    film_kg_s = net.wet_film_kg_s * faces.film_l / (net.film_full_l + net.wet_film_kg_s * lack * seconds)
    return Exchange(net.dry_air_kg * changes, soil_kg_s * kept, leaf_kg_s * kept, film_kg_s)


def _switches(moment: Moment, change: Change) -> Switches:
    net, state, faces, act, seconds = moment
    ratio = state.ratio + change.ratio
    dew = ratio > faces.glass_sat + faces.glass_slope * change.glass_k
    fog = ratio > faces.air_sat + faces.air_slope * change.air_k
    if not net.heater_w:
        return Switches(dew, fog, -1)
    probe_c = state.probe_c + (state.air_c + change.air_k - state.probe_c) * seconds / (net.lag_s + seconds)
    duty = (act.target_c - probe_c) / net.band_k + 0.5
    return Switches(dew, fog, -1 if duty <= 0 else 1 if duty >= 1 else 0)


def _duty(moment: Moment, heating: int) -> tuple[float, float]:
    """Duty of the heater were the air to stay, and its change per kelvin of the air."""
    if heating:
        return float(heating > 0), 0.0
    net, state, _, act, seconds = moment
    per_k = -seconds / (net.lag_s + seconds) / net.band_k
    return (act.target_c - state.probe_c) / net.band_k + 0.5 + per_k * (state.air_c - state.probe_c), per_k


def _solve(moment: Moment, exchange: Exchange, on: Switches) -> Change:
    """The changes of air (x), glass, soil and humidity (v): four equations, two put into the others."""
    net, state, faces, act, seconds = moment
    air_c, glass_c, soil_c, _, ratio = state[:5]
    room_c, inside = act.room_c, net.inside_w_k
    dew = net.wet_glass_kg_s if on.dew else 0.0
    at_air = exchange.leaf_kg_s + exchange.film_kg_s + (net.dry_air_kg / FOG_S if on.fog else 0.0)
    duty, duty_k = _duty(moment, on.heating)
    heater_soil = net.heater_w * net.heater_soil_share
    heater_air = net.heater_w - heater_soil
    through = net.top_w_k + exchange.vent_kg_s * net.air_j_kg_k
    glass_x, glass_v = inside, EVAPORATION_J_KG * dew
    soil_x, soil_v = net.soil_w_k + heater_soil * duty_k, EVAPORATION_J_KG * exchange.soil_kg_s
    air_v = EVAPORATION_J_KG * at_air
    to_glass, to_air = inside * (air_c - glass_c), net.soil_w_k * (soil_c - air_c)
    soil_lack, air_lack, over = faces.soil_sat - ratio, faces.air_sat - ratio, ratio - faces.glass_sat

    glass_d = net.glass_j_k / seconds + inside + net.outside_w_k + glass_v * faces.glass_slope
    glass_r = (to_glass - net.outside_w_k * (glass_c - room_c) + act.glass_w + glass_v * over) / glass_d
    soil_d = net.soil_j_k / seconds + net.soil_w_k + net.floor_w_k + soil_v * faces.soil_slope
    soil_r = act.soil_w + heater_soil * duty - to_air - net.floor_w_k * (soil_c - room_c) - soil_v * soil_lack
    soil_r /= soil_d
    air_d = (
        net.air_j_k / seconds
        + inside
        + net.soil_w_k
        + through
        + air_v * faces.air_slope
        - heater_air * duty_k
    )
    air_r = act.air_w + heater_air * duty - to_glass + to_air - through * (air_c - room_c) - air_v * air_lack
    wet_d = net.dry_air_kg / seconds + exchange.soil_kg_s + at_air + dew + exchange.vent_kg_s
    wet_r = exchange.soil_kg_s * soil_lack + at_air * air_lack - dew * over
    wet_r -= exchange.vent_kg_s * (ratio - act.room_ratio)

    glass_x, glass_v, soil_x, soil_v = glass_x / glass_d, glass_v / glass_d, soil_x / soil_d, soil_v / soil_d
    wet_glass, wet_soil = dew * faces.glass_slope, exchange.soil_kg_s * faces.soil_slope
    x, v = _pair(
        (air_d - inside * glass_x - net.soil_w_k * soil_x, -air_v - inside * glass_v - net.soil_w_k * soil_v),
        (-at_air * faces.air_slope - wet_glass * glass_x - wet_soil * soil_x,
         wet_d - wet_glass * glass_v - wet_soil * soil_v),
        (air_r + inside * glass_r + net.soil_w_k * soil_r, wet_r + wet_glass * glass_r + wet_soil * soil_r),
    )  # fmt: skip
    return Change(
        x, glass_r + glass_x * x + glass_v * v, soil_r + soil_x * x + soil_v * v, v, duty + duty_k * x
    )


def _pair(
    first: tuple[float, float], second: tuple[float, float], right: tuple[float, float]
) -> tuple[float, float]:
    (a, b), (c, d), (e, f) = first, second, right
    below = a * d - b * c
    return (e * d - b * f) / below, (a * f - c * e) / below


def _amounts(moment: Moment, exchange: Exchange, on: Switches, change: Change) -> Amounts:
    net, state, faces, act, seconds = moment
    air_c, glass_c = state.air_c + change.air_k, state.glass_c + change.glass_k
    soil_c, ratio = state.soil_c + change.soil_k, state.ratio + change.ratio
    air_lack = faces.air_sat + faces.air_slope * change.air_k - ratio
    soil_lack = faces.soil_sat + faces.soil_slope * change.soil_k - ratio
    over = ratio - faces.glass_sat - faces.glass_slope * change.glass_k
    warmer = air_c - act.room_c
    above = state.soil_l - net.capacity_l
    return Amounts(
        air_to_glass_j=net.inside_w_k * (air_c - glass_c) * seconds,
        glass_to_room_j=net.outside_w_k * (glass_c - act.room_c) * seconds,
        soil_to_air_j=net.soil_w_k * (soil_c - air_c) * seconds,
        soil_to_room_j=net.floor_w_k * (soil_c - act.room_c) * seconds,
        top_to_room_j=net.top_w_k * warmer * seconds,
        vented_j=exchange.vent_kg_s * net.air_j_kg_k * warmer * seconds,
        heater_j=net.heater_w * change.duty * seconds,
        lamp_air_j=act.air_w * seconds,
        lamp_glass_j=act.glass_w * seconds,
        lamp_soil_j=act.soil_w * seconds,
        probe_k=seconds / (net.lag_s + seconds) * (air_c - state.probe_c),
        from_soil_l=exchange.soil_kg_s * soil_lack * seconds,
        transpired_l=exchange.leaf_kg_s * air_lack * seconds,
        from_film_l=exchange.film_kg_s * air_lack * seconds,
        dew_l=net.wet_glass_kg_s * over * seconds if on.dew else 0.0,
        fog_l=-net.dry_air_kg / FOG_S * air_lack * seconds if on.fog else 0.0,
        carried_l=exchange.vent_kg_s * (ratio - act.room_ratio) * seconds,
        drained_l=above * seconds / (DRAIN_S + seconds) if above > 0 else 0.0,
    )


def _excess_l(net: Network, state: State) -> float:
    """Water that air above saturation lets go, the heat of which warms it."""
    per_kg = EVAPORATION_J_KG / net.air_j_k
    water = 0.0
    for _ in range(3):
        ratio, slope = saturation(net.saturated, state.air_c + per_kg * water)
        over = state.ratio - water / net.dry_air_kg - ratio
        if water == 0.0 and over <= 0:
            return 0.0
        water += over / (1 / net.dry_air_kg + slope * per_kg)
    return water
