"""How animals, plants and crews join; the counts are those of the care-fact tables, section 6."""

import pytest

from kits.terms.build import Climate
from kits.terms.facts import Figure, Subject
from kits.terms.suitability import crew_suits, from_memory, joins, plant_suits, too_weak_to_offer
from tests.unit.kits.test_facts_files import subjects

ANIMALS, PLANTS, CREWS, STYLES = (subjects(kind) for kind in ("animal", "plant", "cleanup", "style"))
PUBLISHED_PLANTS = {
    "lampropeltis-triangulum": 5, "uromastyx-geyri": 6, "ceratophrys-ornata": 6, "ambystoma-tigrinum": 6,
    "correlophus-ciliatus": 40,
}  # fmt: skip
ONLY_TWO_LISTED = (
    "physignathus-cocincinus", "intellagama-lesueurii", "thamnophis-sirtalis", "uromastyx-geyri",
)  # fmt: skip


def climate_of(animal):
    return Climate(
        day_lo_c=animal.number("day_air_lo_c"),
        day_hi_c=animal.number("day_air_hi_c"),
        humidity_lo_pct=animal.number("rh_lo_pct"),
        humidity_hi_pct=animal.number("rh_hi_pct"),
    )


def that_pass(test, living, code):
    animal = ANIMALS[code]
    style = STYLES[animal.text("substrate_style")]
    return [name for name, one in living.items() if not test(one, climate_of(animal), style)]


@pytest.mark.parametrize("code", ANIMALS)
def test_every_animal_gets_five_plants(code):
    assert len(that_pass(joins, PLANTS, code)) >= 5


@pytest.mark.parametrize(("code", "count"), PUBLISHED_PLANTS.items())
def test_the_published_counts_of_plants_hold(code, count):
    assert len(that_pass(joins, PLANTS, code)) == count


@pytest.mark.parametrize("code", sorted(set(ANIMALS) - {"uromastyx-geyri"}))
def test_every_animal_gets_two_crews(code):
    assert len(that_pass(joins, CREWS, code)) >= 2


def test_the_driest_animal_gets_no_crew():
    assert that_pass(joins, CREWS, "uromastyx-geyri") == []


@pytest.mark.parametrize("code", ONLY_TWO_LISTED)
def test_four_animals_have_only_two_plants_that_are_listed_as_not_toxic(code):
    assert len(that_pass(plant_suits, PLANTS, code)) == 2


@pytest.mark.parametrize("code", ANIMALS)
def test_every_animal_has_a_plant_that_is_safe_enough_to_offer(code):
    assert len(that_pass(plant_suits, PLANTS, code)) >= 2


def test_plants_of_unknown_toxicity_or_listed_toxic_are_loaded_but_not_offered():
    weak = [code for code, plant in PLANTS.items() if too_weak_to_offer(plant)]
    assert len(weak) == 27
    assert {"hedera-helix", "epipremnum-aureum", "leucobryum-glaucum"} <= set(weak)


def test_the_protein_hungry_isopod_is_never_offered():
    warm = Climate(day_lo_c=22, day_hi_c=28, humidity_lo_pct=40, humidity_hi_pct=70)
    reasons = crew_suits(CREWS["porcellio-laevis"], warm, STYLES["dry-scrub"])
    assert len(reasons) == 1
    assert "protein hungry" in reasons[0]


@pytest.mark.parametrize(
    ("climate", "words"),
    [
        (Climate(day_lo_c=20, day_hi_c=34), "stands heat to 24 C; the day air reaches 34 C"),
        (Climate(day_lo_c=12, day_hi_c=20), "wants at least 18 C; the day air may be 12 C"),
        (Climate(humidity_lo_pct=20, humidity_hi_pct=40), "wants 60-95 % humidity; the build keeps 20-40 %"),
    ],
)
def test_a_reason_names_the_figure_that_fails(climate, words):
    reasons = plant_suits(PLANTS["fittonia-albivenis"], climate, STYLES["humid-forest"])
    assert len(reasons) == 1
    assert words in reasons[0]


def test_another_style_is_a_reason():
    assert joins(PLANTS["fittonia-albivenis"], Climate(), STYLES["desert"]) == [
        "Fittonia albivenis is not listed for the style desert."
    ]


def test_springtails_are_judged_by_their_soil_not_by_the_air():
    dry = Climate(humidity_lo_pct=30, humidity_hi_pct=50)
    assert crew_suits(CREWS["folsomia-candida"], dry, STYLES["deep-soil"]) == []


def test_a_plant_without_known_ranges_does_not_suit():
    plant = Subject("plant", "a-b", "A b", "", {"styles": Figure("desert", "M", "test")})
    assert len(plant_suits(plant, Climate(), STYLES["desert"])) == 3


def test_an_animal_whose_climate_rests_on_memory_says_so():
    assert from_memory(ANIMALS["lepidodactylus-lugubris"]) == ["temperatures", "humidity", "UV zone"]
    assert from_memory(ANIMALS["correlophus-ciliatus"]) == []
