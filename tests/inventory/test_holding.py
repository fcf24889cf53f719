import pytest
import time_machine
from django.utils import timezone

from inventory.actors import Actor
from inventory.calc.lines import Line
from inventory.errors import BadInput, Conflict, NotAllowed, NotEnoughStock, Short, Unknown
from inventory.models import Hold, HoldChange, OutboxMessage
from inventory.selectors import stock
from inventory.services import adjusting, handing_over, holding, receiving
from inventory.services.receiving import Receipt
from tests.inventory.shelf import OWNER, assert_agrees, in_an_hour, levels, make_item, stocked

pytestmark = pytest.mark.django_db


def hold(ref, *lines, **options):
    options.setdefault("until", in_an_hour())
    return holding.hold(ref, lines=[Line(*line) for line in lines], actor=OWNER, **options)


def test_a_hold_takes_every_line_and_leaves_the_rest_free():
    stocked("bag", 5)
    stocked("lamp", 2)
    held = hold("quote 1/1", ("bag", 3), ("lamp", 2))
    assert held.lines == (Line("bag", 3), Line("lamp", 2))
    assert stock.free_by_code(["bag", "lamp"]) == {"bag": 2, "lamp": 0}
    assert_agrees()


def test_one_short_line_refuses_the_whole_hold_and_names_every_short_item():
    stocked("bag", 5)
    stocked("lamp", 2)
    make_item("hide")
    with pytest.raises(NotEnoughStock) as refusal:
        hold("quote 1/1", ("lamp", 3), ("bag", 3), ("hide", 1))
    assert refusal.value.short == (Short("lamp", 3, 2), Short("hide", 1, 0))
    assert (Hold.objects.count(), levels("bag")) == (0, (5, 5, 0))


def test_an_item_named_twice_in_one_demand_counts_once_with_the_sum():
    stocked("bag", 5)
    with pytest.raises(NotEnoughStock) as refusal:
        hold("quote 1/1", ("bag", 3), ("bag", 3))
    assert refusal.value.short == (Short("bag", 6, 5),)
    assert hold("quote 1/1", ("bag", 3), ("bag", 2)).lines == (Line("bag", 5),)


def test_a_hold_is_one_round_trip(django_assert_num_queries):
    stocked("bag", 5)
    with django_assert_num_queries(1):
        hold("quote 1/1", ("bag", 3))


@pytest.mark.parametrize(
    ("line", "refusal"), [(("nothing", 1), Unknown), (("bag", 0), BadInput), (("bag", -1), BadInput)]
)
def test_a_line_that_makes_no_sense_is_refused(line, refusal):
    stocked("bag", 5)
    with pytest.raises(refusal):
        hold("quote 1/1", line)


def test_a_hold_that_would_already_be_over_is_refused():
    stocked("bag", 5)
    with pytest.raises(BadInput, match="until must lie in the future"):
        hold("quote 1/1", ("bag", 1), until=timezone.now())


def test_a_demand_cannot_hold_an_item_twice():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 1))
    with pytest.raises(Conflict, match="already held for quote 1/1"):
        hold("quote 1/1", ("bag", 1))


def test_holding_needs_the_right_to_hold():
    stocked("bag", 5)
    with pytest.raises(NotAllowed):
        holding.hold(
            "quote 1/1", lines=[Line("bag", 1)], until=None, actor=Actor("Ole", frozenset({"count"}))
        )


def test_a_demand_sees_its_own_hold_as_free():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 3))
    assert stock.free_by_code(["bag", "none"], leaving_out="quote 1/1") == {"bag": 5, "none": 0}


def test_overdue_holds_make_room_when_that_is_enough():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 4))
    with time_machine.travel(in_an_hour(), tick=False):
        hold("quote 2/1", ("bag", 5), until=None)
    assert levels("bag") == (5, 5, 5)
    assert OutboxMessage.objects.get().payload == {"demand_ref": "quote 1/1"}
    assert_agrees()


def test_overdue_holds_stay_when_lapsing_them_would_not_be_enough():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 4))
    with time_machine.travel(in_an_hour(), tick=False), pytest.raises(NotEnoughStock):
        hold("quote 2/1", ("bag", 6), until=None)
    assert levels("bag") == (5, 5, 4)


def test_the_sweep_ends_only_what_is_overdue():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 2))
    hold("order 2", ("bag", 1), until=None)
    with time_machine.travel(in_an_hour(), tick=False):
        assert holding.lapse_overdue() == 1
        assert holding.lapse_overdue() == 0
    assert levels("bag") == (5, 5, 1)
    assert_agrees()


