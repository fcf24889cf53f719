"""Another soil is offered only where it holds the style's water and air at the depth that is built."""

import pytest

from kits.physics.mix_bounds import Bounds
from kits.physics.mix_design import judge_mix
from kits.physics.mixes import Bed, ingredient, mix_figures, recipe
from kits.planning.registry import ROLES
from tests.full_shelf import FOREST
from tests.known_facts import known_facts
from tests.lit_shelf import THINGS, build_of, line_of, plan_of, shelf_of, soil, unmet

BOX = {"enclosure": {"interior_mm": {"width": 890, "depth": 590, "height": 690}}, "style": "humid-forest"}
SOILS = {"UNDER": {"mix": "understorey"}, "GULLY": {"mix": "rain-gully"}, "WET": {"mix": "wet-season"}}
SOILS |= {"BARK": {"medium": "pine-bark"}}
SHELF = shelf_of(
    (
        *(thing for thing in THINGS if thing[1] != "substrate"),
        *((name, "substrate", 900, soil(8.8, name, FOREST, **known)) for name, known in SOILS.items()),
    )
)


def built(front_mm, back_mm, **more):
    depths = {"substrate_front": front_mm, "substrate_back": back_mm}
    return {**BOX, "depths_mm": depths, **more}


def passing(front_mm, back_mm):
    """The soils that the mix page would let pass, by its own judgement with the bounds of the style."""
    known = known_facts()
    style = known.styles["humid-forest"]
    bounds = Bounds(water_lo=style.number("water_lo_pct") / 100, air_lo=style.number("air_lo_pct") / 100)
    found = set()
    for name, told in SOILS.items():
        mix, medium = known.mixes.get(told.get("mix")), known.media.get(told.get("medium"))
        parts = recipe(mix, known.media) if mix else [(ingredient(medium), 1.0)]
        if judge_mix(parts, bounds, Bed(front_mm=front_mm, back_mm=back_mm)).passes:
            found.add(name)
    return found


def offered(line):
    return {item for other in line.substitutes for item, _ in other.items}


DEPTHS = {
    (30, 30): {"BARK"},
    (45, 45): {"BARK", "GULLY"},
    (60, 110): {"BARK", "GULLY", "UNDER", "WET"},
    (150, 200): {"GULLY", "UNDER", "WET"},  # deep bark is too dry
}


@pytest.mark.parametrize(("depths", "known"), DEPTHS.items())
def test_a_soil_that_is_short_is_replaced_by_all_that_pass_at_the_built_depth_and_no_other(depths, known):
    assert passing(*depths) == known
    chosen = line_of(plan_of(built(*depths), shelf=SHELF), "substrate").item
    line = line_of(plan_of(built(*depths), shelf=SHELF, stock={chosen: 0}), "substrate")
    assert (line.item, line.status) == (chosen, "none")
    assert chosen in known
    assert offered(line) == known - {chosen}


def test_a_substitute_soil_stands_with_its_own_water_and_air():
    line = line_of(plan_of(built(60, 110), shelf=SHELF, stock={"BARK": 0}), "substrate")
    known = known_facts()
    for other in line.substitutes:
        mix = known.mixes[SOILS[other.items[0][0]]["mix"]]
        figures = mix_figures(recipe(mix, known.media), Bed(front_mm=60, back_mm=110))
        assert other.figures["container_capacity_pct"] == pytest.approx(100 * figures.water, abs=0.05)
        assert other.figures["air_space_pct"] == pytest.approx(100 * figures.air, abs=0.05)


def test_where_no_soil_passes_each_figure_that_fails_is_told_with_the_way_out():
    told = unmet(plan_of(built(20, 20), shelf=SHELF), "substrate")
    assert passing(20, 20) == set()
    assert "wanted at least 5 % air" in told
    assert "With soil of 30 mm in front and 30 mm at the back it would do." in told
    assert passing(30, 30)


def test_a_plan_counts_on_no_more_air_than_the_mix_page_does():
    known = known_facts()
    parts = recipe(known.mixes["wet-season"], known.media)
    build = build_of({**built(40, 40), "style": "seasonal-forest"})
    told = mix_figures(parts, Bed.level(40))
    assert told.spare < 0.03 <= told.air  # the style asks for 3 %
    wet = soil(8.8, "wet", ["seasonal-forest"], mix="wet-season")
    found = ROLES["substrate"].fit(ROLES["substrate"].needs(build)[0], wet)
    assert f"of which {100 * told.spare:.1f} % can be counted on; wanted at least 3 % air" in found.refusal
    assert not judge_mix(parts, Bounds(air_lo=0.03), Bed.level(40)).passes
