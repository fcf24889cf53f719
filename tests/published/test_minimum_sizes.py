"""The ten worked checks of the care-fact tables against the published minimum-size rules.

Sources stand beside each check; the tolerance is theirs: 1 mm and 0.001 m2.
"""

import csv
from pathlib import Path

import pytest

from inventory.calc.errors import Impossible
from kits.planning.minimum_sizes import by_rule, minimum_size, roomy_size, shortfalls
from kits.terms.build import Box
from kits.terms.facts import Figure, Subject

DATA = Path(__file__).resolve().parents[2] / "kits" / "data"
MM, M2 = 1.0, 0.001


def rounded(size):
    return size.width_mm, size.depth_mm, size.height_mm


def subject(**figures):
    return Subject(
        "animal", "a-b", "A b", "", {key: Figure(value, "A", "test") for key, value in figures.items()}
    )


def animals():
    found = {}
    with (DATA / "animals.csv").open(newline="") as handle:
        for row in csv.DictReader(handle):
            text = row["unit"] in ("text", "yes/no")
            value = row["value"] if text else float(row["value"])
            found.setdefault(row["code"], {})[row["field"]] = Figure(value, row["mark"], row["source"])
    return {code: Subject("animal", code, code, "", figures) for code, figures in found.items()}


def test_1_climbing_chameleon_alone_and_as_a_pair():
    """German expert report 1997, chameleons 4 x 2.5 x 4 head-body lengths, +20 % floor for a pair."""
    one, pair = (by_rule("DE97-chameleon", count=count, length_mm=220) for count in (1, 2))
    assert one.exact_mm == pytest.approx((880, 550, 880), abs=MM)
    assert (one.floor_m2, pair.floor_m2) == pytest.approx((0.484, 0.5808), abs=M2)


def test_2_pair_of_day_geckos():
    """German expert report 1997 and Swiss law, day geckos 6 x 6 x 8 head-body lengths for two."""
    assert by_rule("DE97-phelsuma", count=2, length_mm=120).exact_mm == pytest.approx((720, 720, 960), abs=MM)


@pytest.mark.parametrize(
    ("count", "floor", "sides"), [(2, 0.90, (1350, 670, 600)), (3, 1.10, (1490, 740, 600))]
)
def test_3_austrian_ground_snake_of_1200_mm(count, floor, sides):
    """Austrian ordinance BGBl. II 486/2004 annex 3, ground snakes 100-150 cm."""
    size = by_rule("AT-ground-snake", count=count, length_mm=1200)
    assert size.floor_m2 == pytest.approx(floor, abs=M2)
    assert rounded(size) == sides


@pytest.mark.parametrize(("count", "floor"), [(1, 0.375), (2, 0.5625), (5, 0.7875)])
def test_4_bearded_dragons_in_new_south_wales(count, floor):
    """New South Wales reptile code 2013 as restated: 2nd +50 %, then +20 %, of the base floor."""
    assert by_rule("NSW-bearded-dragon", count=count).floor_m2 == pytest.approx(floor, abs=M2)


@pytest.mark.parametrize(("count", "floor"), [(2, 2.0), (3, 2.2), (4, 2.4), (5, 2.8), (6, 3.2)])
def test_5_tortoises_of_250_mm(count, floor):
    """German report 1997 and Swiss law: 8 x 4 shell lengths for two; 3rd, 4th +10 %, 5th on +20 %."""
    assert by_rule("DE97-tortoise", count=count, length_mm=250).floor_m2 == pytest.approx(floor, abs=M2)


def test_6_four_adult_salamanders_of_180_mm():
    """Austrian ordinance BGBl. II 486/2004 annex 4: to 20 cm 0.4 m2 for two, +25 % each."""
    size = by_rule("AT-salamander", count=4, length_mm=180)
    assert size.floor_m2 == pytest.approx(0.60, abs=M2)
    assert rounded(size) == (1100, 550, None)


