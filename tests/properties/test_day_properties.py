"""What holds for every simulated box: nothing is lost, nothing is negative, and warmth follows warmth."""

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from kits.physics.day import simulate
from kits.physics.day_parts import Heater, Lamp, Mister, RoomDay, Start, box_of
from kits.physics.day_schedule import Schedule, room_at

SOME = settings(max_examples=25, deadline=None)
HOURS = st.integers(0, 95).map(lambda quarter: quarter / 4)
SHARES = st.floats(0, 1)


def between(low, high):
    return st.floats(low, high).map(lambda value: round(value, 3))


@st.composite
def boxes(draw):
    box = box_of(
        (draw(between(0.2, 1.8)), draw(between(0.2, 0.9)), draw(between(0.3, 1.2))),
        u_w_m2k=(draw(between(0.8, 6)), draw(between(0.5, 10)), draw(between(0.5, 4))),
        air_changes_h=draw(between(0, 60)),
        soil_depth_m=draw(between(0.02, 0.25)),
        leaf_area_m2=draw(between(0, 3)),
        wall_kg_m2=draw(between(2, 25)),
    )
    return replace(box, buoyant_changes_h=draw(between(0, 10)))


@st.composite
def lamps(draw, floor_m2):
    """Lamps of up to 50 W on each square metre: several times that on deep soil would boil its water."""
    begins, span = draw(HOURS), draw(st.integers(1, 95)) / 4
    soil = draw(SHARES)
    return Lamp(
        watts=draw(between(0, 50)) * floor_m2, from_h=begins, until_h=(begins + span) % 24,
        soil_share=soil, air_share=(1 - soil) * draw(SHARES), leaf_klux=draw(between(0, 40)),
    )  # fmt: skip


@st.composite
def schedules(draw, floor_m2):
    mister = Mister(
        litres_per_event=draw(between(0, 0.4)), times_h=tuple(draw(st.lists(HOURS, max_size=4))),
        evaporating_share=draw(between(0, 0.6)), drain_share=draw(between(0, 0.4)),
    )  # fmt: skip
    heater = Heater(
        watts=draw(between(0, 80)) * floor_m2, day_c=draw(between(15, 35)), night_c=draw(between(10, 30)),
        band_k=draw(between(0.1, 3)), probe_lag_s=draw(between(5, 900)), soil_share=draw(between(0, 1)),
    )  # fmt: skip
    room = RoomDay(
        day_c=draw(between(10, 32)), night_c=draw(between(5, 28)),
        day_pct=draw(between(5, 95)), night_pct=draw(between(5, 95)), ramp_h=draw(between(0.25, 4)),
    )  # fmt: skip
    return Schedule(
        room=room, lamps=tuple(draw(st.lists(lamps(floor_m2), max_size=2))), heater=heater, mister=mister
    )


@st.composite
def scheduled_boxes(draw):
    box = draw(boxes())
    return box, draw(schedules(box.floor_area_m2))


@st.composite
def days(draw):
    """A box, its schedule, and the curve of its day."""
    box, schedule = draw(scheduled_boxes())
    start = Start(
        soil_water_l=draw(between(0, 1.3)) * box.container_capacity_l,
        reservoir_l=draw(between(0, 1)) * box.reservoir_capacity_l,
        air_c=draw(st.none() | between(5, 35)),
    )
    return box, schedule, simulate(box, schedule=schedule, start=start)


@SOME
@given(days())
def test_heat_that_came_in_went_out_or_is_stored(day):
    _, _, curve = day
    t = curve.totals
    out = t.walls_j + t.top_j + t.floor_j + t.ventilation_j + t.latent_j
    came = t.lamps_j + t.heater_j
    flows = (came, t.walls_j, t.top_j, t.floor_j, t.ventilation_j, t.latent_j)
    assert abs(came - out - curve.stored_j) <= 1e-6 * sum(map(abs, flows))


@SOME
@given(days())
def test_the_heat_stored_is_that_of_the_temperatures_shown(day):
    box, _, curve = day
    rise = [float(values[-1] - values[0]) for values in (curve.air_c, curve.glass_c, curve.soil_c)]
    stores = (1020 * curve.dry_air_kg, box.wall_capacity_j_k, box.soil_capacity_j_k)
    assert abs(np.dot(rise, stores) - curve.stored_j) <= 1e-6 * max(1.0, float(np.abs(rise) @ stores))


