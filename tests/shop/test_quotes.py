from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal

import pytest
import time_machine
from django.db import IntegrityError, transaction
from django.utils import timezone

from inventory.actors import SYSTEM
from inventory.errors import BadInput, Conflict, NotAllowed, NotEnoughStock, Short
from inventory.models import Hold
from inventory.selectors import stock
from inventory.services import adjusting, holding
from shop.models import Change, House, Order, Quote
from shop.selectors import quotes as quote_selector
from shop.services import attention, orders, quotes
from tests.shop.counter import actor, quoted, spec

pytestmark = pytest.mark.usefixtures("shop")


def free():
    return stock.free_by_code(["BAG", "LAMP", "HIDE"])


def document(quote):
    return quote_selector.document(quote_selector.find(quote.number))


def test_a_new_quote_is_open_at_version_one_and_holds_nothing():
    quote = quoted(BAG=2)
    assert (quote.state, quote.version) == ("open", 1)
    assert document(quote)["hold"] is None
    assert free()["BAG"] == 6


def test_numbers_differ_and_carry_a_check_letter():
    first, second = quoted(BAG=1), quoted(BAG=1)
    assert first.number != second.number
    assert first.number[-1].isalpha()


def test_a_hold_takes_every_line_and_the_quote_still_sees_its_own_stock_as_free():
    quote = quoted(BAG=6, LAMP=1)
    quotes.hold(quote.number, actor=actor("Ben"))
    assert free() == {"BAG": 0, "LAMP": 1, "HIDE": 1}
    seen = document(quote)
    assert seen["plan"]["complete"]
    assert seen["hold"]["lines"] == [{"item": "BAG", "quantity": 6}, {"item": "LAMP", "quantity": 1}]


def test_another_quote_sees_less():
    quotes.hold(quoted(BAG=5).number, actor=actor("Ben"))
    line = document(quoted(BAG=2))["plan"]["lines"][0]
    assert (line["status"], line["free"], line["missing"]) == ("short", 1, 1)


def test_a_short_quote_holds_nothing_and_names_what_is_short():
    quote = quoted(BAG=6, HIDE=2)
    with pytest.raises(NotEnoughStock) as refusal:
        quotes.hold(quote.number, actor=actor("Ben"))
    assert refusal.value.short == (Short("HIDE", 2, 1),)
    assert free()["BAG"] == 6


def test_a_hold_ends_at_closing_time_some_days_from_now_in_the_shops_zone():
    House.objects.filter(id=1).update(timezone="America/Denver", closing_time=time(17, 30), hold_days=2)
    with time_machine.travel(datetime(2026, 11, 26, 3, 0, tzinfo=UTC), tick=False):
        quote = quotes.hold(quoted(BAG=1).number, actor=actor("Ben"))
    assert quote.hold_until == datetime(2026, 11, 28, 0, 30, tzinfo=UTC)


@pytest.mark.parametrize("hours", [-1, 0, 24 * 15])
def test_a_hold_may_not_end_in_the_past_nor_too_late(hours):
    number = quoted(BAG=1).number
    with time_machine.travel(timezone.now(), tick=False):
        until = timezone.now() + timedelta(hours=hours)
        with pytest.raises(BadInput) as refusal:
            quotes.hold(number, until=until, actor=actor("Ben"))
    assert refusal.value.errors[0].pointer == "/until"


def test_holding_again_prolongs_the_hold_without_taking_more():
    quote = quoted(BAG=6)
    quotes.hold(quote.number, actor=actor("Ben"))
    later = timezone.now() + timedelta(days=10)
    assert quotes.hold(quote.number, until=later, actor=actor("Ben")).hold_until == later
    assert Hold.objects.get(ended_at=None).quantity == 6


def test_a_held_quote_stays_good_as_long_as_its_hold():
    House.objects.filter(id=1).update(quote_days=1)
    quote = quoted(BAG=1)
    until = timezone.now() + timedelta(days=9)
    held = quotes.hold(quote.number, until=until, actor=actor("Ben"))
    assert held.valid_until >= until.date() - timedelta(days=1)


