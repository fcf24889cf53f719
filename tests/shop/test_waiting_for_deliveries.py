"""Held in part: what is free is held, the rest waits, and deliveries fill it before anybody else gets it."""

from datetime import timedelta

import pytest
from django.utils import timezone

from inventory.selectors import stock
from inventory.services import receiving
from shop.selectors import orders as order_selector
from shop.selectors import quotes as quote_selector
from shop.services import attention, drafts, orders, quotes, second_thoughts
from shop.views import quote_deeds
from tests.shop.counter import actor, person, quoted, spec
from tests.shop.screens import deed, signed_in

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def delivered(item, quantity):
    receiving.receive([receiving.Receipt(item, quantity)], actor=actor("Cleo"))


def hold_of(quote):
    return quote_selector.document(quote_selector.find(quote.number))["hold"]


def test_over_http_what_is_free_is_held_and_the_rest_waits_until_it_comes(ben, cleo):
    number = ben.post("quotes/", {"spec": spec(LAMP=3)}).json()["number"]
    assert ben.post(f"quotes/{number}/hold/").status_code == 409
    told = ben.post(f"quotes/{number}/hold/", {"partial": True}).json()["hold"]
    assert (told["lines"], told["waiting"]) == (
        [{"item": "LAMP", "quantity": 2}],
        [{"item": "LAMP", "quantity": 1}],
    )
    cleo.post("receipts/", {"lines": [{"item": "LAMP", "quantity": 2}]})
    told = ben.get(f"quotes/{number}/").json()["hold"]
    assert told["lines"] == [{"item": "LAMP", "quantity": 3}]
    assert ("waiting" in told, stock.free_by_code(["LAMP"])) == (False, {"LAMP": 1})


def test_whoever_waited_longer_is_served_first_and_told():
    first, second = (quoted(HIDE=n) for n in (2, 1))
    for quote in (first, second):
        quotes.hold(quote.number, actor=actor("Ben"), partial=True)
    quotes.hold(first.number, actor=actor("Ben"), partial=True)  # Again: its place is kept.
    delivered("HIDE", 1)
    for quote in (first, second):
        attention.look_after(quote.demand_ref)
        quote.refresh_from_db()
    assert (first.needs_attention, second.needs_attention) == (
        "What this quote waited for has come in: everything is held.",
        "",
    )


def test_a_quote_that_only_waits_is_let_go_of_when_it_is_withdrawn():
    quotes.hold(quoted(HIDE=1).number, actor=actor("Ben"))
    waits = quoted(HIDE=1)
    quotes.hold(waits.number, actor=actor("Ben"), partial=True)
    assert hold_of(waits)["waiting"] == [{"item": "HIDE", "quantity": 1}]
    quotes.withdraw(waits.number, actor=actor("Ben"))
    delivered("HIDE", 1)
    assert stock.free_by_code(["HIDE"]) == {"HIDE": 1}


def test_a_revised_quote_goes_on_waiting():
    quote = quoted(LAMP=3)
    quotes.hold(quote.number, actor=actor("Ben"), partial=True)
    revised = quotes.revise(quote.number, spec=spec(LAMP=4), actor=actor("Ben"))
    assert hold_of(revised)["waiting"] == [{"item": "LAMP", "quantity": 2}]


def test_an_order_may_leave_in_part_and_the_rest_when_it_has_come(ben):
    quote = quoted(LAMP=3)
    quotes.hold(quote.number, actor=actor("Ben"), partial=True)
    assert ben.post(f"quotes/{quote.number}/accept/").status_code == 409
    order = ben.post(f"quotes/{quote.number}/accept/", {"partial": True}).json()
    assert order["waiting"] == [{"item": "LAMP", "quantity": 1}]
    orders.hand_over(order["number"], actor=actor("Cleo"))
    second_thoughts.put_back(order["number"], lines=gone(order["number"]), actor=actor("Cleo"))
    assert orders.hand_over(order["number"], actor=actor("Cleo")).state == "held"
    delivered("LAMP", 1)
    assert orders.hand_over(order["number"], actor=actor("Cleo")).state == "collected"


