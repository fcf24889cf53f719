"""Everything that moves goods: what it does to the four figures, and what it refuses."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest
import time_machine

from inventory import tasks
from inventory.actors import Actor
from inventory.calc.lines import Line
from inventory.errors import BadInput, Conflict, NotAllowed, Unknown
from inventory.models import Hold, Lot, LotBalance, Movement, OutboxMessage, Place, SupersededCode
from inventory.services import (
    adjusting,
    counting,
    handing_over,
    holding,
    lots,
    moving,
    receiving,
    returning,
    reversing,
)
from inventory.services.counting import Counted
from inventory.services.handing_over import Take
from inventory.services.receiving import Receipt
from inventory.services.returning import Returned
from shop.models import House
from tests.inventory.shelf import OWNER, assert_agrees, levels, make_item, stocked

pytestmark = pytest.mark.django_db
TODAY = datetime(2026, 3, 10, 12, tzinfo=UTC)


def receive(code, quantity, **fields):
    return receiving.receive([Receipt(code, quantity, **fields)], actor=OWNER)[0]


def hold(ref, *lines):
    return holding.hold(ref, lines=[Line(*line) for line in lines], until=None, actor=OWNER)


def balances(code):
    rows = LotBalance.objects.filter(item__code=code, on_hand__gt=0)
    return dict(rows.order_by("lot__code").values_list("lot__code", "on_hand"))


def test_a_new_item_has_a_stock_row_and_a_standing_lot():
    item = make_item("bag")
    assert (levels("bag"), item.lots.get().code) == ((0, 0, 0), "bag-0")


def test_a_receipt_without_a_lot_joins_the_standing_lot():
    make_item("bag")
    receive("bag", 3)
    receive("bag", 4, unit_cost=Decimal("2.5"))
    assert (balances("bag"), levels("bag")) == ({"bag-0": 7}, (7, 7, 0))
    assert_agrees()


def test_a_receipt_of_an_item_that_tracks_lots_opens_a_lot():
    make_item("moss", tracks_lots=True)
    first, second = receive("moss", 3).lot, receive("moss", 3).lot
    assert first != second
    assert balances("moss") == {first: 3, second: 3}


def test_a_known_lot_code_is_joined_and_its_date_must_agree():
    make_item("moss")
    receive("moss", 3, lot="A7", best_before=date(2030, 1, 1))
    receive("moss", 2, lot="A7")
    assert balances("moss") == {"A7": 5}
    with pytest.raises(Conflict, match="best_before"):
        receive("moss", 2, lot="A7", best_before=date(2031, 1, 1))


def test_a_lot_code_of_another_item_is_refused_by_name():
    make_item("moss")
    make_item("bark")
    receive("moss", 3, lot="A7")
    with pytest.raises(BadInput, match="lot A7 belongs to another item"):
        receive("bark", 3, lot="A7")


def test_goods_past_their_date_come_in_as_expired():
    make_item("moss")
    receive("moss", 3, lot="A7", best_before=date(2020, 1, 1))
    assert levels("moss") == (3, 0, 0)
    assert_agrees()


@pytest.mark.parametrize(
    ("line", "refusal"),
    [
        (Receipt("bag", 0), BadInput),
        (Receipt("bag", -2), BadInput),
        (Receipt("bag", 2**60), BadInput),
        (Receipt("bag", 1, lot="no spaces"), BadInput),
        (Receipt("bag", 1, unit_cost=Decimal(-1)), BadInput),
        (Receipt("gone", 1), Unknown),
        (Receipt("bag", 1, place="nowhere"), Unknown),
    ],
)
def test_a_receipt_that_makes_no_sense_changes_nothing(line, refusal):
    make_item("bag")
    with pytest.raises(refusal):
        receiving.receive([Receipt("bag", 1), line], actor=OWNER)
    assert (Movement.objects.count(), levels("bag")) == (0, (0, 0, 0))


def test_a_superseded_code_still_finds_its_item():
    SupersededCode.objects.create(item=make_item("bag"), code="old-bag")
    assert receive("old-bag", 2).item == "bag"


def test_lots_leave_first_expired_first_and_never_past_their_date():
    make_item("moss")
    for code, day in (("late", date(2026, 6, 1)), ("past", date(2026, 3, 9)), ("soon", date(2026, 3, 10))):
        with time_machine.travel(TODAY - timedelta(days=9), tick=False):
            receive("moss", 2, lot=code, best_before=day)
    receive("moss", 2, lot="keeps")
    hold("order 1", ("moss", 5))
    with time_machine.travel(TODAY, tick=False):
        left = handing_over.hand_over("order 1", actor=OWNER)
    assert [(one.lot, one.quantity) for one in left] == [("soon", 2), ("late", 2), ("keeps", 1)]
    assert_agrees()


def test_a_quarantined_lot_does_not_leave_the_shop():
    make_item("moss")
    receive("moss", 2, lot="bad", best_before=date(2030, 1, 1))
    receive("moss", 2, lot="fine")
    lots.quarantine("bad", why="mould", actor=OWNER)
    hold("order 1", ("moss", 2))
    with pytest.raises(Conflict, match="Lot bad is quarantined"):
        handing_over.hand_over("order 1", lines=[Take("moss", 1, lot="bad")], actor=OWNER)
    assert handing_over.hand_over("order 1", actor=OWNER)[0].lot == "fine"


def test_a_named_lot_is_what_leaves_and_the_rest_stays_held():
    make_item("moss")
    receive("moss", 2, lot="a")
    receive("moss", 2, lot="b")
    hold("order 1", ("moss", 4))
    takes = [Take("moss", 2), Take("moss", 1, lot="a")]
    left = handing_over.hand_over("order 1", lines=takes, actor=OWNER)
    assert sorted((one.lot, one.quantity) for one in left) == [("a", 1), ("a", 1), ("b", 1)]
    assert levels("moss") == (1, 1, 1)
    assert_agrees()


@pytest.mark.parametrize("take", [Take("bag", 3), Take("lamp", 1)])
def test_more_than_is_held_does_not_leave(take):
    stocked("bag", 5)
    stocked("lamp", 5)
    hold("order 1", ("bag", 2))
    with pytest.raises(Conflict, match="can leave"):
        handing_over.hand_over("order 1", lines=[take], actor=OWNER)
    assert levels("bag") == (5, 5, 2)


def test_nothing_held_means_nothing_to_hand_over():
    stocked("bag", 5)
    with pytest.raises(Conflict, match="Nothing is held for order 1"):
        handing_over.hand_over("order 1", actor=OWNER)


def test_a_lot_with_nothing_left_is_spent_and_wakes_when_something_returns():
    make_item("moss")
    receive("moss", 2, lot="a")
    hold("order 1", ("moss", 2))
    handing_over.hand_over("order 1", actor=OWNER)
    assert Lot.objects.get(code="a").state == "spent"
    returning.take_back("order 1", lines=[Returned("moss", 1)], actor=OWNER)
    assert (Lot.objects.get(code="a").state, levels("moss")) == ("good", (1, 1, 0))
    assert_agrees()


def test_a_doubtful_return_is_set_aside_in_a_lot_of_its_own():
    make_item("moss")
    receive("moss", 2, lot="a")
    hold("order 1", ("moss", 2))
    handing_over.hand_over("order 1", actor=OWNER)
    returning.take_back("order 1", lines=[Returned("moss", 1, good=False)], why="opened", actor=OWNER)
    aside = Lot.objects.get(split_from__code="a")
    assert (aside.state, levels("moss")) == ("quarantined", (1, 0, 0))
    assert_agrees()


def test_no_more_comes_back_than_has_left():
    stocked("bag", 5)
    hold("order 1", ("bag", 2))
    handing_over.hand_over("order 1", actor=OWNER)
    returning.take_back("order 1", lines=[Returned("bag", 1, good=False)], actor=OWNER)
    with pytest.raises(Conflict, match="Of Item bag only 1 can come back"):
        returning.take_back("order 1", lines=[Returned("bag", 2)], actor=OWNER)


@pytest.mark.parametrize(
    ("quantity", "reason", "after"),
    [
        (-1, "breakage", (4, 4, 0)),
        (-5, "display_use", (0, 0, 0)),
        (-2, "opened_bag", (3, 3, 0)),
        (-2, "spoiled", (3, 3, 0)),
        (1, "found_on_shelf", (6, 6, 0)),
        (-3, "count", (2, 2, 0)),
        (3, "correction", (8, 8, 0)),
    ],
)
def test_every_reason_moves_the_figures(quantity, reason, after):
    stocked("bag", 5)
    adjusting.adjust("bag", quantity=quantity, reason=reason, actor=OWNER)
    assert levels("bag") == after
    assert Movement.objects.latest("pk").reason == reason
    assert_agrees()


@pytest.mark.parametrize(
    ("fields", "refusal"),
    [
        ({"quantity": 1, "reason": "breakage"}, BadInput),
        ({"quantity": -1, "reason": "found_on_shelf"}, BadInput),
        ({"quantity": 0, "reason": "count"}, BadInput),
        ({"quantity": -1, "reason": "moonlight"}, BadInput),
        ({"quantity": -6, "reason": "breakage"}, Conflict),
        ({"quantity": -1, "reason": "breakage", "lot": "none"}, Unknown),
        ({"quantity": -1, "reason": "breakage", "lot": "other-0"}, BadInput),
    ],
)
def test_an_adjustment_that_cannot_be_is_refused(fields, refusal):
    stocked("bag", 5)
    stocked("other", 5)
    with pytest.raises(refusal):
        adjusting.adjust("bag", actor=OWNER, **fields)
    assert levels("bag") == (5, 5, 0)


def test_moving_changes_the_place_and_nothing_else():
    stocked("bag", 5)
    Place.objects.create(code="back")
    moving.move("bag", quantity=2, from_place="shelf", to_place="back", actor=OWNER)
    rows = LotBalance.objects.order_by("place__code").values_list("place__code", "on_hand")
    assert (list(rows), levels("bag")) == ([("back", 2), ("shelf", 3)], (5, 5, 0))
    with pytest.raises(Conflict, match="Of Item bag only 3 can be moved from shelf"):
        moving.move("bag", quantity=4, from_place="shelf", to_place="back", actor=OWNER)
    assert_agrees()


def test_an_emptied_place_does_not_spend_a_lot_that_lies_elsewhere():
    make_item("moss")
    receive("moss", 2, lot="a")
    Place.objects.create(code="back")
    moving.move("moss", quantity=2, from_place="shelf", to_place="back", actor=OWNER)
    assert Lot.objects.get(code="a").state == "good"


@pytest.mark.parametrize(
    ("counted", "after"), [(5, (5, 5, 3)), (7, (7, 7, 3)), (2, (2, 2, 2)), (0, (0, 0, 0))]
)
def test_a_count_is_a_fact_even_below_what_is_held(counted, after):
    stocked("bag", 5)
    hold("order 1", ("bag", 3))
    difference = counting.count([Counted("bag", counted)], actor=OWNER)[0]
    assert (difference.before, levels("bag")) == (5, after)
    assert_agrees()


def test_counting_one_lot_leaves_the_others():
    make_item("moss")
    receive("moss", 2, lot="a")
    receive("moss", 2, lot="b")
    counting.count([Counted("moss", 5, lot="a"), Counted("moss", 1, lot="b")], actor=OWNER)
    assert balances("moss") == {"a": 5, "b": 1}
    with pytest.raises(BadInput, match="counted twice"):
        counting.count([Counted("moss", 5, lot="a"), Counted("moss", 1)], actor=OWNER)


def test_quarantine_takes_the_lot_off_sale_at_once_and_release_puts_it_back():
    make_item("moss")
    receive("moss", 3, lot="a")
    receive("moss", 1, lot="b")
    hold("order 1", ("moss", 2))
    lots.quarantine("a", why="mites", actor=OWNER)
    assert (levels("moss"), Hold.objects.get().quantity) == ((4, 1, 1), 1)
    assert OutboxMessage.objects.get().topic == "hold.shortened"
    lots.release("a", actor=OWNER)
    assert levels("moss") == (4, 4, 1)
    with pytest.raises(Conflict, match="not in quarantine"):
        lots.release("a", actor=OWNER)
    assert_agrees()


def test_lots_expire_the_day_after_their_best_before_day():
    make_item("moss")
    receive("moss", 3, lot="a", best_before=date(2030, 5, 1))
    assert lots.expire_due(date(2030, 5, 1)) == 0
    assert lots.expire_due(date(2030, 5, 2)) == 1
    assert levels("moss") == (3, 0, 0)
    assert_agrees()


@pytest.mark.parametrize(("hour", "state"), [(23, "good"), (24, "expired")])
def test_a_best_before_day_ends_when_the_shops_day_ends(hour, state):
    House.objects.update_or_create(id=1, defaults={"timezone": "America/Los_Angeles"})
    make_item("moss")
    receive("moss", 3, lot="a", best_before=date(2030, 5, 1))
    moment = datetime(2030, 5, 1, tzinfo=ZoneInfo("America/Los_Angeles")) + timedelta(hours=hour)
    with time_machine.travel(moment.astimezone(UTC), tick=False):
        tasks.expire_lots()
        assert Lot.objects.get(code="a").state == state
        receive("moss", 3, lot="b", best_before=date(2030, 5, 1))
        assert Lot.objects.get(code="b").state == state
    assert_agrees()


def test_what_comes_back_past_its_day_is_not_for_sale():
    make_item("moss")
    receive("moss", 2, lot="a", best_before=date(2030, 5, 1))
    hold("order 1", ("moss", 2))
    handing_over.hand_over("order 1", actor=OWNER)
    with time_machine.travel(datetime(2030, 5, 9, tzinfo=UTC), tick=False):
        returning.take_back("order 1", lines=[Returned("moss", 1)], actor=OWNER)
        assert (Lot.objects.get(code="a").state, levels("moss")) == ("expired", (1, 0, 0))
    assert_agrees()


def test_a_quarantine_lifted_past_the_lots_day_leaves_it_expired():
    make_item("moss")
    receive("moss", 2, lot="a", best_before=date(2030, 5, 1))
    lots.quarantine("a", why="mites", actor=OWNER)
    with time_machine.travel(datetime(2030, 5, 9, tzinfo=UTC), tick=False):
        assert lots.release("a", actor=OWNER).state == "expired"
    assert levels("moss") == (2, 0, 0)


def test_a_movement_is_reversed_once():
    make_item("bag")
    received = receive("bag", 3)
    reversing.reverse(received.movement_id, why="wrong item", actor=OWNER)
    assert levels("bag") == (0, 0, 0)
    with pytest.raises(Conflict, match="reversed already"):
        reversing.reverse(received.movement_id, why="again", actor=OWNER)
    assert_agrees()


def test_what_has_left_again_cannot_be_reversed_away():
    make_item("bag")
    received = receive("bag", 3)
    adjusting.adjust("bag", quantity=-1, reason="breakage", actor=OWNER)
    with pytest.raises(Conflict, match="cannot be taken from it"):
        reversing.reverse(received.movement_id, why="wrong item", actor=OWNER)
    assert levels("bag") == (2, 2, 0)


NOBODY = Actor("Ole", frozenset())


@pytest.mark.parametrize(
    "act",
    [
        lambda: receiving.receive([Receipt("bag", 1)], actor=NOBODY),
        lambda: adjusting.adjust("bag", quantity=1, reason="count", actor=NOBODY),
        lambda: counting.count([Counted("bag", 1)], actor=NOBODY),
        lambda: moving.move("bag", quantity=1, from_place="shelf", to_place="back", actor=NOBODY),
        lambda: handing_over.hand_over("order 1", actor=NOBODY),
        lambda: returning.take_back("order 1", lines=[Returned("bag", 1)], actor=NOBODY),
        lambda: lots.quarantine("bag-0", why="", actor=NOBODY),
        lambda: lots.release("bag-0", actor=NOBODY),
        lambda: reversing.reverse(1, why="x", actor=NOBODY),
        lambda: holding.release("order 1", actor=NOBODY),
        lambda: holding.transfer("a", new_ref="b", until=None, actor=NOBODY),
        lambda: holding.rehold("a", new_ref="b", lines=[Line("bag", 1)], until=None, actor=NOBODY),
    ],
)
def test_without_the_right_nothing_is_done(act):
    stocked("bag", 5)
    with pytest.raises(NotAllowed):
        act()
    assert levels("bag") == (5, 5, 0)
