"""How sure the water and air of a soil are, and how that is told in a plan."""

from dataclasses import replace

import pytest

from kits.effects import soil
from kits.planning.registry import ROLES
from kits.terms.facts import Figure
from tests.known_facts import known_facts
from tests.lit_shelf import build_of, fit, line_of, plan_of

DRY = {"enclosure": {"size": "90x45x45-glass"}, "style": "dry-scrub"}
SCRUB = {**DRY, "choose": {"substrate": ["SCRUB-9"]}}
FOREST = {"enclosure": {"size": "45x45x60-glass"}, "style": "humid-forest"}
MUD = {"litres": 8.8, "family": "mud", "styles": ["humid-forest"], "mix": "understorey"}


def workings(plan):
    return {working.figure: working for working in plan.workings}


def test_a_dry_soil_tells_its_air_with_its_range_and_that_it_is_never_soaked():
    air = workings(plan_of(SCRUB))["air_space_pct"]
    assert 3 < air.value < 15
    assert air.valid
    assert "it may hold 34 to 39 % water and 6 to 12 % air" in air.note
    assert "a dry box never is" in air.note


def test_a_forest_soil_is_soaked_and_says_nothing_of_dry_boxes():
    told = workings(plan_of(FOREST))
    assert "first_watering_l" in told
    assert "dry box" not in told["air_space_pct"].note
    assert "water and" in told["air_space_pct"].note


def muddy():
    """A forest box whose mix is sand and clay, which hold more water than the mix has pores."""
    build = build_of({**FOREST, "depths_mm": {"substrate_front": 20, "substrate_back": 20}})
    amounts = {"washed-sand": 4.0, "clay-powder": 3.0}
    parts = {code: Figure(amount, "own", "invented", "parts") for code, amount in amounts.items()}
    return replace(build, mixes={"understorey": replace(build.mixes["understorey"], figures=parts)})


def test_a_mix_that_cannot_hold_its_water_is_marked_and_has_no_air_to_count_on():
    build = muddy()
    assert not soil.soil(build, MUD).fits
    found = ROLES["substrate"].fit(ROLES["substrate"].needs(build)[0], MUD)
    assert "its parts would hold more water than it has pores; wanted" in found.refusal
    assert "at least 5 % air" in found.refusal


def test_a_loam_of_its_own_is_as_loose_as_it_is_poured():
    loam = soil.soil(build_of(DRY), {"medium": "clay-loam"})
    assert loam.water + loam.air == pytest.approx(1 - 1.2 / 2.65, abs=0.001)  # solids by EN 13041


def test_the_range_is_told_where_a_soil_is_chosen():
    because = " ".join(fit("substrate", MUD, FOREST).because)
    assert "water of the parts added up; it may hold" in because


STYLES = known_facts().styles.values()
BOUNDED = {style.code for style in STYLES if style.number("water_lo_pct") is not None}


@pytest.mark.parametrize("code", [style.code for style in STYLES])
def test_a_plan_says_of_every_style_which_bounds_on_its_soil_are_known(code):
    build = build_of({"enclosure": {"size": "120x60x60-pvc"}, "style": code})
    because = " ".join(ROLES["substrate"].needs(build)[0].because)
    assert ("it is to hold at least" in because) is (code in BOUNDED)
    sentence = f"No bounds on water and air are known for {code}: any soil listed for it will do."
    assert (sentence in because) is (code not in BOUNDED)


def test_the_line_of_a_soil_without_bounds_says_so():
    assert "No bounds on water and air are known for dry-scrub" in " ".join(
        line_of(plan_of(SCRUB), "substrate").because
    )


def test_a_soil_wetter_than_the_shop_asks_of_a_dry_style_is_refused():
    build = build_of({"enclosure": {"size": "90x45x45-glass"}, "style": "dry-scrub"})
    most = {"water_hi_pct": Figure(30, "own", "invented", "%")}
    asked = replace(build, style=replace(build.style, figures={**build.style.figures, **most}))
    (need,) = ROLES["substrate"].needs(asked)
    assert "is to hold at most 30 % water" in " ".join(need.because)
    assert "No bounds on air are known for dry-scrub" in " ".join(need.because)
    found = ROLES["substrate"].fit(need, {"litres": 8.8, "styles": ["dry-scrub"], "mix": "scrub"})
    assert found.refusal.endswith("wanted at most 30 % water.")
