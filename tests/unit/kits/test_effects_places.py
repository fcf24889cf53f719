"""Where lamp and animal meet, what air and heat a box exchanges: every kind of top and wall, and no perch."""

import numpy as np
import pytest

from kits.effects import airing, brightness, moisture, soil, warmth
from kits.effects.maps import light_profile, uv_map, warmth_map
from kits.effects.places import basking_spot, highest_perch, lamp_height_mm
from kits.effects.sunlight import reached, reading
from tests.full_shelf import CRESTED, DESERT, FERN_BOX
from tests.lit_shelf import build_of, fit, plan_of, read, spot

SIDES = {"width": 600, "depth": 450, "height": 500}
TOPS = {"mesh": 0.66, "glass": 0.0, "solid": 0.04, "open": 1.0}
DRY_ROOM = {"temperature_c": 21, "night_temperature_c": 18, "relative_humidity_pct": 30}
BAR = {"kind": "bar", "length_mm": 560, "width_mm": 40, "flux_umol_s": 90}


def box(kind="mesh", share=None, *, walls="glass", **more):
    top = {"kind": kind, "open_fraction": TOPS[kind] if share is None else share}
    inside = {"interior_mm": SIDES, "wall": {"material": walls, "thickness_mm": 4}, "top": top}
    return {"enclosure": inside, "style": "humid-forest", "room": DRY_ROOM, **more}


def geckos(kind="mesh", share=None, **more):
    return box(kind, share, animals=[{"species": "correlophus-ciliatus"}], **more)


@pytest.mark.parametrize(
    ("kind", "lamp_mm", "through"),
    [("mesh", 520, 0.66), ("open", 520, 1.0), ("glass", 420, 1.0), ("solid", 420, 1.0)],
)
def test_a_lamp_stands_on_mesh_and_hangs_below_a_closed_top(kind, lamp_mm, through):
    build = build_of(geckos(kind))
    assert (lamp_height_mm(build), basking_spot(build).open_fraction) == (lamp_mm, through)


def test_without_a_perch_the_animal_lies_on_the_ground_in_the_middle():
    build = build_of(box())
    assert build.perches == ()
    assert highest_perch(build).height_mm == sum(build.surface_mm()) / 2
    assert basking_spot(build).lies_mm == highest_perch(build).height_mm + 20


def test_the_highest_of_several_perches_counts():
    build = build_of(geckos(perches_mm=[{"height": 200}, {"height": 350}, {"height": 300}]))
    assert basking_spot(build).lies_mm == 370


@pytest.mark.parametrize("height", [480, 499, 500])
def test_nothing_comes_nearer_to_a_lamp_than_its_guard(height):
    spot_ = basking_spot(build_of(geckos(perches_mm=[{"height": height}])))
    assert 0.020 <= spot_.nearest_m <= spot_.distance_m


def test_a_perch_above_a_lamp_that_hangs_inside_is_as_near_as_its_guard():
    spot_ = basking_spot(build_of(geckos("glass", perches_mm=[{"height": 480}])))
    assert (spot_.nearest_m, spot_.distance_m) == (0.020, 0.020)


def test_a_mesh_that_is_closed_lets_no_lamp_do_its_job():
    plan = plan_of(geckos("mesh", 0))
    reasons = {unmet.role: unmet.because for unmet in plan.unmet}
    assert "lets no light through" in reasons["uvb_lamp"]
    assert "lets no light through" in reasons["plant_light"]
    assert not {"uvi_at_basking", "dli_floor"} & set(plan.figures)


@pytest.mark.parametrize(
    ("data", "per_h"), [(box("glass"), 1.0), (box("solid"), 1.0), (box(walls="mesh"), 60.0)]
)
def test_closed_boxes_and_boxes_of_mesh_exchange_a_flat_estimate(data, per_h):
    build = build_of(data)
    assert airing.air_changes_h(build, 26, 21) == per_h
    assert airing.exchange_inputs(build, 26, 21) == ()
    assert not airing.wants_cover(build)


def test_an_open_top_exchanges_more_than_any_mesh_and_gets_no_cover():
    opened, meshed = build_of(box("open")), build_of(box("mesh", 0.9))
    assert airing.changes_at(opened, 1.0, 26, 21) > airing.changes_at(meshed, 1.0, 26, 21) > 0.5
    assert not airing.wants_cover(opened)


def test_a_box_no_warmer_than_its_room_has_its_draughts_left():
    build = build_of(box())
    assert airing.changes_at(build, 1.0, 18, 18) == pytest.approx(0.5, abs=0.5)
    assert airing.changes_at(build, 0.0, 26, 18) == 0.5


def test_the_customers_no_to_a_cover_leaves_the_whole_mesh_open_in_every_figure():
    covered, bare = build_of(box()), build_of(box(without=["mesh_cover"]))
    assert airing.open_share(covered) < airing.open_share(bare) == 1.0
    assert moisture.evaporated_l_day(bare) > moisture.evaporated_l_day(covered) > 0