@SOME
@given(days())
def test_water_that_came_in_went_out_or_is_stored(day):
    _, _, curve = day
    t = curve.totals
    out = t.carried_away_l + t.overflowed_l
    there = float(curve.soil_water_l[0] + curve.reservoir_l[0])
    assert abs(t.misted_l - out - curve.stored_l) <= 1e-6 * (
        there + t.misted_l + abs(t.carried_away_l) + 1e-3
    )


@SOME
@given(days())
def test_water_leaves_the_soil_by_the_ways_that_are_told(day):
    _, schedule, curve = day
    t, mister = curve.totals, schedule.mister
    gained = sum(
        float(values[-1] - values[0])
        for values in (curve.soil_water_l, curve.film_water_l, curve.reservoir_l)
    )
    told = t.misted_l - t.evaporated_l + t.condensed_l - t.overflowed_l
    assert abs(gained - told) <= 1e-6 * (1 + t.misted_l + abs(t.evaporated_l) + t.condensed_l)
    assert t.drained_l >= t.misted_l * mister.drain_share - 1e-9


@SOME
@given(days())
def test_nothing_is_negative_and_no_air_is_wetter_than_saturated(day):
    box, _, curve = day
    for values in (curve.soil_water_l, curve.film_water_l, curve.reservoir_l, curve.humidity_pct):
        assert values.min() >= -1e-12
    assert curve.humidity_pct.max() <= 100 + 1e-6
    assert curve.reservoir_l.max() <= box.reservoir_capacity_l + 1e-9
    assert curve.totals.condensed_l >= -1e-9
    assert curve.totals.heater_j >= -1e-6


@SOME
@given(days())
def test_temperatures_stay_between_the_wet_bulb_of_the_room_and_what_the_watts_can_lift(day):
    """Wet faces cool by no more than a wet bulb, less than 20 K here; watts lift by watts over losses."""
    box, schedule, curve = day
    room_c, _ = room_at(schedule.room, curve.minutes / 60)
    first = [values[0] for values in (curve.air_c, curve.glass_c, curve.soil_c)]
    watts = schedule.heater.watts + sum(lamp.watts for lamp in schedule.lamps)
    least_w_k = box.floor_area_m2 * min(box.floor_u_w_m2k, box.top_u_w_m2k)
    for values in (curve.air_c, curve.glass_c, curve.soil_c):
        assert values.min() >= min(room_c.min() - 20, *first)
        assert values.max() <= max(room_c.max(), *first) + watts / least_w_k + 20


def warmed(schedule, kelvin):
    room = schedule.room
    return replace(schedule, room=replace(room, day_c=room.day_c + kelvin, night_c=room.night_c + kelvin))


@SOME
@given(scheduled_boxes(), between(0.5, 8))
def test_a_warmer_room_makes_a_warmer_dry_box_without_thermostat(scheduled, kelvin):
    box, schedule = scheduled
    dry = replace(box, container_capacity_l=0, dry_limit_l=0)
    schedule = replace(schedule, mister=None, heater=None)
    cool, warm = (
        simulate(dry, schedule=one, start=Start(soil_water_l=0))
        for one in (schedule, warmed(schedule, kelvin))
    )
    for name in ("air_c", "glass_c", "soil_c"):
        assert (getattr(warm, name) - getattr(cool, name)).min() > -0.05


@SOME
@given(scheduled_boxes())
def test_more_misting_leaves_no_less_water_in_the_box(scheduled):
    box, schedule = scheduled
    start = Start(soil_water_l=box.container_capacity_l / 2)
    mister = replace(schedule.mister, litres_per_event=2 * schedule.mister.litres_per_event)
    some, more = (
        simulate(box, schedule=one, start=start) for one in (schedule, replace(schedule, mister=mister))
    )
    kept = [curve.stored_l + curve.totals.overflowed_l for curve in (some, more)]
    assert kept[1] >= kept[0] - 1e-3
