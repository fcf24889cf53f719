import pytest
from small_shelf import ROLES, Counter, items, offer, shelf

from kits.planning import one_of_each, programme
from kits.planning.coupled import NO_TIME
from kits.planning.selection import StillLacking, select
from kits.terms.needs import Need

LAMP, HOLDER, CONTROL = Need("lamp", count=1), Need("holder", count=1), Need("control", count=1)
SMALL = offer("lamp", "lamp50", 900, cap="E26", watts=50)
LARGE = offer("lamp", "lamp150", 700, cap="E26", watts=150)
WEAK = offer("holder", "weak", 500, cap="E26", watts=60)
STRONG = offer("holder", "strong", 1500, cap="E26", watts=250)
DIMMER = offer("control", "dim", 2000, watts=200)


def chosen(needs, *offers, free=None, **more):
    return select(needs, shelf=shelf(*offers), roles=ROLES, read_free=Counter(**(free or {})), **more)


def test_lamp_and_holder_are_cheapest_together_not_each_alone():
    assert items(chosen([LAMP, HOLDER], SMALL, LARGE, WEAK, STRONG)) == [{"lamp50": 1}, {"weak": 1}]


def test_a_lamp_never_gets_a_holder_that_is_rated_below_it():
    assert items(chosen([LAMP, HOLDER], LARGE, WEAK, STRONG)) == [{"lamp150": 1}, {"strong": 1}]


def test_one_holder_does_not_hold_two_lamps():
    two = Need("lamp", count=2)
    assert items(chosen([two, HOLDER], SMALL, STRONG))[1] == {}
    assert items(chosen([two, Need("holder", count=2)], SMALL, STRONG)) == [{"lamp50": 2}, {"strong": 2}]


def test_what_is_plugged_into_one_control_adds_up():
    needs = [Need("lamp", count=3), CONTROL]
    large = offer("control", "large", 9000, watts=600)
    assert items(chosen(needs, LARGE, DIMMER, large)) == [{"lamp150": 3}, {"large": 1}]


def test_a_holder_that_the_customer_owns_decides_the_lamp():
    owned = {"holder": {"cap": "E26", "watts": 60}}
    assert items(chosen([LAMP], SMALL, LARGE, WEAK, owned=owned)) == [{"lamp50": 1}]


def test_an_owned_holder_of_unknown_watts_is_not_held_against_the_lamp():
    assert items(chosen([LAMP], SMALL, LARGE, WEAK, owned={"holder": {}})) == [{"lamp150": 1}]


def test_a_lamp_that_the_customer_owns_decides_the_holder():
    assert items(chosen([HOLDER], SMALL, WEAK, STRONG, owned={"lamp": {"cap": "E26", "watts": 150}})) == [
        {"strong": 1}
    ]


def test_the_partner_is_unmet_when_none_is_strong_enough_and_says_why():
    selection = chosen([LAMP, HOLDER], LARGE, WEAK)
    assert items(selection) == [{"lamp150": 1}, {}]
    assert "socket E26" in selection.picks[1].refusal
    assert "150 W" in selection.picks[1].refusal


def test_named_items_that_cannot_work_together_are_kept_and_reported():
    selection = chosen(
        [LAMP, HOLDER], SMALL, LARGE, WEAK, STRONG, choose={"lamp": ["lamp150"], "holder": ["weak"]}
    )
    assert items(selection) == [{"lamp150": 1}, {"weak": 1}]
    (conflict,) = selection.conflicts
    assert conflict.role == "lamp"
    assert "150 W" in conflict.text


def test_a_named_lamp_gets_the_holder_that_it_needs():
    selection = chosen([LAMP, HOLDER], SMALL, LARGE, WEAK, STRONG, choose={"lamp": ["lamp150"]})
    assert items(selection) == [{"lamp150": 1}, {"strong": 1}]
    assert selection.conflicts == ()


def test_fixtures_side_by_side_stay_within_the_depth_of_the_top():
    wide = offer("holder", "wide", 100, cap="E26", watts=250, depth_mm=300)
    narrow = offer("holder", "narrow", 900, cap="E26", watts=250, depth_mm=90)
    lamp = offer("lamp", "lamp", 100, cap="E26", watts=50, depth_mm=200)
    limits = {"top_depth_mm": 450.0}
    assert items(chosen([LAMP, HOLDER], wide, narrow, lamp, capacities=limits)) == [
        {"lamp": 1},
        {"narrow": 1},
    ]


def test_fill_free_chooses_a_pair_that_is_free():
    offers = (SMALL, LARGE, WEAK, STRONG)
    free = {"lamp150": 1, "weak": 1, "strong": 1}
    assert items(chosen([LAMP, HOLDER], *offers, free=free, fill="free")) == [{"lamp150": 1}, {"strong": 1}]