def test_releasing_frees_the_stock_and_twice_is_the_same_as_once():
    quote = quoted(BAG=4)
    quotes.hold(quote.number, actor=actor("Ben"))
    quotes.release(quote.number, actor=actor("Ben"))
    assert quotes.release(quote.number, actor=actor("Ben")).hold_until is None
    assert free()["BAG"] == 6


def test_revising_a_held_quote_holds_for_the_new_version_instead():
    quote = quoted(BAG=4)
    held = quotes.hold(quote.number, actor=actor("Ben"))
    revised = quotes.revise(quote.number, spec=spec(BAG=6, HIDE=1), actor=actor("Ben"))
    assert (revised.version, revised.hold_until) == (2, held.hold_until)
    assert quote_selector.held_lines(f"quote {quote.number}/2") == {"BAG": 6, "HIDE": 1}
    assert quote_selector.held_lines(f"quote {quote.number}/1") == {}


def test_a_revision_that_cannot_be_held_changes_nothing():
    quote = quoted(BAG=4)
    quotes.hold(quote.number, actor=actor("Ben"))
    with pytest.raises(NotEnoughStock):
        quotes.revise(quote.number, spec=spec(BAG=7), actor=actor("Ben"))
    quote.refresh_from_db()
    assert quote.version == 1
    assert quote_selector.held_lines(quote.demand_ref) == {"BAG": 4}


def test_a_revision_of_a_version_that_is_not_the_newest_is_refused():
    quote = quoted(BAG=1)
    quotes.revise(quote.number, spec=spec(BAG=2), expected_version=1, actor=actor("Ben"))
    with pytest.raises(quotes.StaleVersion):
        quotes.revise(quote.number, spec=spec(BAG=3), expected_version=1, actor=actor("Ben"))


def test_a_note_alone_makes_no_new_version():
    quote = quotes.revise(quoted(BAG=1).number, note="Wants it on Friday.", actor=actor("Ben"))
    assert (quote.version, quote.note) == (1, "Wants it on Friday.")


def test_accepting_a_held_quote_passes_its_stock_to_the_order_without_end():
    quote = quoted(BAG=3, LAMP=1)
    quotes.hold(quote.number, actor=actor("Ben"))
    order = quotes.accept(quote.number, actor=actor("Ben"))
    assert quote_selector.held_lines(order.demand_ref) == {"BAG": 3, "LAMP": 1}
    assert set(Hold.objects.filter(ended_at=None).values_list("until", flat=True)) == {None}
    assert Quote.objects.get(number=quote.number).state == "accepted"


def test_accepting_a_quote_that_was_not_held_holds_it_now_or_refuses():
    order = quotes.accept(quoted(BAG=5).number, actor=actor("Ben"))
    assert quote_selector.held_lines(order.demand_ref) == {"BAG": 5}
    with pytest.raises(NotEnoughStock):
        quotes.accept(quoted(BAG=2).number, actor=actor("Ben"))
    assert Order.objects.count() == 1


def test_accepting_completes_a_hold_that_was_shortened_when_stock_is_back():
    quote = quoted(BAG=6)
    quotes.hold(quote.number, actor=actor("Ben"))
    adjusting.adjust("BAG", quantity=-2, reason="breakage", actor=actor("Ben"))
    with pytest.raises(NotEnoughStock):
        quotes.accept(quote.number, actor=actor("Ben"))
    adjusting.adjust("BAG", quantity=2, reason="found_on_shelf", actor=actor("Ben"))
    order = quotes.accept(quote.number, actor=actor("Ben"))
    assert quote_selector.held_lines(order.demand_ref) == {"BAG": 6}


@pytest.mark.parametrize("deed", [quotes.accept, quotes.hold, quotes.release, quotes.withdraw])
def test_a_withdrawn_quote_can_be_nothing_else_any_more(deed):
    quote = quoted(BAG=1)
    quotes.withdraw(quote.number, actor=actor("Ben"))
    with pytest.raises(Conflict):
        deed(quote.number, actor=actor("Ben"))


