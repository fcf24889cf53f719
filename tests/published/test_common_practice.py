"""Wide bands of common practice, none of them with a source: what a keeper would find sane."""

import pytest

from kits.documents.content import Heading
from kits.documents.filling import Told, fill
from kits.effects import season
from kits.effects.whole_day import LIGHT_H, whole_day
from kits.planning.registry import ROLES
from tests.full_shelf import CRESTED, DESERT
from tests.lit_shelf import build_of, fit, line_of, plan_of, read, spot, tube

SMALL_DAY_GECKOS = ("phelsuma-laticauda", "phelsuma-klemmeri")
ROOM = {"temperature_c": 22, "night_temperature_c": 17, "relative_humidity_pct": 45}


def sheet_of(data):
    plan = plan_of(data)
    heading = Heading(shop="Saltmoss Vivaria", town="Quillhaven", number="", version=1, date="2026-11-25")
    return fill(plan.as_json(), build_of(data), Told(heading))


def steps_of(data):
    return " ".join(step.text for step in sheet_of(data).steps)


def gecko(species):
    box = {"size": "45x45x60-glass"}
    return {"enclosure": box, "animals": [{"species": species}], "style": "humid-forest", "room": ROOM}


@pytest.mark.parametrize("style", ["humid-forest", "seasonal-forest"])
def test_tropical_kits_have_twelve_hours_of_light_and_twelve_of_dark(style):
    (light,) = (fact.value for fact in sheet_of({**CRESTED, "style": style}).settings if fact.name == "Light")
    assert light == "12 h on, 12 h dark"
    assert (season.USUAL_H, LIGHT_H[1] - LIGHT_H[0]) == (12, 12)


def test_a_box_with_humidity_in_peaks_is_misted_once_or_twice_a_day():
    build = build_of(CRESTED)
    plan = plan_of(CRESTED)
    spray = {"kind": "hand", "tank_l": 1}
    assert build.occupants[0].subject.text("rh_pattern") == "cycling"
    assert 1 <= len(whole_day(build, {"mister": [spray]}).mist_hours) <= 2
    assert line_of(plan, "mister").figures["misting_min_day"] < 15


@pytest.mark.parametrize("species", SMALL_DAY_GECKOS)
def test_small_day_geckos_bask_near_33_to_35_with_nights_of_18_to_22(species):
    plan = plan_of(gecko(species))
    climate = build_of(gecko(species)).climate
    assert 31 <= plan.figures["basking_surface_c"] <= 37
    assert (climate.night_lo_c, climate.night_hi_c) == (18, 22)
    assert 0 < plan.figures["heat_needed_w"] < 40  # one kelvin in a small box


@pytest.mark.parametrize(
    "figures", [read(3.0), {**tube(zones=[1]), "life_days": None}, {**tube(), "life_days": 0}]
)
def test_uvb_tubes_are_measured_or_replaced_after_eight_to_twelve_months(figures):
    reminders = ROLES["uvb_lamp"].reminders(build_of(CRESTED), figures)
    assert [240 <= reminder.every_days <= 366 for reminder in reminders] == [True]


def test_of_heat_lamps_the_lower_wattage_comes_first_and_the_sheet_says_so():
    heads = [(watts, fit("basking_lamp", spot(watts), DESERT).passes) for watts in (25, 50, 75, 100)]
    lowest = next(watts for watts, passes in heads if passes)
    assert line_of(plan_of(DESERT), "basking_lamp").item == f"WARM-{lowest}"
    assert "begin with the one of fewer watts, dimmed, and work up" in steps_of(DESERT)
    assert "fewer watts" not in steps_of(CRESTED)


def test_prey_is_no_larger_than_the_gap_between_the_eyes_where_insects_are_eaten():
    snake = {**gecko("heterodon-nasicus"), "style": "deep-soil"}
    assert "no larger than the gap between the animal's eyes" in steps_of(CRESTED)
    assert "gap between" not in steps_of(snake)
