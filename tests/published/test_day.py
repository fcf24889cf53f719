"""The simulated day against cases solved on paper; tests/properties has it against a stiff solver."""

from dataclasses import replace

import numpy as np
import pytest

from inventory.calc.errors import Impossible
from kits.physics.air import humidity_ratio, relative_humidity_pct
from kits.physics.day import climate_summary, simulate
from kits.physics.day_box import EVAPORATION_J_KG
from kits.physics.day_parts import Bands, Enclosure, Heater, Lamp, Mister, RoomDay, Start
from kits.physics.day_schedule import Schedule, timeline
from tests.day_boxes import CASES

EVEN_ROOM = RoomDay(day_c=22, night_c=22, day_pct=45, night_pct=45)
ALWAYS = {"from_h": 0, "until_h": 24}
# 45 x 45 x 60 cm in 4 mm glass of 1.0 W/mK: films of 0.13 m2K/W, mesh top 5 W/m2K, glass on wood below.
DRY = Enclosure(
    volume_m3=0.1215, wall_area_m2=1.08, pane_m2k_w=0.004, wall_capacity_j_k=7776,
    top_area_m2=0.2025, top_u_w_m2k=5, floor_area_m2=0.2025, floor_u_w_m2k=4.1454, soil_film_m2k_w=1 / 4.1454,
    soil_capacity_j_k=8000, container_capacity_l=0, dry_limit_l=0, reservoir_capacity_l=0, air_changes_h=0,
)  # fmt: skip
EMPTY = Start(soil_water_l=0)


def day_of(case, **options):
    return simulate(case.box, schedule=case.schedule, start=case.start, **options)


# 30 W and 75 W over 5.52313 W/K: 4.0909 for the walls, 1.0125 for the mesh, 0.4197 for the floor (worked).
@pytest.mark.parametrize(("watts", "rise_k"), [(30, 5.43), (75, 13.58)])
def test_a_steady_heater_lifts_a_dry_closed_box_by_its_watts_over_its_losses(watts, rise_k):
    """At rest all heat leaves by conductances side by side, each a chain of resistances: rise = P / UA."""
    schedule = Schedule(room=EVEN_ROOM, lamps=(Lamp(watts=watts, soil_share=0, air_share=1, **ALWAYS),))
    curve = simulate(DRY, schedule=schedule, start=EMPTY)
    assert curve.air_c[-1] - 22 == pytest.approx(rise_k, abs=0.005)


def test_a_box_of_one_node_warms_exponentially():
    """One node: C dT/dt = P - UA (T - Tr), so T = Tr + P / UA (1 - exp(-UA t / C)).

    The soil is tied to the air by 0.2 million W/K and the walls are a millionth of a square metre.
    """
    thin = replace(DRY, wall_area_m2=1e-6, wall_capacity_j_k=1e-3)
    box = replace(thin, soil_film_m2k_w=1e-6, soil_capacity_j_k=20_000)
    schedule = Schedule(room=EVEN_ROOM, lamps=(Lamp(watts=20, soil_share=0.5, air_share=0.5, **ALWAYS),))
    curve = simulate(box, schedule=schedule, start=replace(EMPTY, air_c=22))
    losses_w_k = 0.2025 * (5 + 4.1454)
    capacity_j_k = 20_000 + 1020 * curve.dry_air_kg
    expected = 22 + 20 / losses_w_k * (1 - np.exp(-losses_w_k * curve.minutes * 60 / capacity_j_k))
    assert np.abs(curve.air_c - expected).max() < 0.002


def decay_error_pct(changes_h, refine):
    box = replace(DRY, air_changes_h=changes_h)
    start = replace(EMPTY, air_c=22, air_pct=80)
    curve = simulate(box, schedule=Schedule(room=EVEN_ROOM), start=start, refine=refine)
    room, first = humidity_ratio(22, 45), humidity_ratio(22, 80)
    ratios = room + (first - room) * np.exp(-changes_h * curve.minutes / 60)
    return np.abs(curve.humidity_pct - [relative_humidity_pct(22, ratio) for ratio in ratios]).max()


@pytest.mark.parametrize("changes_h", [0.5, 5, 20])
def test_the_humidity_of_a_dry_box_decays_with_its_air_changes(changes_h):
    """Only air is exchanged: m dw/dt = -m N (w - wr), so that w - wr shrinks by exp(-N t).

    A scheme of second order is to close in on it by four times with each halving of its steps.
    """
    whole, half, quarter = (decay_error_pct(changes_h, refine) for refine in (1, 2, 4))
    assert whole < 0.05
    assert half < max(1e-3, whole / 3)
    assert quarter < max(1e-3, half / 3)