def test_withdrawing_frees_what_was_held():
    quote = quoted(BAG=4)
    quotes.hold(quote.number, actor=actor("Ben"))
    quotes.withdraw(quote.number, actor=actor("Ben"))
    assert free()["BAG"] == 6


def test_a_quote_is_good_to_the_end_of_its_last_day_in_the_shops_zone():
    House.objects.filter(id=1).update(timezone="America/Denver")
    quote = quoted(BAG=1)
    Quote.objects.filter(pk=quote.pk).update(valid_until=date(2026, 11, 25))
    assert quotes.lapse_due(now=datetime(2026, 11, 26, 6, 59, tzinfo=UTC)) == 0
    assert quotes.lapse_due(now=datetime(2026, 11, 26, 7, 1, tzinfo=UTC)) == 1


def test_a_lapsed_quote_lets_go_of_its_stock_and_lapsing_twice_is_the_same_as_once():
    quote = quoted(BAG=4)
    quotes.hold(quote.number, actor=actor("Ben"))
    Quote.objects.filter(pk=quote.pk).update(valid_until=date(2020, 1, 1))
    assert (quotes.lapse_due(), quotes.lapse_due()) == (1, 0)
    assert free()["BAG"] == 6


def test_a_quote_past_its_day_is_refused_even_before_it_is_swept():
    quote = quoted(BAG=1)
    Quote.objects.filter(pk=quote.pk).update(valid_until=date(2020, 1, 1))
    with pytest.raises(Conflict):
        quotes.accept(quote.number, actor=actor("Ben"))
    assert document(quote)["state"] == "lapsed"


def test_a_version_once_written_cannot_be_changed():
    version = quoted(BAG=1).versions.get()
    version.plan = {}
    with pytest.raises(IntegrityError), transaction.atomic():
        version.save()


def test_who_did_what_in_which_request_is_written_down():
    quote = quoted(BAG=1)
    quotes.hold(quote.number, actor=actor("Ben"))
    rows = Change.objects.filter(subject=f"quote {quote.number}").values_list("what", "by", "request_id")
    assert list(rows) == [("opened", "Ben", "test-request"), ("held", "Ben", "test-request")]


def test_a_counter_discount_within_the_limit_lowers_the_total():
    quote = quotes.discount(quoted(BAG=2).number, percent=Decimal(10), why="Regular", actor=actor("Ben"))
    seen = document(quote)
    assert seen["discount"]["taken"] == "2.90"
    assert seen["totals"] == {"net": "26.10", "tax": "2.09", "gross": "28.19", "currency": "USD"}


def test_a_discount_above_the_limit_is_the_owners_to_give():
    quote = quoted(BAG=2)
    with pytest.raises(NotAllowed):
        quotes.discount(quote.number, amount=Decimal("5.00"), why="Nice", actor=actor("Ben"))
    quotes.discount(quote.number, amount=Decimal("5.00"), why="Nice", actor=actor("Ada"))
    assert document(quote)["discount"]["taken"] == "5.00"


def test_a_discount_is_shared_over_the_order_lines_to_the_last_cent():
    quote = quoted(BAG=1, LAMP=1, HIDE=1)
    quotes.discount(quote.number, amount=Decimal("10.00"), why="Nice", actor=actor("Ada"))
    order = quotes.accept(quote.number, actor=actor("Ben"))
    shares = [line.discount for line in order.lines.all()]
    assert sum(shares) == Decimal("10.00")
    assert order.net == Decimal("44.49")


@pytest.mark.parametrize(
    "wrong", [{}, {"percent": Decimal(101)}, {"percent": Decimal(0)}, {"amount": Decimal(99)},
              {"percent": Decimal(5), "amount": Decimal(1)}],
)  # fmt: skip
def test_a_discount_is_one_of_percentage_and_amount_and_not_more_than_the_price(wrong):
    with pytest.raises(BadInput):
        quotes.discount(quoted(BAG=1).number, why="Nice", actor=actor("Ada"), **wrong)


