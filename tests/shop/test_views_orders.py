"""Orders on the screen: hand over by lots, in part, back again; cancel and take up again."""

import json
import re

import pytest

from inventory.actors import SYSTEM
from inventory.models import Movement
from inventory.selectors import ledger, stock
from inventory.services import receiving
from inventory.services.receiving import Receipt
from shop.selectors.quotes import held_lines
from shop.services import quotes
from tests.shop.counter import actor, quoted
from tests.shop.screens import HTMX, deed, key, signed_in


@pytest.fixture
def order(shop):
    return quotes.accept(quoted(BAG=3, LAMP=1).number, actor=actor("Ben"))


def rows(*taken):
    return {
        name: [str(row[place]) for row in taken] for place, name in enumerate(("item", "lot", "quantity"))
    }


def test_the_list_of_orders_answers_a_search_with_its_rows_alone(order):
    page = signed_in("Ben").get("/orders/", {"q": order.number}, headers=HTMX).content.decode()
    assert order.number in page
    assert "<html" not in page


def test_what_an_order_and_its_quote_come_to_stands_at_their_head(order):
    ben, total = signed_in("Ben"), f'<dd class="number">${order.gross}</dd>'
    for path in (f"/orders/{order.number}/", f"/quotes/{order.quote.number}/"):
        head = ben.get(path).content.decode().split('<div class="columns">')[0]
        assert total in head


def test_pages_of_orders_cost_a_fixed_number_of_queries(order, django_assert_max_num_queries):
    for _ in range(2):
        quotes.accept(quoted(BAG=1).number, actor=actor("Ben"))
    client = signed_in("Ben")
    client.get("/orders/")
    with django_assert_max_num_queries(10):
        client.get("/orders/")
    with django_assert_max_num_queries(16):
        client.get(f"/orders/{order.number}/")


def test_the_lot_that_expires_first_is_proposed(shop):
    lines = [
        Receipt("BAG", 2, lot="LATE", best_before="2031-05-01"),
        Receipt("BAG", 2, lot="SOON", best_before="2030-05-01"),
    ]
    receiving.receive([Receipt(**vars_of(line)) for line in lines], actor=SYSTEM)
    order = quotes.accept(quoted(BAG=3).number, actor=actor("Ben"))
    page = signed_in("Ben").get(f"/orders/{order.number}/").content.decode()
    assert page.index('value="SOON"') < page.index('value="LATE"')
    assert 'data-codes="SOON BAG"' in page


def vars_of(line):
    from datetime import date

    return {
        "item": line.item, "quantity": line.quantity, "lot": line.lot,
        "best_before": date.fromisoformat(line.best_before),
    }  # fmt: skip


def test_part_of_an_order_leaves_and_the_rest_stays_held(order):
    answer = deed(
        signed_in("Dov"), f"/orders/{order.number}/hand-over/", rows(("BAG", "BAG-0", 2), ("LAMP", "", 0))
    )
    order.refresh_from_db()
    assert answer.status_code == 302
    assert order.state == "held"
    assert held_lines(order.demand_ref) == {"BAG": 1, "LAMP": 1}


def test_when_all_has_left_the_order_is_collected(order):
    deed(signed_in("Dov"), f"/orders/{order.number}/hand-over/", rows(("BAG", "", 3), ("LAMP", "", 1)))
    order.refresh_from_db()
    assert order.state == "collected"


def test_a_hand_over_is_undone_by_reversing_lines_and_held_again(order):
    client = signed_in("Cleo")
    answer = deed(
        client, f"/orders/{order.number}/hand-over/", rows(("BAG", "BAG-0", 3), ("LAMP", "", 1)), htmx=True
    )
    assert f'action="/orders/{order.number}/put-back/"' in answer.content.decode()
    gone = json.dumps([["BAG", "BAG-0", 3], ["LAMP", "", 1]])
    back = deed(client, f"/orders/{order.number}/put-back/", {"rows": gone})
    order.refresh_from_db()
    assert (back.status_code, order.state) == (302, "held")
    assert held_lines(order.demand_ref) == {"BAG": 3, "LAMP": 1}
    assert not ledger.differences()


def test_more_than_is_outstanding_is_refused_and_what_was_typed_stands(order):
    answer = deed(signed_in("Dov"), f"/orders/{order.number}/hand-over/", rows(("BAG", "BAG-0", 7)))
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Of Item BAG only 3 can still leave" in page
    assert 'name="quantity" inputmode="numeric" value="7"' in page
    assert Movement.objects.filter(kind="hand_over").count() == 0


