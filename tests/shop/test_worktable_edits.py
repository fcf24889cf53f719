"""The worktable's edits of a build spec, one row for each."""

import pytest

from kits.planning.registry import ROLES
from shop.calc import worktable as edits
from shop.calc.worktable_differences import plan_differences, spec_differences
from shop.calc.worktable_fields import field_of, owned_roles, spec_with, texts_of

BOX = {"enclosure": {"size": "45x45x60-glass"}, "style": "humid-forest"}


def line(role, item, *substitutes, quantity=1, each="1.00"):
    found = [{"items": [{"item": code, "quantity": 1} for code in codes]} for codes in substitutes]
    return {
        "role": role,
        "item": item,
        "name": f"Item {item}",
        "quantity": quantity,
        "each": each,
        "substitutes": found,
    }


PLAN = {
    "lines": [
        line("substrate", "SOIL", ["OTHER-SOIL"]),
        line("plant", "FERN", ["IVY"]),
        line("plant", "MOSSY"),
        line("uvb_lamp", "LAMP", ["LONG-LAMP", "LONG-FIXTURE"]),
        line("uvb_fixture", "FIXTURE"),
        line("extra", "HOOK"),
    ]
}


def does(role, item):
    return (role, item) in {("uvb_lamp", "LONG-LAMP"), ("uvb_fixture", "LONG-FIXTURE")}


@pytest.mark.parametrize(
    ("texts", "part", "value"),
    [
        ({"day": "22"}, "room", {"temperature_c": 22}),
        ({"day": "22,5"}, "room", {"temperature_c": 22.5}),
        ({"night": "-3"}, "room", {"night_temperature_c": -3}),
        ({"warmest": "31"}, "room", {"warmest_day_c": 31}),
        ({"humidity": " 60 "}, "room", {"relative_humidity_pct": 60}),
        ({"drainage": "0"}, "depths_mm", {"drainage": 0}),
        (
            {"substrate_front": "60", "substrate_back": "110"},
            "depths_mm",
            {"substrate_front": 60, "substrate_back": 110},
        ),
        ({"animal": "python-regius"}, "animals", [{"species": "python-regius", "count": 1}]),
        (
            {"animal": "python-regius", "count": "2", "sex": "male"},
            "animals",
            [{"species": "python-regius", "count": 2, "sex": "male"}],
        ),
        ({"enclosure": "90x45x45-glass"}, "enclosure", {"size": "90x45x45-glass"}),
        ({"enclosure": "measured", "width": "443"}, "enclosure", {"interior_mm": {"width": 443}}),
        ({"style": "desert"}, "style", "desert"),
        ({"fill": "free"}, "fill", "free"),
        ({"units": "metric"}, "units", "metric"),
    ],
)
def test_a_field_goes_to_its_place_in_the_spec(texts, part, value):
    spec, faults = spec_with(BOX, texts)
    assert spec[part] == value
    assert faults == []


def test_what_is_said_of_an_enclosure_stays_while_its_size_does():
    spec = {**BOX, "enclosure": {**BOX["enclosure"], "covered_share": 0.5}}
    assert spec_with(spec, {"enclosure": "45x45x60-glass"})[0] == spec
    assert spec_with(spec, {"enclosure": "90x45x45-glass"})[0]["enclosure"] == {"size": "90x45x45-glass"}


def test_what_is_typed_of_a_lid_in_percent_is_a_share_and_back_again():
    spec, faults = spec_with(BOX, {"covered": "45", "air": "12.5"})
    assert spec["enclosure"] == {**BOX["enclosure"], "covered_share": 0.45, "air_changes_h": 12.5}
    assert (texts_of(spec)["covered"], texts_of(spec)["air"], faults) == ("45", "12.5", [])
    assert "enclosure" not in spec_with({}, {"covered": "45", "air": "3"})[0]


def test_a_front_slot_and_a_latitude_go_to_their_places_and_leave_nothing_behind():
    spec, faults = spec_with(BOX, {"slot": "20", "latitude": "-21,5"})
    assert (spec["enclosure"]["front_vent"], spec["lighting"]) == (
        {"height_mm": 20},
        {"season": {"latitude_deg": -21.5}},
    )
    assert (texts_of(spec)["slot"], texts_of(spec)["latitude"], faults) == ("20", "-21.5", [])
    spec["enclosure"]["front_vent"]["width_mm"] = 300
    assert spec_with(spec, {"slot": "", "latitude": ""})[0] == BOX
    assert field_of("/lighting/season/latitude_deg") == "latitude"