def gone(number):
    left = order_selector.find(number)
    return [
        second_thoughts.Returned(one.item, one.quantity, lot=one.lot)
        for one in order_selector.gone_with(left.demand_ref)
    ]


def test_an_order_that_lost_stock_may_wait_for_more(ben, cleo):
    order = quotes.accept(quoted(HIDE=1).number, actor=actor("Ben"))
    cleo.post("adjustments/", {"item": "HIDE", "quantity": -1, "reason": "breakage"})
    assert ben.post(f"orders/{order.number}/hold/").status_code == 409
    told = ben.post(f"orders/{order.number}/hold/", {"partial": True}).json()
    assert (told["held"], told["waiting"]) == ([], [{"item": "HIDE", "quantity": 1}])
    attention.look_after(order.demand_ref)
    order.refresh_from_db()
    assert order.needs_attention == ""


def test_an_order_that_waited_when_it_was_cancelled_waits_again_when_that_is_undone():
    order = quotes.accept(quoted(LAMP=3).number, actor=actor("Ben"), partial=True)
    orders.cancel(order.number, actor=actor("Ada"))
    second_thoughts.reopen_order(order.number, actor=actor("Ada"))
    assert quote_selector.promised(order.demand_ref) == ({"LAMP": 2}, {"LAMP": 1})


@pytest.mark.parametrize(("name", "fields"), [("release", {}), ("hold", {"partial": "1"})])
def test_what_is_undone_of_a_quote_that_waits_leaves_it_waiting_as_before(name, fields):
    client, quote = signed_in("Ben"), quoted(LAMP=3)
    quotes.hold(quote.number, until=timezone.now() + timedelta(hours=5), actor=actor("Ben"), partial=True)
    before, (form_class, do) = hold_of(quote), quote_deeds.DEEDS[name]
    form = form_class(fields)
    assert form.is_valid()
    undo = do(quote.number, form, actor("Ben")).undo
    assert hold_of(quote) != before
    deed(client, undo.address, undo.fields)
    after = hold_of(quote)
    assert (after["lines"], after["waiting"]) == (before["lines"], before["waiting"])
    assert after["until"][:16] == before["until"][:16]


@pytest.mark.parametrize("value", ["yes", 1, None])
def test_partial_is_true_or_false(ben, value):
    answer = ben.post(f"quotes/{quoted(LAMP=3).number}/hold/", {"partial": value})
    assert (answer.status_code, answer.json()["errors"][0]["pointer"]) == (422, "/partial")


def test_the_pages_offer_to_wait_and_say_what_is_waited_for():
    client, quote = signed_in("Ben"), quoted(LAMP=3)
    page = f"/quotes/{quote.number}/"
    assert 'id="wait"' in client.get(page).content.decode()
    deed(client, f"{page}hold/", {"partial": "1"})
    waits = 'Waits for a delivery: 1 \N{MULTIPLICATION SIGN} <a href="/shelf/LAMP/">Item LAMP</a>'
    assert waits in client.get(page).content.decode()
    deed(client, f"{page}accept/", {"partial": "1"})
    number = quote_selector.find(quote.number).order.number
    assert waits in client.get(f"/orders/{number}/").content.decode()


def test_the_worktable_holds_what_is_free_and_waits_for_the_rest():
    client = signed_in("Ben")
    draft = drafts.begin(person("Ben"), spec=spec(LAMP=3), actor=actor("Ben"))
    page = f"/worktable/{draft.pk}/"
    assert 'value="wait"' in client.get(page).content.decode()
    deed(client, page, {"deed": "wait"}, htmx=True)
    told = hold_of(drafts.find(person("Ben"), draft.pk).quote)
    assert told["waiting"] == [{"item": "LAMP", "quantity": 1}]
    assert "1 item waits for a delivery" in client.get(page).content.decode()
