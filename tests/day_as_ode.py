"""The simulated day written a second time, as an ordinary differential equation for a stiff solver."""

from itertools import pairwise

import numpy as np
from scipy.integrate import solve_ivp

from kits.physics.day_schedule import is_on, room_at

LATENT = 2.4452e6
AIR_HEAT = 1020.0
WET = 3.0 / AIR_HEAT


def ratio(celsius, pct=100.0):
    """Humidity ratio by the saturation over water of Hyland and Wexler (1983), at 101,325 Pa."""
    t = celsius + 273.15
    log = -5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t**2 - 1.4452093e-8 * t**3
    vapour = pct / 100 * np.exp(log + 6.5459673 * np.log(t))
    return 0.621945 * vapour / (101325 - vapour)


def solved(case, *, dry_air_kg, minutes):
    """Air, glass, soil, probe, humidity ratio, soil water, drops and reservoir at each minute."""
    start, box = case.start, case.box
    state = [start.air_c] * 4 + [
        ratio(start.air_c, start.air_pct),
        start.soil_water_l,
        0.0,
        start.reservoir_l,
    ]
    edges = sorted({0.0, 24.0} | case.schedule.edges_h())
    curve = [np.array(state)[:, None]]
    for begin, end in pairwise(edges):
        state = sprayed(case, begin, state)
        at = minutes[(minutes > begin * 60 + 1e-6) & (minutes < end * 60 - 1e-6)] * 60
        run = solve_ivp(
            rates, (begin * 3600, end * 3600), state, "Radau", t_eval=[*at, end * 3600],
            args=(case, (begin + end) / 2, dry_air_kg), rtol=1e-7, atol=1e-9, max_step=300,
        )  # fmt: skip
        state = run.y[:, -1]
        curve.append(run.y[:, np.isin(np.round(run.t, 3), np.round(minutes * 60, 3))])
    assert box.reservoir_capacity_l >= state[-1]
    return np.hstack(curve)


def sprayed(case, hour, state):
    """What a misting adds; drops beyond 0.1 mm on leaves and ground fall to the soil."""
    mister, box, state = case.schedule.mister, case.box, np.array(state)
    for _ in range(mister.times_h.count(hour)):
        hanging = min(
            mister.litres_per_event * mister.evaporating_share,
            0.1 * (box.leaf_area_m2 + box.floor_area_m2) - state[6],
        )
        drained = mister.litres_per_event * mister.drain_share
        state[5:] += [mister.litres_per_event - drained - hanging, hanging, drained]
    return state


def rates(seconds, state, case, switched_at_h, dry_air_kg):
    """Rate of every store; what is switched stands as at an hour in the middle of the span."""
    box, heater = case.box, case.schedule.heater
    air, glass, soil, probe, w, soil_l, _, _ = state
    room_c, room_pct = room_at(case.schedule.room, np.array(seconds / 3600))
    lamp_air, lamp_glass, lamp_soil, klux = lamps_at(case.schedule.lamps, switched_at_h)
    heat = heater.watts * duty(heater, probe, switched_at_h)
    water = vapour(box, state, klux, dry_air_kg)
    changes = box.air_changes_h + box.buoyant_changes_h * np.hypot(air - room_c, 0.1) ** box.buoyancy_exponent
    vent = dry_air_kg * changes / 3600
    to_glass = box.wall_area_m2 / (box.inside_film_m2k_w + box.pane_m2k_w / 2) * (air - glass)
    to_room = box.wall_area_m2 / (box.outside_film_m2k_w + box.pane_m2k_w / 2) * (glass - room_c)
    to_air = box.floor_area_m2 / box.soil_film_m2k_w * (soil - air)
    lost = (box.top_area_m2 * box.top_u_w_m2k + vent * AIR_HEAT) * (air - room_c)
    lost_below = box.floor_area_m2 * box.floor_u_w_m2k * (soil - room_c)
    from_soil, leaves, drops, dew, fog = water
    drained = max(0.0, soil_l - box.container_capacity_l) / 900
    heat_air = (
        lamp_air + heat * (1 - heater.soil_share) - to_glass + to_air - lost - LATENT * (leaves + drops - fog)
    )
    heat_soil = lamp_soil + heat * heater.soil_share - to_air - lost_below - LATENT * from_soil
    return [
        heat_air / (dry_air_kg * AIR_HEAT),
        (to_glass - to_room + lamp_glass + LATENT * dew) / box.wall_capacity_j_k,
        heat_soil / box.soil_capacity_j_k,
        (air - probe) / heater.probe_lag_s,
        (from_soil + leaves + drops - dew - fog - vent * (w - ratio(room_c, room_pct))) / dry_air_kg,
        dew + fog - from_soil - leaves - drained,
        -drops,
        drained,
    ]


def vapour(box, state, klux, dry_air_kg):
    """Evaporation from soil, leaves and drops, dew on the glass, and fog that settles in a second [kg/s]."""
    air, glass, soil, _, w, soil_l, film_l, _ = state
    free_l = (box.container_capacity_l - box.dry_limit_l) / 2
    wetness = np.clip((soil_l - box.dry_limit_l) / free_l, 0, 1)
    wettable = box.leaf_area_m2 + box.floor_area_m2
    stomata = min(4000.0, 4000.0 / klux) if klux else 4000.0
    leaf = dry_air_kg / box.volume_m3 * box.leaf_area_m2 / (stomata + 100)
    return (
        WET * box.floor_area_m2 * box.evaporation_factor * wetness * (ratio(soil) - w),
        leaf * wetness * (ratio(air) - w),
        WET * wettable * film_l / (0.1 * wettable) * (ratio(air) - w),
        WET * box.wall_area_m2 * max(0.0, w - ratio(glass)),
        dry_air_kg * max(0.0, w - ratio(air)),
    )


def lamps_at(lamps, hour):
    """Watts to air, glass and soil and the light of the lamps that are on."""
    on = [lamp for lamp in lamps if is_on(np.array(hour), lamp.from_h, lamp.until_h)]
    return (
        sum(lamp.watts * lamp.air_share for lamp in on),
        sum(lamp.watts * lamp.glass_share for lamp in on),
        sum(lamp.watts * lamp.soil_share for lamp in on),
        sum(lamp.leaf_klux for lamp in on),
    )


def duty(heater, probe_c, hour):
    """Duty of the proportional band."""
    by_day = is_on(np.array(hour), heater.day_from_h, heater.day_until_h)
    target_c = heater.day_c if by_day else heater.night_c
    return np.clip((target_c + heater.band_k / 2 - probe_c) / heater.band_k, 0, 1)
