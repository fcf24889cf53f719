"""Boxes of other stuff than glass: every figure that hangs on the wall follows it."""

import csv
import io
from importlib import resources

import pytest

from kits.effects import warmth
from kits.effects.whole_day import whole_day
from kits.physics.walls import MATERIALS, ROWS, wall
from kits.planning.spec import BadSpec
from tests.full_shelf import spec_of
from tests.lit_shelf import build_of, plan_of, told

ROOM = {"temperature_c": 21, "night_temperature_c": 15, "relative_humidity_pct": 45}


def box_of(material, thickness_mm, **more):
    inside = {"width": 450, "depth": 450, "height": 600}
    box = {"interior_mm": inside, "wall": {"material": material, "thickness_mm": thickness_mm}, **more}
    gecko = [{"species": "correlophus-ciliatus"}]
    return {
        "enclosure": {"top": {"kind": "mesh", "open_fraction": 0.66}, **box},
        "animals": gecko,
        "room": ROOM,
    }


# U = 1 / (0.13 + thickness / conductivity + 0.13) with conductivities of ISO 10456 (from memory).
@pytest.mark.parametrize(
    ("material", "thickness_mm", "u_w_m2k"),
    [
        ("glass", 4, 3.7879), ("acrylic", 5, 3.5088), ("polycarbonate", 5, 3.5088), ("pvc-solid", 6, 3.3865),
        ("wood", 12, 2.8384), ("particle-board", 15, 2.7237), ("pvc", 10, 2.3438),
    ],
)  # fmt: skip
def test_the_loss_of_a_box_follows_the_conductivity_of_its_walls(material, thickness_mm, u_w_m2k):
    inputs = warmth.loss_inputs(build_of(box_of(material, thickness_mm)), 0.0)
    assert inputs["wall_u"] == pytest.approx(u_w_m2k, abs=1e-4)
    assert plan_of(box_of(material, thickness_mm)).figures["heat_loss_w_k"] > 0


# Four sides and a floor of 46 x 46 x 60.5 cm outside: 1.3248 m2 of 5 mm, times the density of the stuff.
@pytest.mark.parametrize(
    ("material", "kg"), [("acrylic", 7.82), ("polycarbonate", 7.95), ("pvc-solid", 9.21)]
)
def test_a_box_weighs_what_its_walls_weigh(material, kg):
    sand = plan_of(box_of("glass", 5)).figures["installed_kg"]
    plastic = plan_of(box_of(material, 5)).figures["installed_kg"]
    assert sand - plastic == pytest.approx(2500 * 0.005 * 1.3248 - kg, abs=0.06)


def test_thick_wood_follows_a_lamp_more_slowly_than_thin_acrylic():
    lamp = {"basking_lamp": [{"watts": 60, "cap": "E26", "kind": "halogen"}]}
    builds = (build_of(box_of(*stuff)) for stuff in (("wood", 18), ("acrylic", 3)))
    slow, quick = (whole_day(build, lamp).curve.glass_c for build in builds)
    after_an_hour = 10 * 60
    rises = [
        (walls[after_an_hour] - walls[9 * 60]) / (walls.max() - walls[9 * 60]) for walls in (slow, quick)
    ]
    assert rises[0] < rises[1]


@pytest.mark.parametrize(
    ("material", "told_"),
    [("acrylic", "the acrylic fogs above"), ("wood", "water settles on the walls above")],
)
def test_fogging_speaks_of_the_stuff_of_the_walls(material, told_):
    shut = box_of(material, 5, top={"kind": "glass", "open_fraction": 0})
    cold = {**shut, "room": {**ROOM, "temperature_c": 14}}
    assert told_ in told(plan_of(cold), "mister")


def test_walls_of_the_impossible_are_refused_with_all_that_are_known():
    with pytest.raises(BadSpec) as refusal:
        spec_of(box_of("ice", 5))
    (error,) = refusal.value.errors
    assert error.pointer == "/enclosure/wall/material"
    assert all(material in error.detail for material in MATERIALS)


def test_every_wall_material_has_all_its_figures():
    for material in MATERIALS:
        made_of = wall(material)
        assert min(made_of.conductivity_w_mk, made_of.density_kg_m3, made_of.heat_j_kgk, made_of.usual_mm) > 0


@pytest.mark.parametrize(
    ("material", "celsius"), [("acrylic", 80), ("pvc", 60), ("wood", None), ("glass", None)]
)
def test_a_hot_lamp_near_walls_that_soften_is_told(material, celsius):
    dragon = {**box_of(material, 5), "animals": [{"species": "pogona-vitticeps"}]}
    said = told(plan_of(dragon), "basking_lamp")
    assert (f"Walls of {material} soften above about {celsius} C" in said) == (celsius is not None)
    assert ("soften" in said) == (celsius is not None)


@pytest.mark.parametrize("row", sorted(set(ROWS.values())))
def test_every_wall_that_a_spec_may_name_has_all_its_figures_with_mark_and_source(row):
    text = resources.files("kits.data").joinpath("walls.csv").read_text(encoding="utf-8")
    rows = {one["field"]: one for one in csv.DictReader(io.StringIO(text)) if one["code"] == row}
    needed = {"conductivity_w_mk", "density_kg_m3", "heat_j_kgk", "usual_mm", "clear"}
    assert needed - ({"conductivity_w_mk"} if row == "mesh" else set()) <= rows.keys()
    assert all(
        one["mark"] in "ABM" and one["mark"] and one["source"] and one["unit"] for one in rows.values()
    )
    assert all(float(one["value"]) > 0 for field, one in rows.items() if field != "clear")


def test_the_usual_thickness_of_every_wall_is_one_that_a_spec_may_give():
    for material in MATERIALS:
        spec_of(box_of(material, wall(material).usual_mm))