@pytest.mark.parametrize(
    "name", ["day", "night", "warmest", "humidity", "drainage", "litter", "covered", "air", "slot"]
)
def test_an_emptied_field_takes_its_part_away(name):
    filled, _ = spec_with(BOX, {name: "20"})
    assert spec_with(filled, {name: ""})[0] == BOX


@pytest.mark.parametrize(
    ("texts", "pointer", "words"),
    [
        ({"day": "warm"}, "/room/temperature_c", "day temperature must be a number."),
        ({"litter": "1e9"}, "/depths_mm/litter", "litter must be a number."),
        ({"covered": "95"}, "/enclosure/covered_share", "covered part of the lid must be from 0 to 90%."),
        ({"humidity": "NaN"}, "/room/relative_humidity_pct", "humidity must be a number."),
        (
            {"animal": "python-regius", "count": "two"},
            "/animals/0/count",
            "number of animals must be a whole number.",
        ),
        ({"extra-HOOK": "many"}, "/extra", "the quantity of HOOK must be a whole number."),
    ],
)
def test_a_text_that_is_no_number_is_named_and_changes_nothing(texts, pointer, words):
    spec, faults = spec_with(BOX, {name: text for name, text in texts.items() if name != "animal"} | texts)
    assert [(fault.pointer, fault.detail) for fault in faults] == [(pointer, words)]
    assert {key: spec[key] for key in BOX} == BOX


def test_fields_say_what_the_spec_says_and_back_again():
    spec, _ = spec_with(
        {}, {"animal": "python-regius", "enclosure": "120x60x60-pvc", "day": "25.5", "litter": "20"}
    )
    assert spec_with({}, texts_of(spec))[0] == {
        **spec,
        "animals": [{"species": "python-regius", "count": 1, "stage": "adult", "sex": "unknown"}],
    }


def test_further_animals_and_their_order_stay():
    spec = {"animals": [{"species": "a", "count": 1}, {"species": "b", "count": 2}]}
    changed, _ = spec_with(spec, {"animal": "c", "count": "3"})
    assert changed["animals"] == [{"species": "c", "count": 3}, {"species": "b", "count": 2}]


def test_owning_a_role_forgets_what_was_chosen_or_left_out_of_it():
    spec = BOX | {"choose": {"mister": ["A"], "hide": ["B"]}, "without": ["timer"]}
    changed, _ = spec_with(spec, {}, own=["mister", "timer"])
    assert changed == BOX | {"choose": {"hide": ["B"]}, "own": ["mister", "timer"]}


def test_what_the_customer_measured_of_their_own_thing_stays():
    own = [{"role": "uvb_lamp", "figures": {"watts": 8}}]
    changed, _ = spec_with(BOX | {"own": own}, {}, own=["uvb_lamp", "timer"])
    assert changed["own"] == [*own, "timer"]
    assert owned_roles(changed) == ["uvb_lamp", "timer"]


@pytest.mark.parametrize(
    ("number", "choose"),
    [
        (1, {"substrate": ["OTHER-SOIL"]}),
        (2, {"plant": ["IVY", "MOSSY"]}),
        (4, {"uvb_lamp": ["LONG-LAMP"], "uvb_fixture": ["LONG-FIXTURE"]}),
    ],
)
def test_a_substitute_is_chosen_for_every_role_that_it_fills(number, choose):
    assert edits.with_substitute(BOX, PLAN, line=number, does=does)["choose"] == choose


@pytest.mark.parametrize(("number", "nth"), [(0, 0), (3, 0), (99, 0), (1, 5)])
def test_taking_a_substitute_that_is_not_there_changes_nothing(number, nth):
    assert edits.with_substitute(BOX, PLAN, line=number, nth=nth, does=does) == BOX


FERN = {"role": "plant", "item": "FERN"}


