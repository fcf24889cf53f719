"""What the busiest pages ask of the database: the number itself, so that one query more is seen."""

import pytest

from shop.models import Quote
from shop.services import drafts, quotes
from tests.shop.counter import actor, person, quoted, spec
from tests.shop.screens import deed, signed_in

KIT = {"BAG": 1, "LAMP": 1, "HIDE": 1}
PAGES = {  # name: address, queries of one look at it
    "worktable with a quote": ("/worktable/{draft}/", 13),
    "quotes list": ("/quotes/", 7),
    "quote page": ("/quotes/{quote}/", 10),
    "orders list": ("/orders/", 6),
    "order page": ("/orders/{order}/", 11),
    "prints": ("/prints/", 6),
    "shelf list": ("/shelf/", 7),
    "item page": ("/shelf/BAG/", 16),
    "item search": ("/find/?q=bag", 13),
    "API quotes": ("/api/quotes/", 5),
    "API item": ("/api/items/BAG/", 7),
}
CHANGE, PLAN = 13, 5


@pytest.fixture
def names(shop):
    """A draft with its held quote, twenty more quotes, and an order."""
    draft = drafts.begin(person("Ben"), spec=spec(**KIT), actor=actor("Ben"))
    drafts.hold(draft, actor=actor("Ben"))
    for _ in range(20):
        quoted(BAG=1)
    order = quotes.accept(quoted(BAG=2).number, actor=actor("Ben"))
    return {"draft": draft.pk, "quote": Quote.objects.order_by("id")[0].number, "order": order.number}


def look(client, address):
    assert client.get(address).status_code in {200, 302}  # a search that finds one thing leads to it


@pytest.mark.parametrize("page", PAGES)
def test_a_busy_page_asks_so_many_queries_and_no_more(names, page, django_assert_num_queries):
    address, queries = PAGES[page]
    client = signed_in("Ben")
    look(client, address.format(**names))  # what is kept in memory is read once
    with django_assert_num_queries(queries):
        look(client, address.format(**names))


def test_a_change_on_the_worktable_asks_so_many_queries_and_no_more(names, django_assert_num_queries):
    client = signed_in("Ben")
    fields = {"deed": "change", "day": "22"}
    deed(client, f"/worktable/{names['draft']}/", fields, htmx=True)
    with django_assert_num_queries(CHANGE):
        deed(client, f"/worktable/{names['draft']}/", fields | {"day": "23"}, htmx=True)


def test_a_plan_over_http_asks_so_many_queries_and_no_more(names, ben, django_assert_num_queries):
    ben.post("plans/", spec(**KIT))
    with django_assert_num_queries(PLAN):
        ben.post("plans/", spec(BAG=3))
