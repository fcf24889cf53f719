"""Mixes over HTTP: the same figures as on the screen, and designs that write nothing."""

import pytest

from inventory.models import Item
from kits.physics.mix_bounds import Bounds
from kits.physics.mix_design import design_mix
from kits.physics.mixes import Bed
from shop.selectors import mixes
from tests.shop.counter import Caller
from tests.shop.mixing import mixed, stock_loose

BODY = {
    "ingredients": [{"item": "CHIPS"}, {"item": "COMPOST"}, {"item": "SAND"}],
    "front_mm": 60,
    "back_mm": 110,
    "litres": 20,
    "bounds": {"water_lo_pct": 60, "air_lo_pct": 15, "density_lo_kg_l": 0.3},
}


@pytest.fixture
def mixing(shop):
    stock_loose()
    mixed("understorey", "Understorey mix", CHIPS="4", COMPOST="3")


def test_the_list_has_each_mix_with_its_figures(mixing, ada):
    (row,) = ada.get("mixes/").json()
    figures = mixes.listing()[0].figures
    assert (row["code"], row["style"], row["front_mm"]) == ("understorey", "humid-forest", 60)
    assert row["figures"]["water_pct"] == pytest.approx(100 * figures.water, abs=1e-3)
    assert row["figures"]["shrinkage_pct"] == pytest.approx(100 * figures.shrinkage, abs=1e-3)
    assert row["failures"] == []


def test_one_mix_is_judged_as_asked(mixing, ada):
    body = ada.get("mixes/understorey/", {"front": "4 in", "back": "4 in", "air_lo": "30"}).json()
    assert body["front_mm"] == pytest.approx(101.6)
    assert body["bounds"] == ["container capacity of at least 45 %", "air space of at least 30 %"]
    assert "too little for at least 30 %." in body["failures"][0]
    assert {part["medium"] for part in body["parts"]} == {"coir-chips", "peat-free-compost"}


def test_bad_fields_are_named_each_with_its_pointer(mixing, ada):
    answer = ada.get("mixes/understorey/", {"front": "deep", "air_lo": "200", "with": "BAG"})
    assert answer.status_code == 422
    assert {fault["pointer"] for fault in answer.json()["errors"]} == {"/front", "/air_lo", "/with"}


def test_a_design_is_the_least_cost_mix_of_what_was_named(mixing, ada):
    answer = ada.post("mixes/design/", BODY).json()
    known = mixes.usable()
    bounds = Bounds(water_lo=0.6, air_lo=0.15, density_lo=0.3)
    bed = Bed(front_mm=60, back_mm=110, litres=20)
    made = design_mix([known[code] for code in ("CHIPS", "COMPOST", "SAND")], bounds, bed)
    assert answer["feasible"] is True
    assert answer["cost"] == f"{made.cents / 100:.4f}"
    assert {part["item"]: part["litres"] for part in answer["parts"]} == {
        part.ingredient.code: round(part.litres, 3) for part in made.parts
    }


def test_a_design_needs_no_key_and_limits_of_a_share_count(mixing, ada):
    ingredients = [{"item": "CHIPS", "most_pct": 20}, {"item": "COMPOST"}]
    answer = ada.client.post("/api/mixes/design/", {**BODY, "bounds": {}, "ingredients": ingredients}, "json")
    shares = {part["item"]: part["share_pct"] for part in answer.json()["parts"]}
    assert shares.get("CHIPS", 0) <= 20 + 1e-6
    assert sum(shares.values()) == pytest.approx(100, abs=0.01)


def test_bounds_that_clash_come_as_a_sentence(mixing, ada):
    answer = ada.post("mixes/design/", {**BODY, "bounds": {"water_lo_pct": 80, "density_lo_kg_l": 1.4}})
    body = answer.json()
    assert (answer.status_code, body["feasible"], body["parts"], body["figures"]) == (200, False, [], None)
    assert "cannot both be met" in body["clash"]


@pytest.mark.parametrize(("who", "sees"), [("ada", True), ("ben", False), ("cleo", False)])
def test_costs_are_only_for_those_who_may_see_them(mixing, who, sees, request):
    caller = request.getfixturevalue(who)
    assert ("cost_per_l" in caller.get("mixes/").json()[0]) is sees
    design = caller.post("mixes/design/", BODY).json()
    assert ("cost" in design) is sees
    assert all(("saving" in mix) is sees for mix in design["cheaper"])


@pytest.mark.parametrize(
    ("changes", "pointer"),
    [
        ({"ingredients": []}, "/ingredients"),
        ({"ingredients": [{"item": "CHIPS"}, {"item": "BAG"}]}, "/ingredients/1/item"),
        ({"ingredients": [{"item": "CHIPS"}] * 2}, "/ingredients"),
        ({"ingredients": [{"item": "CHIPS"}] * 9}, "/ingredients"),
        ({"front_mm": "60"}, "/front_mm"),
        ({"front_mm": 1e300}, "/front_mm"),
        ({"litres": True}, "/litres"),
        ({"bounds": {"water_lo_pct": 101}}, "/bounds/water_lo_pct"),
        ({"bounds": {"wetness": 1}}, "/bounds/wetness"),
        ({"ingredients": [{"item": "FERN"}], "bounds": {"carbon_nitrogen_hi": 30}}, "/ingredients"),
    ],
)
def test_a_bad_design_is_refused_by_name(mixing, ada, changes, pointer):
    answer = ada.post("mixes/design/", {**BODY, **changes})
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["pointer"] == pointer


def test_whoever_has_no_role_reads_no_mix(mixing):
    eve = Caller("Eve")
    assert eve.get("mixes/").status_code == 403
    assert eve.post("mixes/design/", BODY).status_code == 403


def test_a_mix_that_is_not_there_is_told(mixing, ada):
    assert ada.get("mixes/moonlight/").status_code == 404


def test_items_without_a_cost_are_named_as_counting_for_nothing(mixing, ada):
    Item.objects.filter(code="SAND").update(cost=0)
    assert ada.post("mixes/design/", BODY).json()["unpriced"] == ["SAND"]


def test_a_mix_without_bounds_says_that_nothing_tests_it(mixing, ada):
    mixed("dune", "Dune mix", SAND="6", TOPSOIL="2")
    assert {row["code"]: row["bounds_known"] for row in ada.get("mixes/").json()} == {
        "dune": False,
        "understorey": True,
    }
