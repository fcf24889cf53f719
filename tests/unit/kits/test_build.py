"""From spec to build: gaps are filled from facts, and every assumption is told."""

import pytest

from kits.planning.build import draft_build
from tests.full_shelf import CRESTED, DESERT, FERN_BOX, spec_of
from tests.known_facts import known_facts


def drafted(data):
    return draft_build(spec_of(data), facts=known_facts(), owned={})


def told(data, level=None):
    return " ".join(c.text for c in drafted(data).cautions if level in (None, c.level))


def of(*animals, **more):
    return {"enclosure": {"size": "90x45x45-glass"}, "animals": list(animals), **more}


def test_a_nominal_size_has_its_inside():
    box = drafted(CRESTED).build.box
    assert (box.width_mm, box.depth_mm, box.height_mm, box.sill_mm) == (443, 443, 592, 165)
    assert "measure yours" in told(CRESTED)


def test_a_measured_box_is_the_customers_own_and_what_is_assumed_is_told():
    assert "customer's own" in told(FERN_BOX, "note")
    assert "a sill of 81 mm, walls of 4 mm glass, a mesh top that is 66% open" in told(FERN_BOX, "warning")


def test_nothing_is_assumed_where_everything_is_given():
    full = {**FERN_BOX["enclosure"], "sill_mm": 0, "wall": {"material": "pvc", "thickness_mm": 10},
            "top": {"kind": "solid", "open_fraction": 0}}  # fmt: skip
    data = {**FERN_BOX, "enclosure": full}
    assert "taken to be a sill" not in told(data)
    assert (drafted(data).build.box.wall_material, drafted(data).build.box.top_open_fraction) == ("pvc", 0)


def test_the_style_comes_from_the_animal_when_it_is_not_given():
    assert drafted(DESERT).build.style.code == "desert"


def test_a_style_against_the_animals_is_cautioned():
    assert "crested gecko is kept on humid-forest" in told({**CRESTED, "style": "desert"}, "warning")


def test_a_box_below_a_published_minimum_is_a_warning_that_names_rule_and_figure():
    warnings = told(CRESTED, "warning")
    assert "floor 0.1962 of 0.24 m2 (18.2 % less)" in warnings
    assert "Crested gecko: the inside is below" in warnings
    assert "less). Source: veterinary multiples: 3 x 2 total length" in warnings
    assert "recommended" not in told(CRESTED)


def test_a_young_animal_is_measured_as_the_adult_it_becomes():
    young = {**CRESTED, "animals": [{"species": "correlophus-ciliatus", "stage": "young"}]}
    assert "veterinary multiples" in told(young, "warning")


@pytest.mark.parametrize(
    ("animals", "words"),
    [
        ([{"species": "correlophus-ciliatus", "count": 2, "sex": "male"}], "2 male Correlophus ciliatus"),
        ([{"species": "python-regius", "count": 2}], "kept alone"),
        (
            [{"species": "correlophus-ciliatus"}, {"species": "lepidodactylus-lugubris"}],
            "species are not mixed",
        ),
    ],
)
def test_company_against_the_rules_is_a_warning(animals, words):
    assert words in told(of(*animals), "warning")


def test_animals_that_eat_their_company_are_a_stop():
    assert "must live alone" in told(of({"species": "lampropeltis-californiae", "count": 2}), "stop")


def test_animals_without_a_common_climate_are_a_stop():
    pair = of({"species": "uromastyx-geyri"}, {"species": "salamandra-salamandra"})
    assert "No day air suits all" in told(pair, "stop")


def test_species_whose_sale_is_stopped_are_a_stop():
    assert "Lacey Act" in told(of({"species": "ambystoma-tigrinum"}), "stop")


def test_a_room_that_is_not_given_is_told():
    assert "The room is taken to be 21 C by day, 18 C at night and 45 % humid" in told(FERN_BOX)
    assert "The room is taken to be" not in told(CRESTED)


def test_a_perch_inside_the_soil_is_a_stop():
    stops = told({**CRESTED, "perches_mm": [{"height": 90, "back": 300}]}, "stop")
    assert "A perch at 90 mm lies below the ground" in stops
    assert "nothing can sit there" in stops


@pytest.mark.parametrize("kind", ["mesh", "open"])
def test_a_mesh_that_lets_nothing_through_is_asked_about(kind):
    shut = {**FERN_BOX["enclosure"], "top": {"kind": kind, "open_fraction": 0}}
    assert f"given as {kind} with an open_fraction of 0" in told({**FERN_BOX, "enclosure": shut}, "warning")


def test_a_top_that_is_open_nowhere_is_taken_for_a_solid_one():
    shut = {**FERN_BOX, "enclosure": {**FERN_BOX["enclosure"], "top": {"open_fraction": 0}}}
    assert "a solid top that is 0% open" in told(shut, "warning")
    assert drafted(shut).build.box.top_kind == "solid"


def test_a_room_that_is_warmer_at_night_is_cautioned_as_perhaps_swapped():
    swapped = {**FERN_BOX, "room": {"temperature_c": 18, "night_temperature_c": 22}}
    assert "22 C at night and 18 C by day, so warmer at night" in told(swapped, "warning")
    assert "warmer at night" not in told(CRESTED)


def test_a_perch_is_assumed_where_animals_have_none():
    draft = drafted({key: value for key, value in CRESTED.items() if key != "perches_mm"})
    assert (draft.perches_given, len(draft.build.perches)) == (False, 1)
    assert draft.build.box.height_mm > draft.build.perches[0].height_mm > max(draft.build.surface_mm())


def test_planting_follows_the_style_unless_it_is_asked_for():
    assert drafted(FERN_BOX).build.planting == "moderate"
    assert drafted({**FERN_BOX, "planting": "none"}).build.planting == "none"


def test_no_plants_are_planned_where_none_suits_and_none_was_asked_for():
    tiny = {"enclosure": {"size": "20x20x30-glass"}, "style": "deep-soil"}
    assert "so none is planned" in told(tiny, "note")
    assert drafted({**tiny, "planting": "sparse"}).build.planting == "sparse"