def test_7_corn_snakes_grow_the_volume():
    """German expert report 1997: 1 x 0.5 x 1 total length for two, +20 % volume each."""
    two, three = (by_rule("DE97-snake-climbing", count=count, length_mm=1300) for count in (2, 3))
    assert two.exact_mm == pytest.approx((1300, 650, 1300), abs=MM)
    assert three.exact_mm == pytest.approx((1381.5, 690.7, 1381.5), abs=MM)
    width, depth, height = three.exact_mm
    assert width * depth * height / 1e9 == pytest.approx(1.3182, abs=M2)


@pytest.mark.parametrize(("length", "sides"), [(1200, (1200, 400, 400)), (1500, (1500, 500, 500))])
def test_8_royal_python(length, sides):
    """RSPCA royal python page: length of the snake, width and height one third; 1200 is its own example."""
    assert rounded(by_rule("RSPCA-python", length_mm=length)) == sides


def test_9_four_swiss_tree_frogs_of_100_mm():
    """Swiss animal protection ordinance annex 2 table 6: land 10 x 5, basin 2 x 1, height 10 body lengths."""
    size = by_rule("CH-tree-frog", count=4, length_mm=100)
    assert (size.land_m2, size.basin_m2) == pytest.approx((0.58, 0.04), abs=M2)
    assert (size.basin_depth_mm, size.exact_mm[2]) == pytest.approx((200, 1000), abs=MM)


@pytest.mark.parametrize(
    ("code", "length", "sides"),
    [("VETMULT-arboreal", 200, (600, 400, 600)), ("VETMULT-terrestrial", 500, (1500, 1000, 750))],
)
def test_10_veterinary_multiples_of_total_length(code, length, sides):
    """Barnard 1996, 3 x 2 total lengths, height 3 x arboreal and 1.5 x terrestrial."""
    assert rounded(by_rule(code, length_mm=length)) == sides


TABLE_ROWS = {  # the care-fact table's own rounded row for a typical adult, mm
    "correlophus-ciliatus": (600, 400, 600), "rhacodactylus-auriculatus": (630, 420, 630),
    "eublepharis-macularius": (600, 300, 400), "hemitheconyx-caudicinctus": (660, 440, 330),
    "lepidodactylus-lugubris": (300, 200, 300), "phelsuma-grandis": (1000, 600, 1200),
    "phelsuma-laticauda": (600, 400, 800), "phelsuma-klemmeri": (600, 400, 800),
    "python-regius": (1200, 400, 400), "pantherophis-guttatus": (1200, 600, 1200),
    "lampropeltis-californiae": (1200, 400, 400), "lampropeltis-triangulum": (1000, 340, 340),
    "heterodon-nasicus": (1000, 500, 400), "thamnophis-sirtalis": (1000, 500, 400),
    "boa-imperator": (1550, 780, 800), "boaedon-fuliginosus": (1000, 500, 400),
    "antaresia-childreni": (1000, 670, 750), "pogona-vitticeps": (1200, 600, 600),
    "pogona-henrylawsoni": (1200, 600, 800), "tiliqua-scincoides": (1500, 1000, 750),
    "anolis-carolinensis": (450, 450, 600), "chamaeleo-calyptratus": (1200, 700, 1200),
    "furcifer-pardalis": (880, 550, 880), "physignathus-cocincinus": (1000, 750, 1250),
    "intellagama-lesueurii": (2000, 1000, 2000), "iguana-iguana": (2500, 1500, 2000),
    "uromastyx-geyri": (1500, 600, 600), "testudo-hermanni": (2000, 1000, 200),
    "testudo-horsfieldii": (1800, 900, 180), "ranoidea-caerulea": (1000, 400, 800),
    "dryophytes-cinereus": (600, 400, 600), "dendrobates-tinctorius": (500, 500, 500),
    "dendrobates-auratus": (500, 500, 500), "ceratophrys-ornata": (800, 400, 400),
    "ambystoma-tigrinum": (900, 450, 400), "salamandra-salamandra": (900, 450, 400),
}  # fmt: skip


