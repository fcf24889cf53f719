"""What a caller has already is not sent again, and orders have editions too (RFC 9110, 13.1)."""

import re

import pytest

from shop.models import Change, Order
from shop.services import orders, quotes
from tests.shop.counter import actor, quoted
from tests.shop.screens import deed, signed_in

PAGES = ["quotes", "orders"]
HELD_PAGES = {"quotes": "no-store", "orders": "private, no-cache"}
ORDER_DEEDS = {
    "hand-over": {},
    "hold": {},
    "cancel": {},
    "return": {"lines": [{"item": "BAG", "quantity": 1}], "why": "a leaf was torn"},
}


@pytest.fixture
def paths(shop):
    """An open quote and an order of two bags of which one has left."""
    order = quotes.accept(quoted(BAG=2).number, actor=actor("Ada"))
    orders.hand_over(order.number, lines=[orders.Take("BAG", 1)], actor=actor("Ada"))
    return {"quotes": f"quotes/{quoted(BAG=1).number}/", "orders": f"orders/{order.number}/"}


def edit(page, path):
    number = path.split("/")[1]
    if page == "quotes":
        quotes.revise(number, note="ring first", actor=actor("Ada"))
    else:
        orders.cancel(number, actor=actor("Ada"))


@pytest.mark.parametrize("page", PAGES)
@pytest.mark.parametrize(
    ("header", "status"),
    [
        ("{tag}", 304),
        ("W/{tag}", 304),
        ("*", 304),
        ('"old", W/{tag}', 304),
        ('"old"', 200),
        ("", 400),
        ("old", 400),
        ('"half', 400),
        ('*, "a"', 400),
    ],
)
def test_what_the_caller_has_is_not_sent_again(ben, paths, page, header, status):
    tag = ben.get(paths[page])["ETag"]
    answer = ben.get(paths[page], **{"If-None-Match": header.format(tag=tag)})
    assert answer.status_code == status
    if status == 400:
        assert "If-None-Match" in answer.json()["detail"]
    else:
        assert (answer["ETag"], answer["Cache-Control"]) == (tag, HELD_PAGES[page])
        assert (answer.content == b"") == (status == 304)


@pytest.mark.parametrize("page", PAGES)
def test_what_was_edited_is_sent_again(ben, paths, page):
    known = {"If-None-Match": ben.get(paths[page])["ETag"]}
    edit(page, paths[page])
    answer = ben.get(paths[page], **known)
    assert answer.status_code == 200
    assert answer["ETag"] != known["If-None-Match"]


def test_the_page_of_an_order_refuses_a_deed_on_what_somebody_changed_meanwhile(paths):
    clerk, page = signed_in("Ben"), f"/{paths['orders']}"
    seen = re.search(r'name="edition" value="([^"]+)"', clerk.get(page).content.decode())[1]
    orders.hand_over(page.split("/")[2], lines=[orders.Take("BAG", 1)], actor=actor("Ada"))
    fields = {"edition": seen, "why": "torn", "item": "BAG", "lot": "BAG-0", "quantity": "1"}
    refused = deed(clerk, f"{page}return/", fields, htmx=True)
    assert refused.status_code == 412
    assert "was changed meanwhile" in refused.content.decode()
    now = re.search(r'name="edition" value="([^"]+)"', refused.content.decode())[1]
    assert deed(clerk, f"{page}return/", fields | {"edition": now}, htmx=True).status_code == 200


@pytest.mark.parametrize("name", ORDER_DEEDS)
def test_a_deed_on_an_order_is_done_on_what_was_seen_only(ben, paths, name):
    path, seen = paths["orders"], ben.get(paths["orders"])["ETag"]
    stale = ben.post(f"{path}{name}/", ORDER_DEEDS[name], **{"If-Match": '"old"'})
    assert (stale.status_code, stale.json()["code"]) == (412, "stale_order")
    assert "was changed meanwhile" in stale.json()["detail"]
    assert ben.get(path)["ETag"] == seen
    done = ben.post(f"{path}{name}/", ORDER_DEEDS[name], **{"If-Match": seen})
    assert (done.status_code, done["ETag"]) == (200, ben.get(path)["ETag"])


def test_the_order_of_an_accepted_quote_comes_with_its_tag(ben, paths):
    answer = ben.post(f"{paths['quotes']}accept/")
    assert answer["ETag"] == ben.get(f"orders/{answer.json()['number']}/")["ETag"]
    assert Order.objects.count() == 2


@pytest.mark.parametrize(
    ("method", "body"), [("patch", {"note": "x"}), ("put", {"note": "x"}), ("delete", None)]
)
def test_a_change_repeated_under_a_key_is_answered_as_then_though_the_tag_has_moved_on(
    ben, paths, method, body
):
    path = paths["quotes"]
    ben.post(f"{path}discount/", {"percent": "5", "why": "a regular"})
    address = f"/api/{path}" + ("discount/" if body is None else "")
    headers = {"If-Match": ben.get(path)["ETag"], "Idempotency-Key": "again"}
    first, again = (getattr(ben.client, method)(address, body, "json", headers=headers) for _ in range(2))
    assert (first.status_code, again.status_code, again.json()) == (200, 200, first.json())
    assert again["Idempotency-Replayed"] == "true"
    fresh = headers | {"Idempotency-Key": "new"}
    assert getattr(ben.client, method)(address, body, "json", headers=fresh).status_code == 412


def test_a_long_header_that_is_no_list_is_refused_in_one_pass(ben, paths):
    """Read with backtracking it would take longer than anybody lives."""
    changes, header = Change.objects.count(), '"a"' + ", " * 3000 + "x"
    answer = ben.get(paths["quotes"], **{"If-None-Match": header})
    assert (answer.status_code, Change.objects.count()) == (400, changes)