def test_a_cover_always_leaves_a_quarter_of_the_mesh():
    small = {**box("mesh", 0.9), "room": {"temperature_c": 5, "relative_humidity_pct": 10}}
    assert 0.25 <= airing.open_share(build_of(small)) < 1.0


def test_nothing_is_misted_in_a_room_that_is_humid_enough_or_where_nothing_is_asked():
    humid = build_of({**box(), "room": {**DRY_ROOM, "temperature_c": 28, "relative_humidity_pct": 95}})
    assert moisture.misting_inputs(humid) is None
    assert moisture.sprayed_l_day(humid) == 0


@pytest.mark.parametrize(
    ("figures", "minutes"),
    [
        ({"kind": "hand"}, 2.0),
        ({"kind": "pump", "nozzles": 2}, 1.25),
        ({"kind": "pump", "nozzle_l_min": 0.2}, 1.0),
    ],
)
def test_a_mister_runs_for_its_water(figures, minutes):
    assert moisture.minutes_a_day(figures, 0.2) == pytest.approx(minutes)


def test_no_soil_holds_no_water_and_has_no_figures():
    bare = {**FERN_BOX, "depths_mm": {"substrate_front": 0, "substrate_back": 0}}
    assert soil.bed(build_of(bare)) is None
    assert soil.soil(build_of(bare), {"mix": "understorey"}) is None
    assert not {"container_capacity_pct", "air_space_pct", "first_watering_l"} & set(plan_of(bare).figures)


def test_an_unknown_soil_is_taken_for_a_usual_mix_and_marked():
    known, unknown = (soil.soil(build_of(CRESTED), {"mix": mix}) for mix in ("understorey", "nobody-knows"))
    assert (known.known, unknown.known) == (True, False)
    assert "nothing recorded" in unknown.source


def test_the_light_wanted_without_plants_is_that_of_the_style():
    assert brightness.wanted_ppfd(build_of(CRESTED)) == 40
    assert brightness.wanted_ppfd(build_of({**DESERT, "planting": "sparse"})) == 80


def test_a_level_beside_a_lamp_that_hangs_inside_has_no_light_figure():
    data = {"enclosure": {"size": "120x60x60-pvc"}, "style": "dry-scrub", "planting": "sparse"}
    figures = plan_of(data).figures
    assert "dli_floor" in figures
    assert "dli_top" not in figures


def test_a_lamp_of_unknown_flux_brings_an_unknown_light():
    assert brightness.at_level(build_of(CRESTED), {"kind": "bar", "length_mm": 560}, 0.0) is None
    assert (
        brightness.at_level(build_of(CRESTED), BAR, 0.0).edge
        < brightness.at_level(build_of(CRESTED), BAR, 0).middle
    )


def test_no_animal_that_basks_has_no_place_below_the_lamp():
    assert warmth.basking_place(build_of(FERN_BOX)) is None
    assert warmth.night_gap_k(build_of(FERN_BOX)) == 0


def test_a_lamp_of_unknown_watts_has_no_beam():
    assert warmth.beam(warmth.basking_place(build_of(DESERT)), {"cap": "E26"}) is None


def test_pictures_of_what_is_not_there_are_not_drawn():
    build = build_of(FERN_BOX)
    assert (uv_map(build, {}), warmth_map(build, {}), light_profile(build, {})) == (None, None, None)
    assert uv_map(build_of(CRESTED), {"uvb_lamp": [{"cap": "G5", "watts": 24}]}) is None


def below_the_lamp(section, build):
    """What a section shows at the animal's back, read between its grid points."""
    column = np.argmin(abs(section.along_mm - highest_perch(build).back_mm))
    return np.interp(basking_spot(build).lies_mm, section.up_mm, section.values[:, column])


@pytest.mark.parametrize("data", [DESERT, CRESTED, geckos("open")])
def test_the_map_of_sunlight_agrees_with_the_figure_at_the_animals_back(data):
    build = build_of(data)
    found = reached(basking_spot(build), reading(read(3.0)), reflector=0.5)
    section = uv_map(build, {"uvb_lamp": [read(3.0)], "uvb_fixture": [{"reflector_share": 0.5}]})
    assert below_the_lamp(section, build) == pytest.approx(found.back, rel=0.02)


def test_the_map_of_warmth_agrees_with_the_figure_at_the_animals_back():
    build = build_of(DESERT)
    section = warmth_map(build, {"basking_lamp": [spot(75)]})
    assert below_the_lamp(section, build) == pytest.approx(warmth.basking_place(build).middle_c, abs=0.5)


def test_the_profile_of_plant_light_begins_with_the_figure_at_the_ground():
    build = build_of(CRESTED)
    profile = light_profile(build, {"plant_light": [BAR]})
    mean = (profile.middle[0] + profile.edge[0]) / 2
    assert mean == pytest.approx(plan_of(CRESTED).figures["dli_floor"], rel=1e-3)
    assert list(profile.middle) == sorted(profile.middle)


def test_a_mesh_that_lets_next_to_nothing_through_is_refused_and_breaks_nothing():
    found = fit("plant_light", BAR, box(share=1e-310))
    assert "would be needed, more than the top has room for" in found.refusal