def test_a_shortened_hold_flags_its_quote_with_what_is_missing_and_a_new_proposal():
    quote = quoted(BAG=6)
    quotes.hold(quote.number, actor=actor("Ben"))
    adjusting.adjust("BAG", quantity=-2, reason="breakage", actor=actor("Ben"))
    assert attention.look_after(quote.demand_ref)
    attention.look_after(quote.demand_ref)
    seen = document(quote)
    assert "2 of Item BAG missing" in seen["needs_attention"]
    assert seen["proposal"]["lines"][0]["free"] == 4
    assert Change.objects.filter(subject=f"quote {quote.number}", what="needs attention").count() == 1


def test_a_lapsed_hold_flags_its_quote_until_it_is_held_again():
    quote = quoted(BAG=6)
    quotes.hold(quote.number, until=timezone.now() + timedelta(hours=1), actor=actor("Ben"))
    with time_machine.travel(timezone.now() + timedelta(hours=2)):
        holding.lapse_overdue()
        attention.look_after(quote.demand_ref)
        assert "hold ended" in document(quote)["needs_attention"]
        quotes.hold(quote.number, actor=actor("Ben"))
    assert document(quote)["needs_attention"] == ""


def test_an_order_that_lost_stock_says_so_and_can_be_held_again():
    order = quotes.accept(quoted(BAG=6).number, actor=actor("Ben"))
    adjusting.adjust("BAG", quantity=-1, reason="breakage", actor=actor("Ben"))
    attention.look_after(order.demand_ref)
    order.refresh_from_db()
    assert "1 of Item BAG missing" in order.needs_attention
    adjusting.adjust("BAG", quantity=1, reason="found_on_shelf", actor=actor("Ben"))
    assert orders.hold_again(order.number, actor=actor("Ben")).needs_attention == ""


def test_a_demand_that_is_not_the_counters_is_left_alone():
    assert not attention.look_after("batch 17")


def test_an_order_is_collected_when_everything_has_left():
    order = quotes.accept(quoted(BAG=3, LAMP=1).number, actor=actor("Ben"))
    take = orders.Take("BAG", 2)
    assert orders.hand_over(order.number, lines=[take], actor=actor("Cleo")).state == "held"
    assert orders.hand_over(order.number, actor=actor("Cleo")).state == "collected"
    assert [line.handed_over for line in order.lines.all()] == [3, 1]


def test_more_than_is_outstanding_cannot_leave():
    order = quotes.accept(quoted(BAG=3).number, actor=actor("Ben"))
    with pytest.raises(BadInput) as refusal:
        orders.hand_over(order.number, lines=[orders.Take("BAG", 4)], actor=actor("Cleo"))
    assert refusal.value.errors[0].pointer == "/lines/0/quantity"


def test_cancelling_frees_what_has_not_left_and_keeps_the_rest_sold():
    order = quotes.accept(quoted(BAG=3).number, actor=actor("Ben"))
    orders.hand_over(order.number, lines=[orders.Take("BAG", 1)], actor=actor("Cleo"))
    orders.cancel(order.number, why="Moved away", actor=actor("Ben"))
    assert free()["BAG"] == 5
    with pytest.raises(Conflict):
        orders.hand_over(order.number, actor=actor("Cleo"))


def test_a_stop_refuses_hold_and_accept():
    quote = quoted(BAG=1)
    stopped = quote.versions.get().plan
    stopped["cautions"] = [{"level": "stop", "about": "lamp", "text": "The holder carries 60 W only."}]
    quote.versions.create(version=2, spec={}, plan=stopped, created_by="Ben")
    Quote.objects.filter(pk=quote.pk).update(version=2)
    for deed in (quotes.hold, quotes.accept):
        with pytest.raises(Conflict, match="60 W"):
            deed(quote.number, actor=SYSTEM)