def test_every_row_that_will_not_do_is_marked_and_no_other(order):
    typed = rows(("BAG", "BAG-0", "two"), ("LAMP", "LAMP-0", 5))
    page = deed(signed_in("Dov"), f"/orders/{order.number}/hand-over/", typed).content.decode()
    assert re.findall(r'value="(\w+)" aria-invalid="true"', page) == ["two", "5"]
    typed = rows(("BAG", "BAG-0", "two"), ("LAMP", "LAMP-0", 1))
    page = deed(signed_in("Dov"), f"/orders/{order.number}/hand-over/", typed).content.decode()
    assert re.findall(r'value="(\w+)" aria-invalid="true"', page) == ["two"]


def test_what_comes_back_stands_as_typed_when_the_reason_is_missing(order):
    client = signed_in("Dov")
    deed(client, f"/orders/{order.number}/hand-over/", rows(("BAG", "", 3)))
    answer = deed(client, f"/orders/{order.number}/return/", rows(("BAG", "BAG-0", 2)))
    assert re.search(r'id="back-1" name="quantity" inputmode="numeric" value="2"', answer.content.decode())


@pytest.mark.parametrize("typed", ["many", "-1", "1.5", "²", "9" * 5000])
def test_a_quantity_that_is_no_whole_number_is_named(order, typed):
    answer = deed(signed_in("Dov"), f"/orders/{order.number}/hand-over/", rows(("BAG", "", typed)))
    assert answer.status_code == 422
    assert "Quantity of BAG must be a whole number" in answer.content.decode()


def test_a_broken_put_back_is_refused(order):
    answer = deed(signed_in("Dov"), f"/orders/{order.number}/put-back/", {"rows": '[["BAG"]]'})
    assert answer.status_code == 422


def test_goods_come_back_good_or_into_quarantine(order):
    client = signed_in("Dov")
    deed(client, f"/orders/{order.number}/hand-over/", rows(("BAG", "", 3)))
    path = f"/orders/{order.number}/return/"
    deed(client, path, {**rows(("BAG", "BAG-0", 1)), "why": "one too many", "good": "on"})
    deed(client, path, {**rows(("BAG", "BAG-0", 1)), "why": "wet"})
    assert {row.lot.state for row in stock.balances("BAG")} == {"good", "quarantined"}
    order.refresh_from_db()
    assert order.state == "held"


def test_a_return_without_a_reason_is_named(order):
    client = signed_in("Dov")
    deed(client, f"/orders/{order.number}/hand-over/", rows(("BAG", "", 3)))
    answer = deed(client, f"/orders/{order.number}/return/", rows(("BAG", "BAG-0", 1)))
    assert answer.status_code == 422
    assert "Why must say the reason for the return." in answer.content.decode()


def test_a_cancelled_order_frees_its_stock_and_is_taken_up_again(order):
    client = signed_in("Ben")
    deed(client, f"/orders/{order.number}/cancel/", why="moved away")
    assert held_lines(order.demand_ref) == {}
    deed(client, f"/orders/{order.number}/reopen/")
    assert held_lines(order.demand_ref) == {"BAG": 3, "LAMP": 1}


def test_an_order_whose_stock_went_elsewhere_is_not_taken_up_again(order):
    client = signed_in("Ben")
    deed(client, f"/orders/{order.number}/cancel/")
    quotes.accept(quoted(BAG=6).number, actor=actor("Ben"))
    answer = deed(client, f"/orders/{order.number}/reopen/")
    order.refresh_from_db()
    assert (answer.status_code, order.state) == (409, "cancelled")


def test_an_open_order_is_not_opened_again(order):
    assert deed(signed_in("Ben"), f"/orders/{order.number}/reopen/").status_code == 409


def test_the_counter_may_cancel_and_the_packer_may_not(order):
    assert deed(signed_in("Cleo"), f"/orders/{order.number}/cancel/").status_code == 403
    assert "/cancel/" not in signed_in("Cleo").get(f"/orders/{order.number}/").content.decode()


def test_two_presses_of_hand_over_let_the_goods_leave_once(order):
    client, fields = signed_in("Dov"), {**key(), **rows(("BAG", "", 2))}
    for _ in range(2):
        client.post(f"/orders/{order.number}/hand-over/", fields)
    assert held_lines(order.demand_ref) == {"BAG": 1, "LAMP": 1}


def test_the_diary_says_by_name_what_left(order):
    deed(signed_in("Dov"), f"/orders/{order.number}/hand-over/", rows(("BAG", "BAG-0", 2)))
    assert "2 x Item BAG" in signed_in("Dov").get(f"/orders/{order.number}/").content.decode()