def test_fill_free_falls_back_to_the_preferred_item_for_one_role_only():
    selection = chosen([LAMP, HOLDER], SMALL, LARGE, WEAK, STRONG, free={"lamp150": 1}, fill="free")
    assert items(selection) == [{"lamp150": 1}, {"strong": 1}]


def test_fill_free_does_not_give_one_piece_to_two_lamps():
    needs = [Need("lamp", slot=slot, count=1) for slot in ("left", "right")] + [Need("holder", count=2)]
    twin = offer("lamp", "twin", 5000, cap="E26", watts=50)
    free = {"lamp50": 1, "twin": 1, "weak": 2}
    picked = items(chosen(needs, SMALL, twin, WEAK, free=free, fill="free"))
    assert sorted(map(str, picked[:2])) == ["{'lamp50': 1}", "{'twin': 1}"]


def test_a_lamp_without_a_holder_for_want_of_room_says_that_it_is_the_room():
    wide = offer("holder", "wide", 500, cap="E26", watts=250, depth_mm=300)
    selection = chosen([LAMP, HOLDER], SMALL, wide, capacities={"top_depth_mm": 200})
    refusals = {pick.need.role: pick.refusal for pick in selection.picks if not pick.offers}
    assert refusals
    assert all("more top depth than the 200 mm" in refusal for refusal in refusals.values())


def test_what_is_left_out_for_room_is_not_told_to_lack_a_socket():
    thin = offer("holder", "thin", 900, cap="G5", watts=60, depth_mm=62)
    wide = offer("holder", "wide", 500, cap="E26", watts=250, depth_mm=140)
    tube = offer("lamp", "tube", 900, cap="G5", watts=8)
    needs = [LAMP, Need("lamp", slot="b", count=1), HOLDER, Need("holder", slot="b", count=1)]
    selection = chosen(needs, tube, thin, wide, choose={"lamp": ["tube"]}, capacities={"top_depth_mm": 100})
    assert [len(found) for found in items(selection)] == [1, 1, 1, 0]
    assert selection.picks[3].refusal == (
        "Item thin would do the job, but the kit then takes more top depth than the 100 mm there are."
    )


def test_a_holder_that_does_not_suit_names_the_lamp_that_it_fails():
    tube, feeble = offer("lamp", "tube", 900, cap="G5", watts=8), offer("holder", "x", 900, cap="G5", watts=4)
    refusal = chosen([LAMP, HOLDER], tube, feeble, WEAK).picks[1].refusal
    assert "nothing in the kit offers Item tube the socket G5 that it needs for 8 W" in refusal


def test_when_the_time_is_too_short_for_any_answer_a_plan_is_still_made(monkeypatch):
    monkeypatch.setattr(programme, "SECONDS", 0.0)
    monkeypatch.setattr(programme, "LONGEST_WAIT_S", 0.0)
    monkeypatch.setattr(one_of_each, "MOST_STEPS", 0)
    lamps = [
        offer("lamp", f"l{n}", 900 + n * 37 % 101, cap="E26", watts=50 + n, depth_mm=90 - n)
        for n in range(40)
    ]
    holders = [
        offer("holder", f"h{n}", 500 + n * 53 % 97, cap="E26", watts=40 + 2 * n, depth_mm=90 + n % 7)
        for n in range(40)
    ]
    needs = [Need(role, slot=slot, count=1) for role in ("lamp", "holder") for slot in "abc"]
    selection = chosen(needs, *lamps, *holders, capacities={"top_depth_mm": 420})
    (note,) = selection.notes
    assert (note.valid, note.value, note.note) == (False, 1.0, NO_TIME)
    assert not selection.conflicts
    assert any(items(selection))


def test_a_partner_that_no_single_item_can_be_is_missed_at_once():
    made = shelf(
        offer("lamp", "hot", 900, cap="E26", watts=150),
        offer("holder", "weak", 500, cap="E26", watts=60),
        offer("holder", "other", 500, cap="E27", watts=200),
    )
    asked = {"shelf": made, "roles": ROLES, "read_free": Counter(), "trial": True}
    with pytest.raises(StillLacking, match="lamp"):
        select((LAMP, HOLDER), **asked, may_lack=frozenset())
    assert not all(pick.offers for pick in select((LAMP, HOLDER), **asked, may_lack={"holder"}).picks)
    strong = shelf(
        offer("lamp", "hot", 900, cap="E26", watts=150), offer("holder", "h", 1, cap="E26", watts=150)
    )
    picks = select((LAMP, HOLDER), **{**asked, "shelf": strong}, may_lack=frozenset()).picks
    assert all(pick.offers for pick in picks)
