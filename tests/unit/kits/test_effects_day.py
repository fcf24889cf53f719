"""The simulated day of a build: what it is judged by."""

from dataclasses import replace

import numpy as np
import pytest

from kits.documents.pictures import REPEATS, Sight, pictured
from kits.effects.whole_day import whole_day
from kits.physics.day import simulate
from tests.day_boxes import CASES
from tests.documents.papers import crested
from tests.full_shelf import CRESTED, DESERT
from tests.lit_shelf import build_of

HAND = {"mister": [{"kind": "hand", "tank_l": 1}]}


def night_of(spec, *, room_c, watts):
    room = {"temperature_c": 21, "night_temperature_c": room_c, "relative_humidity_pct": 45}
    day = whole_day(build_of({**spec, "room": room}), {**HAND, "night_heat": [{"watts": watts}]})
    return day, day.checks[1]


@pytest.mark.parametrize("spec", [CRESTED, DESERT], ids=["crested", "desert"])
@pytest.mark.parametrize(("room_c", "watts"), [(14, 40), (16, 20)])
def test_a_heater_that_has_power_to_spare_leaves_no_night_below_the_band(spec, room_c, watts):
    day, night = night_of(spec, room_c=room_c, watts=watts)
    assert 0 < day.curve.heater_duty.max() < 1
    assert night.share_below == 0


def test_a_heater_at_the_end_of_its_power_is_told_by_the_night_below_the_band():
    day, night = night_of(CRESTED, room_c=10, watts=20)
    assert day.curve.heater_duty.max() == 1
    assert night.share_below > 0.5


def test_a_box_of_deep_soil_is_judged_once_its_day_repeats_itself():
    sides = {"width": 1800, "depth": 900, "height": 900}
    deep = {"drainage": 0, "substrate_front": 400, "substrate_back": 400, "litter": 0}
    room = {"temperature_c": 22, "night_temperature_c": 14, "relative_humidity_pct": 45}
    spec = {**DESERT, "enclosure": {"interior_mm": sides}, "depths_mm": deep, "room": room, "perches_mm": []}
    lamp = {"watts": 150, "cap": "E26", "kind": "halogen"}
    equipment = {"basking_lamp": [lamp], "night_heat": [{"watts": 200}]}
    curve = whole_day(build_of(spec), equipment, days=4).curve
    midnights = curve.soil_c[:: 24 * 60]
    assert np.ptp(midnights) < 0.1


def test_a_day_tells_whether_it_repeats_itself_and_the_picture_says_so():
    day, _ = night_of(CRESTED, room_c=16, watts=20)
    assert day.settled
    rising = day.curve.air_c + np.linspace(0, 0.5, len(day.curve.air_c))
    assert not replace(day, curve=replace(day.curve, air_c=rising)).settled
    picture = pictured("day", Sight(build_of(CRESTED), crested()[1], HAND))
    assert picture is not None
    assert picture.sentences[0] == REPEATS


def test_a_fortnight_tells_what_becomes_of_the_water():
    picture = pictured("fortnight", Sight(build_of(CRESTED), crested()[1], HAND))
    days = whole_day(build_of(CRESTED), HAND, days=14)
    assert (len(days.curve.minutes), days.curve.minutes[-1]) == (14 * 48 + 1, 14 * 1440)
    water = days.curve.soil_water_l
    assert all(f"({litres:.1f} L)" in picture.sentences[0] for litres in (water[0], water[-1]))
    assert f"{water[-1] / days.soil_holds_l:.0%} of what it can" in picture.sentences[0]


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_long_runs_with_long_steps_stay_on_the_curve_of_short_ones(case):
    def run(refine):
        return simulate(
            case.box, schedule=case.schedule, start=case.start, days=3, report_min=30, refine=refine
        )

    long, short = run(1), run(5)
    for name in ("air_c", "glass_c", "soil_c"):
        assert np.abs(getattr(long, name) - getattr(short, name)).max() < 0.05
    assert np.abs(long.humidity_pct - short.humidity_pct).max() < 0.5
    assert long.soil_water_l[-1] == pytest.approx(short.soil_water_l[-1], abs=0.001)