def test_a_partial_hold_waits_for_the_rest_and_receipts_fill_the_oldest_first():
    stocked("bag", 1)
    held = hold("order 1", ("bag", 4), partial=True, until=None)
    assert (held.lines, held.wanted) == ((Line("bag", 1),), (Line("bag", 3),))
    hold("order 2", ("bag", 2), partial=True, until=None)
    receiving.receive([Receipt("bag", 4)], actor=OWNER)
    assert list(stock.holds_of("order 1").values_list("quantity", flat=True)) == [4]
    assert list(stock.holds_of("order 2").values_list("quantity", flat=True)) == [1]
    assert [w.quantity for w in stock.wants_of("order 2")] == [1]
    assert [m.topic for m in OutboxMessage.objects.all()] == ["want.filled", "want.filled"]
    assert_agrees()


def test_releasing_twice_is_the_same_as_once():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 9), partial=True)
    assert holding.release("quote 1/1", actor=OWNER, why="changed their mind") == 1
    assert holding.release("quote 1/1", actor=OWNER) == 0
    assert (levels("bag"), stock.wants_of("quote 1/1").count()) == ((5, 5, 0), 0)
    assert_agrees()


def test_a_transfer_keeps_the_age_of_the_promise():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 3))
    hold("quote 2/1", ("bag", 2))
    holding.transfer("quote 1/1", new_ref="order 1", until=None, actor=OWNER)
    adjusting.adjust("bag", quantity=-1, reason="breakage", actor=OWNER)
    kept = dict(Hold.objects.filter(ended_at=None).values_list("demand_ref", "quantity"))
    assert kept == {"order 1": 3, "quote 2/1": 1}
    assert_agrees()


def test_a_transfer_onto_a_demand_that_holds_the_item_is_refused():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 3))
    hold("order 1", ("bag", 2))
    with pytest.raises(Conflict):
        holding.transfer("quote 1/1", new_ref="order 1", until=None, actor=OWNER)
    with pytest.raises(Conflict, match=r"Nothing is held for quote 9/1\."):
        holding.transfer("quote 9/1", new_ref="order 9", until=None, actor=OWNER)


def test_holding_again_may_use_what_the_old_version_held():
    stocked("bag", 5)
    stocked("lamp", 1)
    hold("quote 1/1", ("bag", 4))
    holding.rehold(
        "quote 1/1", new_ref="quote 1/2", lines=[Line("bag", 5), Line("lamp", 1)], until=None, actor=OWNER
    )
    assert (levels("bag"), stock.holds_of("quote 1/1").count()) == ((5, 5, 5), 0)
    assert_agrees()


def test_holding_again_changes_nothing_when_too_little_is_free():
    stocked("bag", 5)
    hold("quote 1/1", ("bag", 4))
    before = HoldChange.objects.count()
    with pytest.raises(NotEnoughStock):
        holding.rehold("quote 1/1", new_ref="quote 1/2", lines=[Line("bag", 6)], until=None, actor=OWNER)
    assert [h.quantity for h in stock.holds_of("quote 1/1")] == [4]
    assert HoldChange.objects.count() == before


@pytest.mark.parametrize(
    ("lost", "kept"),
    [(1, {"a": 2, "b": 2, "c": 1}), (2, {"a": 2, "b": 2}), (3, {"a": 2, "b": 1}), (6, {})],
)
def test_breakage_below_what_is_held_shortens_the_newest_promises_first(lost, kept):
    stocked("bag", 6)
    for ref in ("a", "b", "c"):
        hold(ref, ("bag", 2))
    adjusting.adjust("bag", quantity=-lost, reason="breakage", actor=OWNER)
    assert dict(Hold.objects.filter(ended_at=None).values_list("demand_ref", "quantity")) == kept
    assert {m.topic for m in OutboxMessage.objects.all()} == {"hold.shortened"}
    assert_agrees()


def test_an_overdue_promise_loses_before_a_newer_one_that_stands():
    stocked("bag", 4)
    hold("old", ("bag", 2))
    hold("new", ("bag", 2), until=None)
    with time_machine.travel(in_an_hour(), tick=False):
        adjusting.adjust("bag", quantity=-1, reason="spoiled", actor=OWNER)
    assert dict(Hold.objects.filter(ended_at=None).values_list("demand_ref", "quantity")) == {"new": 2}
    assert_agrees()


def test_a_handed_over_demand_holds_nothing_more():
    stocked("bag", 4)
    hold("order 1", ("bag", 3), until=None)
    handing_over.hand_over("order 1", actor=OWNER)
    assert levels("bag") == (1, 1, 0)
    assert_agrees()