@pytest.mark.parametrize(("code", "sides"), TABLE_ROWS.items())
def test_every_animal_reaches_the_row_of_the_care_fact_table(code, sides):
    """Care-fact tables, columns min_w, min_d, min_h for a typical adult; 10 mm is their own rounding."""
    assert rounded(minimum_size(animals()[code])) == sides


def test_the_animals_own_adult_length_replaces_the_typical_one():
    assert minimum_size(animals()["python-regius"], length_mm=1500).width_mm == 1500


def test_a_longer_snake_moves_up_a_band():
    assert minimum_size(animals()["boa-imperator"], length_mm=2400).floor_m2 == 1.5


def test_a_rule_that_covers_one_animal_says_so_of_three():
    size = minimum_size(animals()["python-regius"], 3)
    assert size.limits == ("The rule says nothing about more than 1 animals.",)


def test_a_length_beyond_the_last_band_is_computed_and_said():
    size = by_rule("AT-salamander", length_mm=320)
    assert size.floor_m2 == 0.9
    assert size.limits == ("The rule ends at a length of 300 mm.",)


def test_fewer_animals_than_covered_never_lower_the_minimum():
    assert by_rule("AT-ground-snake", count=1, length_mm=900).floor_m2 == 0.5


def test_a_snake_never_asks_for_more_than_two_metres_of_height():
    """German expert report 1997 as quoted: height cap 2.0 m."""
    assert by_rule("DE97-snake-climbing", length_mm=2500).height_mm == 2000


def test_an_animal_without_a_rule_has_no_minimum():
    assert minimum_size(subject(rule_id="no-such-rule")) is None


def test_a_shops_own_fixed_size_is_used():
    size = minimum_size(subject(rule_id="own", min_w_mm=700, min_d_mm=500, min_h_mm=600, rule_covers_n=2), 2)
    assert rounded(size) == (700, 500, 600)
    assert size.limits == ()


def test_the_largest_official_figure_is_offered_as_roomy():
    """Austrian ordinance, royal python: 0.90 m2 x 0.70 m."""
    size = roomy_size(animals()["python-regius"])
    assert (size.floor_m2, size.height_mm) == (0.9, 700)


@pytest.mark.parametrize(
    ("inside", "short"),
    [
        ((1200, 400, 400), []),
        ((400, 1200, 400), []),
        ((1190, 400, 400), ["floor", "width"]),
        ((1300, 390, 400), ["depth"]),
        ((1200, 400, 399), ["height"]),
    ],
)
def test_a_box_may_be_turned_but_not_be_smaller(inside, short):
    size = by_rule("RSPCA-python", length_mm=1200)
    assert [s.measure for s in shortfalls(size, Box(*inside, 0, "pvc", 12, "solid", 0))] == short


def test_a_rule_about_area_asks_for_no_particular_sides():
    size = by_rule("AT-house-snake")
    assert shortfalls(size, Box(720, 720, 400, 0, "pvc", 12, "solid", 0)) == ()


def test_the_new_south_wales_floor_has_a_shortest_side():
    size = minimum_size(subject(rule_id="NSW-bearded-dragon"), length_mm=200)
    box = Box(2400, 180, 400, 0, "pvc", 12, "solid", 0)
    assert [s.measure for s in shortfalls(size, box)] == ["depth"]


def test_a_shortfall_says_what_is_there_of_what_is_asked_for():
    size = by_rule("RSPCA-python", length_mm=1200)
    found = shortfalls(size, Box(1200, 400, 300, 0, "pvc", 12, "solid", 0))[0]
    assert found.phrase == "height 300 of 400 mm (25.0 % less)"


@pytest.mark.parametrize(
    ("arguments", "argument"),
    [({"count": 0}, "count"), ({"length_mm": 0.0}, "length_mm"), ({"length_mm": float("nan")}, "length_mm")],
)
def test_impossible_animals_are_refused_by_name(arguments, argument):
    with pytest.raises(Impossible) as refusal:
        minimum_size(animals()["python-regius"], **arguments)
    assert refusal.value.argument == argument
