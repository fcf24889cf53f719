"""Several animals in one box: every band is their overlap, an empty one is a stop, a conflict a range."""

import pytest

from kits.effects.places import basking_spot
from kits.effects.sunlight import wanted, zones
from kits.planning.build import draft_build
from kits.planning.spec import read_spec
from kits.terms.facts import Facts, Figure, Subject
from tests.full_shelf import SHELF
from tests.known_facts import known_facts
from tests.lit_shelf import build_of, line_of, plan_of

BOX = {"size": "120x60x60-glass"}


def living_with(*species, **more):
    return {"enclosure": BOX, "animals": [{"species": one} for one in species], "style": "dry-scrub", **more}


def invented(code, **figures):
    known = {key: Figure(value, "M", "test") for key, value in figures.items()}
    return Subject("animal", code, code.title(), "", {"habit": Figure("terrestrial", "M", "test"), **known})


def build_with(*animals):
    facts = known_facts()
    named = {animal.code: animal for animal in animals}
    facts = Facts(
        named, facts.plants, facts.cleanup, facts.enclosures, facts.styles, facts.media, mixes=facts.mixes
    )
    spec = read_spec(living_with(*named), facts=facts, knows_item=SHELF.knows)
    return draft_build(spec, facts=facts, owned={})


def stops(draft):
    return [caution.text for caution in draft.cautions if caution.level == "stop"]


@pytest.mark.parametrize(
    ("first", "second", "words"),
    [
        ({"uv_zone_lo": 1, "uv_zone_hi": 1}, {"uv_zone_lo": 3, "uv_zone_hi": 4}, "No UV zone suits all"),
        (
            {"bask_surface_lo_c": 30, "bask_surface_hi_c": 34},
            {"bask_surface_lo_c": 38, "bask_surface_hi_c": 42},
            "No basking surface suits all: Second wants at least 38 C, First at most 34 C.",
        ),
    ],
)  # fmt: skip
def test_bands_of_sunlight_and_of_basking_that_do_not_overlap_are_a_stop(first, second, words):
    draft = build_with(invented("first", **first), invented("second", **second))
    assert any(words in text for text in stops(draft))


def test_sunlight_and_basking_are_measured_against_the_overlap():
    draft = build_with(
        invented("first", uv_zone_lo=1, uv_zone_hi=3, bask_surface_lo_c=30, bask_surface_hi_c=38),
        invented("second", uv_zone_lo=2, uv_zone_hi=4, bask_surface_lo_c=34, bask_surface_hi_c=42),
    )
    climate = draft.build.climate
    assert stops(draft) == []
    assert zones(draft.build) == (2, 3)
    assert (climate.bask_lo_c, climate.bask_hi_c) == (34, 38)
    assert wanted(draft.build).average == (0.7, 2.6)  # Ferguson et al. 2010: lower end of 2, upper end of 3
    assert wanted(draft.build).most == 7.4


def test_a_plan_for_animals_of_the_shade_and_of_the_sun_stops_and_names_both():
    plan = plan_of(living_with("eublepharis-macularius", "pogona-vitticeps"))
    about_zones = [caution.text for caution in plan.stops if "UV zone" in caution.text]
    assert len(about_zones) == 1
    assert "bearded dragon" in about_zones[0].lower() or "pogona" in about_zones[0].lower()


def test_a_zone_that_sources_disagree_on_is_told_as_a_range():
    plan = plan_of(living_with("pogona-vitticeps"))
    assert zones(build_of(living_with("pogona-vitticeps"))) == (3, 4)
    assert (
        "The animals live in UV zone 3 or 4: wanted 1-3.5 average, at most 9.5."
        in line_of(plan, "uvb_lamp").because
    )
    assert not [caution for caution in plan.stops if caution.about == "animals"]


def test_the_source_of_a_range_names_what_each_page_says():
    zone = known_facts().animals["pogona-vitticeps"].figures["uv_zone_lo"]
    assert "zone 4 on [ZN-A], zone 3 on two other pages" in zone.source


def test_an_animal_without_a_zone_leaves_it_to_the_other():
    draft = build_with(invented("first", uv_zone_lo=2, uv_zone_hi=2), invented("second"))
    assert zones(draft.build) == (2, 2)
    assert stops(draft) == []


def test_the_highest_reach_is_that_of_the_longest_climber():
    small, large = "lepidodactylus-lugubris", "rhacodactylus-auriculatus"
    perch = {"perches_mm": [{"height": 300}]}
    alone, both = (
        basking_spot(build_of(living_with(*species, **perch))) for species in ((small,), (small, large))
    )
    assert alone.lies_mm == both.lies_mm
    assert alone.reaches_mm < both.reaches_mm
