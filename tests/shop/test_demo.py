"""The demo shop: what its tables promise."""

import csv
from collections import Counter

import pytest

from inventory.calc.gtin import gtin14
from kits.services.facts import FOLDER
from kits.terms.profiles import PROFILE_FIGURES, STYLES
from shop.demo import tables

DEMONSTRATION_PREFIX = "952"  # GS1 General Specifications: prefix 952 is for demonstrations of the system.


def items():
    return list(tables.item_rows())


def figures(role):
    return [found[role] for found in map(tables.profiles, items()) if role in found]


def facts(name):
    with (FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def test_about_four_hundred_items_each_with_its_own_code():
    codes = [row["code"] for row in items()]
    assert 380 <= len(codes) <= 480
    assert len(set(codes)) == len(codes)


def test_every_role_of_the_interface_can_be_done_by_something():
    assert {role for row in items() for role in tables.profiles(row)} == set(PROFILE_FIGURES)


def test_barcodes_are_unique_demonstration_numbers_with_true_check_digits():
    codes = [text for row in items() for text in tables.words(row["barcodes"])]
    assert len(codes) > 300
    assert max(Counter(codes).values()) == 1
    assert {gtin14(text)[1:4] for text in codes} == {DEMONSTRATION_PREFIX}


def test_some_items_answer_to_several_barcodes_and_to_superseded_codes():
    assert sum(len(tables.words(row["barcodes"])) > 1 for row in items()) >= 10
    assert sum(bool(row.get("superseded")) for row in items()) >= 5


@pytest.mark.parametrize(
    ("role", "figure", "kind"), [("plant", "species", "plant"), ("cleanup_crew", "taxon", "cleanup")]
)
def test_every_living_thing_with_facts_is_on_the_list(role, figure, kind):
    known = {row["code"] for row in facts("subjects") if row["kind"] == kind}
    assert {found[figure] for found in figures(role)} == known


def test_enclosures_are_sizes_that_facts_know_and_one_size_is_not_sold():
    known = {row["code"] for row in facts("enclosures")}
    sold = {found["size"] for found in figures("enclosure")}
    assert sold < known
    assert len(known - sold) == 1


def test_each_mix_is_bagged_in_five_sizes_and_every_style_has_a_substrate():
    sizes = Counter(found["mix"] for found in figures("substrate") if "mix" in found)
    assert sizes == Counter({row["code"]: 5 for row in facts("mixes")})
    assert {style for found in figures("substrate") for style in found["styles"]} == set(STYLES)


def test_tracked_items_are_stocked_by_lots_and_the_others_by_number():
    tracked = {row["code"] for row in items() if row.get("tracks_lots")}
    assert {row["item"] for row in tables.rows("lots")} <= tracked
    assert not any(row["stock"] for row in items() if row["code"] in tracked)


def test_lots_are_many_and_some_may_not_be_sold():
    states = Counter(row["state"] for row in tables.rows("lots"))
    assert states["good"] >= 60
    assert states["quarantined"] >= 2
    assert states["expired"] >= 2


def test_some_items_are_short_and_some_are_absent():
    in_lots = Counter()
    for row in tables.rows("lots"):
        in_lots[row["item"]] += int(row["quantity"])
    stock = [int(row["stock"] or in_lots[row["code"]]) for row in items()]
    assert sum(quantity == 0 for quantity in stock) >= 8
    assert sum(0 < quantity <= 3 for quantity in stock) >= 20


def test_quotes_stand_in_every_state():
    states = Counter(row["state"] for row in tables.rows("quotes"))
    assert sum(states.values()) == 20
    assert set(states) == {"open", "held", "accepted", "collected", "cancelled", "lapsed", "withdrawn"}


def test_quotes_and_standard_kits_name_specs_and_customers_that_exist():
    customers = {row["name"] for row in tables.rows("customers")} | {""}
    quotes, kits = tables.rows("quotes"), tables.rows("standard_kits")
    assert {row["customer"] for row in quotes} <= customers
    assert {row["spec"] for row in [*quotes, *kits]} <= set(tables.specs())
    assert len(kits) == 5
