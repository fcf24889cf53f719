"""The pictures of a kit: each is there when the kit has something for it, and says how the day goes."""

import re

import pytest

from kits.documents.pictures import PICTURES, Sight, all_pictured, pictured
from kits.drawings.staging import scene
from kits.drawings.svg import svg
from kits.planning.build import draft_build
from tests.full_shelf import CRESTED, DESERT, FERN_BOX, spec_of
from tests.known_facts import known_facts

TUBE = {"technology": "t5", "cap": "G5", "length_mm": 549, "watts": 24, "uvi_ref": 1.7, "uvi_ref_mm": 300}
SPOT = {"watts": 50, "cap": "E26", "beam_deg": 60}
BAR = {"kind": "bar", "length_mm": 400, "width_mm": 34, "watts": 15, "flux_umol_s": 34}
ALL = {"uvb_lamp": [TUBE], "uvb_fixture": [{}], "basking_lamp": [SPOT], "plant_light": [BAR]}


def sight(data, equipment):
    build = draft_build(spec_of(data), facts=known_facts(), owned={}).build
    return Sight(build, scene(build, [], figures=lambda line: {}), equipment)


def test_a_kit_with_all_lamps_has_every_picture():
    found = all_pictured(sight(DESERT, ALL))
    assert [picture.title for picture in found] == [
        "Where the UV reaches", "Where the basking lamp warms", "What light the plants get",
        "A day in the enclosure",
    ]  # fmt: skip


@pytest.mark.parametrize("key", [key for key in PICTURES if key != "day"])
def test_what_no_lamp_gives_has_no_picture(key):
    assert pictured(key, sight(FERN_BOX, {})) is None


def test_the_lamp_of_the_uv_map_is_drawn_as_what_it_is():
    bulb = {"technology": "mercury", "cap": "E26", "watts": 100, "uvi_ref": 5, "uvi_ref_mm": 300}
    shapes = {}
    for name, lamp in (("tube", TUBE), ("bulb", bulb)):
        drawn = svg(pictured("uv", sight(DESERT, {**ALL, "uvb_lamp": [lamp]})).drawing, name="uv", title="UV")
        shapes[name] = re.findall(
            r"<(\w+)", re.search(r'class="[^"]*lamp[^"]*"[^>]*>.*?</g>', drawn, re.S)[0]
        )
    assert "circle" in shapes["tube"]  # the end of a tube
    assert "circle" not in shapes["bulb"]


def test_a_day_without_any_lamp_is_that_of_the_room():
    picture = pictured("day", sight(FERN_BOX, {}))
    assert picture.drawing.width > 0


def test_the_day_says_what_helps_where_it_leaves_the_band():
    cold = {**CRESTED, "room": {"temperature_c": 15, "night_temperature_c": 10}}
    told = " ".join(pictured("day", sight(cold, {})).sentences)
    assert "Air below its band for 100% of the day and 100% of the night" in told
    assert "warm the room, or cover more" in told


def test_a_sheet_tells_in_words_what_a_fortnight_does_to_the_water():
    planted = sight(CRESTED, ALL)
    day = next(picture for picture in all_pictured(planted) if picture.title == "A day in the enclosure")
    fortnight = pictured("fortnight", planted)
    assert day.aside == fortnight.sentences[0]
    assert day.aside.startswith("In 14 days the water in the soil goes from ")
    assert pictured("day", planted).aside == ""  # a key at the counter does not wait for it


def test_the_map_of_uv_says_that_its_lamp_is_new():
    assert "Drawn for a new lamp" in " ".join(pictured("uv", sight(DESERT, ALL)).sentences)


@pytest.mark.parametrize("key", ["day", "fortnight"])
def test_lamps_that_would_boil_the_box_leave_no_day_but_the_other_pictures(key):
    box = {"interior_mm": {"width": 293, "depth": 293, "height": 293}, "air_changes_h": 0.01}
    boiling = sight({"enclosure": box, "style": "humid-forest"}, {**ALL, "basking_lamp": [{"watts": 1000}]})
    assert pictured(key, boiling) is None
    assert "What light the plants get" in [picture.title for picture in all_pictured(boiling)]