# Worked from the vapour balance: 0.1 L a day at 5 air changes hold 63.2 % at 26 C in a room of 22 C and 45 %.
def test_misting_all_day_holds_the_humidity_that_the_misting_formula_inverts_to():
    """At rest what is sprayed leaves with the air: L = 24 N m (W - Wr), m = V / v of the mean air.

    The air is weighed at the mean of a day before its drops, 1 % off: 0.3 % of humidity.
    """
    every = tuple(np.arange(0, 24, 0.25))
    schedule = Schedule(
        room=EVEN_ROOM,
        heater=Heater(watts=60, day_c=26, night_c=26, band_k=0.2),
        mister=Mister(litres_per_event=0.1 / 96, times_h=every, evaporating_share=1, drain_share=0),
    )
    curve = simulate(replace(DRY, air_changes_h=5), schedule=schedule, start=EMPTY)
    ratio = humidity_ratio(22, 45) + 0.1 / (24 * 5 * curve.dry_air_kg)
    mean_c, mean_pct = curve.air_c[:-1].mean(), curve.humidity_pct[:-1].mean()
    assert mean_c == pytest.approx(26, abs=0.05)
    assert mean_pct == pytest.approx(relative_humidity_pct(mean_c, ratio), abs=0.02)
    assert mean_pct == pytest.approx(63.2, abs=0.4)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_a_day_of_minutes_takes_few_more_steps_than_minutes(case):
    clock = timeline(case.schedule, case.box, days=1, step_s=60, report_s=60)
    assert clock.reported.sum() == 1441
    assert len(clock.steps) < 1.2 * 1440


def test_a_fortnight_dries_the_soil_and_fills_the_reservoir_to_its_brim():
    case = CASES["forest"]
    curve = day_of(case, days=14, report_min=60)
    assert len(curve.minutes) == 14 * 24 + 1
    assert curve.totals.misted_l == pytest.approx(2.8)
    assert curve.reservoir_l[-1] + curve.totals.overflowed_l == pytest.approx(curve.totals.drained_l)
    assert 0 < curve.soil_water_l[-1] < curve.soil_water_l[0]


def test_misting_is_seen_in_its_minute_and_humidity_peaks_after_it():
    curve = day_of(CASES["scrub"])
    assert [
        (minute, litres) for minute, litres in zip(curve.minutes, curve.misted_l, strict=True) if litres
    ] == [(21.5 * 60, 0.05)]
    before, after = curve.humidity_pct[int(21.5 * 60)], curve.humidity_pct[int(21.5 * 60) + 30]
    assert after > before + 3


def test_the_curve_says_when_lamps_are_on_and_how_hard_the_heater_works():
    curve = day_of(CASES["scrub"])
    assert curve.lamp_shares.shape == (2, 1441)
    assert curve.lamp_shares[0, 7 * 60 - 1 : 7 * 60 + 1].tolist() == [0, 1]
    assert curve.lamp_shares[0, 21 * 60 - 1 : 21 * 60 + 1].tolist() == [1, 0]
    assert 0 <= curve.heater_duty.min() < curve.heater_duty.max() <= 1


def test_bands_tell_the_share_inside_and_the_worst_moment():
    curve = day_of(CASES["scrub"])
    bands = Bands(day_c=(25, 30), night_c=(18, 22), day_pct=(30, 60), night_pct=(0, 100))
    day, night, wet_day, wet_night = curve.against(bands)
    lit = curve.air_c[7 * 60 : 19 * 60]
    assert day.highest == lit.max()
    assert day.highest_at_min == 7 * 60 + lit.argmax()
    assert day.share_above == pytest.approx((lit > 30).mean())
    assert day.share_inside + day.share_below + day.share_above == pytest.approx(1)
    assert night.lowest < 22
    assert wet_night.worst is None
    assert wet_day.figure == "humidity"


def test_settled_days_end_as_they_began():
    for case in CASES.values():
        curve = day_of(case)
        assert curve.soil_c[-1] == pytest.approx(curve.soil_c[0], abs=0.1)
        assert curve.air_c[-1] == pytest.approx(curve.air_c[0], abs=0.1)


IMPOSSIBLE = [
    ({"width_m": 0.0}, "width_m"),
    ({"room_pct": 101}, "room_pct"),
    ({"soil_depth_m": 0.7}, "soil_depth_m"),
    ({"lamp_w": 5000}, "lamp_w"),
    ({"misting_l_day": -1}, "misting_l_day"),
    ({"room_night_c": float("nan")}, "room_night_c"),
    ({"leaf_area_m2": True}, "leaf_area_m2"),
]


@pytest.mark.parametrize(("changed", "argument"), IMPOSSIBLE)
def test_what_cannot_be_is_refused_by_name(changed, argument):
    plain = {
        "width_m": 0.45, "depth_m": 0.45, "height_m": 0.6, "wall_u": 3.788, "top_u": 5, "floor_u": 2.07,
        "air_changes_h": 5, "room_day_c": 22, "room_night_c": 19, "room_pct": 45,
    }  # fmt: skip
    with pytest.raises(Impossible) as refusal:
        climate_summary(**{**plain, **changed})
    assert refusal.value.argument == argument


# ASHRAE (from memory): 2501 - 2.326 t kJ/kg, 2445.2 at 24 C; CoolProp has 2444.0 there.
def test_the_day_takes_the_heat_of_evaporation_of_24_c():
    assert pytest.approx((2501 - 2.326 * 24) * 1000, rel=1e-4) == EVAPORATION_J_KG
    assert pytest.approx(2444.0e3, rel=1e-3) == EVAPORATION_J_KG
