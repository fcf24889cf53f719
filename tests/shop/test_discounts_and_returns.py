"""Taking a discount away again, and goods that come back over HTTP."""

from decimal import Decimal

import pytest

from inventory.actors import SYSTEM
from inventory.models import Lot, LotState
from shop.models import Discount
from shop.services import drafts, orders, quotes
from tests.shop.counter import actor, person, quoted
from tests.shop.screens import deed, signed_in


@pytest.fixture
def quote(shop):
    return quoted(BAG=2)


@pytest.fixture
def collected(shop):
    order = quotes.accept(quoted(BAG=2).number, actor=SYSTEM)
    return orders.hand_over(order.number, actor=SYSTEM)


def take_off(quote, percent, by):
    return quotes.discount(quote.number, percent=Decimal(percent), why="regular", actor=actor(by))


def back(order, caller, *lines, key=None, why="too large"):
    return caller.post(f"orders/{order.number}/return/", {"lines": list(lines), "why": why}, key=key)


def test_the_page_says_who_gave_a_discount_and_takes_it_away(quote):
    take_off(quote, 5, "Ben")
    client = signed_in("Ben")
    assert "Given by Ben" in client.get(f"/quotes/{quote.number}/").content.decode()
    answer = deed(client, f"/quotes/{quote.number}/full-price/", htmx=True).content.decode()
    assert not Discount.objects.exists()
    assert '<input type="hidden" name="percent" value="5.00">' in answer  # the way back


def test_undoing_a_discount_leads_back_to_the_one_before(quote):
    take_off(quote, 5, "Ben")
    client = signed_in("Ben")
    answer = deed(client, f"/quotes/{quote.number}/discount/", {"percent": "7", "why": "more"}, htmx=True)
    assert '<input type="hidden" name="percent" value="5.00">' in answer.content.decode()


@pytest.mark.parametrize("change", ["full-price", "discount"])
def test_the_counter_does_not_touch_what_the_owner_gave_above_its_limit(quote, change):
    take_off(quote, 40, "Ada")
    fields = {"percent": "5", "why": "less"}
    assert deed(signed_in("Ben"), f"/quotes/{quote.number}/{change}/", fields).status_code == 403
    assert Discount.objects.get().percent == 40
    assert deed(signed_in("Ada"), f"/quotes/{quote.number}/{change}/", fields).status_code == 302


def test_a_discount_is_taken_away_over_http_and_twice_is_once(ben, quote):
    take_off(quote, 5, "Ben")
    for _ in range(2):
        answer = ben.client.delete(f"/api/quotes/{quote.number}/discount/")
        assert (answer.status_code, answer.json()["discount"]) == (200, None)
        assert answer.json()["totals"]["net"] == "29.00"


def test_a_kit_changed_on_the_worktable_is_shown_with_the_discount_of_its_quote(ben, quote):
    take_off(quote, 10, "Ada")
    draft = drafts.take_up(person("Ben"), quote.number, actor=actor("Ben"))
    fields = {"deed": "change", "extra-BAG": "4"}
    shown = deed(signed_in("Ben"), f"/worktable/{draft.pk}/", fields, htmx=True).content.decode()
    deed(signed_in("Ben"), f"/worktable/{draft.pk}/", {"deed": "save"}, htmx=True)
    totals = ben.get(f"quotes/{quote.number}/").json()["totals"]
    assert totals["net"] == "52.20"  # four bags of 14.50 less a tenth
    assert f'id="total">${totals["gross"]}<' in shown


def test_goods_come_back_into_their_lots_once_under_one_key(ben, collected):
    line = {"item": "BAG", "quantity": 1}
    answers = [back(collected, ben, line, key="one-return") for _ in range(2)]
    assert [answer.status_code for answer in answers] == [200, 200]
    assert answers[1]["Idempotency-Replayed"] == "true"
    assert ben.get("items/BAG/").json()["sellable"] == 5


def test_what_is_not_good_goes_into_quarantine(ben, collected):
    back(collected, ben, {"item": "BAG", "quantity": 1, "good": False})
    assert ben.get("items/BAG/").json()["sellable"] == 4
    assert Lot.objects.filter(state=LotState.QUARANTINED, item__code="BAG").count() == 1


@pytest.mark.parametrize(
    ("lines", "why", "status", "pointer"),
    [
        ([{"item": "BAG", "quantity": 3}], "too large", 409, None),
        ([], "too large", 422, "/lines"),
        ([{"item": "BAG", "quantity": 0}], "too large", 422, "/lines/0/quantity"),
        ([{"item": "BAG", "quantity": 1, "good": "yes"}], "too large", 422, "/lines/0/good"),
        ([{"item": "BAG", "quantity": 1}], "", 422, "/why"),
        ([{"item": "NONE", "quantity": 1}], "too large", 422, None),
    ],
)
def test_a_return_that_cannot_be_is_refused_by_name(ben, collected, lines, why, status, pointer):
    answer = back(collected, ben, *lines, why=why)
    assert answer.status_code == status
    assert pointer is None or pointer in [error["pointer"] for error in answer.json()["errors"]]
    assert ben.get("items/BAG/").json()["sellable"] == 4


def test_a_return_needs_a_key_and_somebody_who_may(ben, cleo, collected):
    body = {"lines": [{"item": "BAG", "quantity": 1}], "why": "too large"}
    assert ben.client.post(f"/api/orders/{collected.number}/return/", body, "json").status_code == 400
    assert back(collected, cleo, {"item": "BAG", "quantity": 1}).status_code == 403