@pytest.mark.parametrize(
    ("number", "part"),
    [(1, {"without": ["substrate"]}), (2, {"without": [FERN]}), (6, {"extra": None}), (0, {}), (99, {})],
)
def test_a_line_goes_with_its_role_and_one_of_several_products_or_an_extra_alone(number, part):
    spec = BOX | {"extra": [{"item": "HOOK", "quantity": 1}]}
    wanted = {key: value for key, value in (spec | part).items() if value is not None}
    assert edits.without_line(spec, PLAN, number) == wanted


def test_what_was_left_out_keeps_its_place_when_another_product_is_taken():
    spec = edits.without_item(BOX, "plant", "GONE")
    taken = edits.with_substitute(spec, PLAN, line=2, nth=0, does=does)
    assert "GONE" in taken["choose"]["plant"]
    assert taken["without"] == spec["without"]


def test_leaving_out_and_putting_back_one_item_comes_back_to_the_same_spec():
    assert edits.wanted_again(edits.without_item(BOX, "plant", "FERN"), "plant", "FERN") == BOX
    assert edits.without_role(edits.without_item(BOX, "plant", "FERN"), "plant")["without"] == ["plant"]


def test_leaving_out_and_putting_back_a_role_comes_back_to_the_same_spec():
    for role in ROLES:
        assert edits.wanted_again(edits.without_role(BOX, role), role) == BOX


def test_fields_that_say_what_they_showed_leave_the_spec_as_it_is():
    for animal in ({"species": "a"}, {"species": "a", "count": 1}, {"species": "a", "sex": "unknown"}):
        spec = {**BOX, "animals": [animal]}
        assert spec_with(spec, texts_of(spec)) == (spec, [])


def test_no_animals_at_all_are_still_a_fault():
    spec = {**BOX, "animals": [{"species": "a"}]}
    assert spec_with(spec, {**texts_of(spec), "count": "0"})[0]["animals"] == [{"species": "a", "count": 0}]


def test_the_same_extra_added_again_counts_up():
    spec = edits.with_extra(edits.with_extra(BOX, "HOOK"), "HOOK")
    assert spec["extra"] == [{"item": "HOOK", "quantity": 2}]
    assert edits.with_extra_quantity(spec, "HOOK", 0) == BOX


@pytest.mark.parametrize(
    ("pointer", "name"),
    [
        ("/room/temperature_c", "day"),
        ("/depths_mm", "substrate_front"),
        ("/enclosure/size", "enclosure"),
        ("/enclosure/interior_mm/width", "width"),
        ("/animals/0/species", "animal"),
        ("", "spec"),
        ("/choose/hide", "spec"),
    ],
)
def test_each_fault_has_its_field(pointer, name):
    assert field_of(pointer) == name


def test_differences_name_the_field_and_both_values():
    theirs = BOX | {"depths_mm": {"litter": 25}, "extra": [{"item": "HOOK", "quantity": 2}], "own": ["timer"]}
    assert spec_differences(BOX, theirs) == [
        "litter: nothing said, theirs 25",
        "customer has: nothing, theirs timer",
        "extras: nothing, theirs 2 x HOOK",
    ]


def test_a_kit_that_costs_otherwise_today_says_so():
    before = {"lines": [line("hide", "A", each="9.00"), line("hide", "B")], "totals": {"gross": "10.00"}}
    today = {"lines": [line("hide", "A", each="9.50"), line("hide", "C")], "totals": {"gross": "10.50"}}
    assert plan_differences(before, today) == [
        "no longer Item B",
        "now Item C",
        "Item A: 9.00 → 9.50 each",
        "total 10.00 → 10.50",
    ]
    assert plan_differences(before, before) == []


def test_differences_name_what_people_know_by_name():
    theirs = BOX | {
        "style": "desert",
        "extra": [{"item": "HOOK", "quantity": 2}],
        "choose": {"hide": ["DEN"]},
    }
    names = {"HOOK": "Brass hook", "DEN": "Clay den", "desert": "desert", "humid-forest": "humid forest"}
    assert spec_differences(BOX, theirs, name=names.__getitem__) == [
        "style: humid forest, theirs desert",
        "extras: nothing, theirs 2 x Brass hook",
        "chosen: nothing, theirs Clay den",
    ]
