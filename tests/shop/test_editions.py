"""Two clerks on one quote: a deed is done on what its clerk has seen (RFC 9110, 8.8.3 and 13.1.1)."""

import re
from decimal import Decimal

import pytest

from shop.models import Quote
from shop.services import quotes
from tests.shop.counter import actor, quoted, spec
from tests.shop.screens import deed, signed_in

OFF = {"percent": "5.00", "why": "a regular"}


def discounted(number):
    return quotes.discount(number, percent=Decimal(5), why="a regular", actor=actor("Ada"))


EDITS = {
    "spec": lambda number: quotes.revise(number, spec=spec(BAG=3), actor=actor("Ada")),
    "note": lambda number: quotes.revise(number, note="ring first", actor=actor("Ada")),
    "customer": lambda number: quotes.name_customer(number, customer=None, actor=actor("Ada")),
    "hold": lambda number: quotes.hold(number, actor=actor("Ada")),
    "discount": discounted,
    "withdraw": lambda number: quotes.withdraw(number, actor=actor("Ada")),
    "accept": lambda number: quotes.accept(number, actor=actor("Ada")),
}
DEEDS = {
    "hold": {},
    "release": {},
    "discount": OFF,
    "withdraw": {},
    "accept": {},
}


@pytest.fixture
def number(ben):
    return ben.post("quotes/", {"spec": spec(BAG=1), "customer": "Mira Holt"}).json()["number"]


def tag(ben, number):
    return ben.get(f"quotes/{number}/")["ETag"]


def changed(ben, number, body, if_match):
    return ben.client.patch(f"/api/quotes/{number}/", body, "json", headers={"If-Match": if_match})


@pytest.mark.parametrize("edit", EDITS)
def test_every_edit_that_is_shown_makes_another_edition(ben, number, edit):
    before = tag(ben, number)
    EDITS[edit](number)
    assert tag(ben, number) != before


def test_reading_and_the_stock_of_the_day_make_no_other_edition(ben, number):
    before = tag(ben, number)
    quotes.hold(quoted(BAG=5).number, actor=actor("Ada"))
    assert tag(ben, number) == before


@pytest.mark.parametrize("name", DEEDS)
def test_a_deed_on_what_somebody_changed_meanwhile_is_refused_and_nothing_is_done(ben, number, name):
    seen = tag(ben, number)
    quotes.revise(number, note="ring first", actor=actor("Ada"))
    before = tag(ben, number)
    answer = ben.post(f"quotes/{number}/{name}/", DEEDS[name], **{"If-Match": seen})
    assert (answer.status_code, answer.json()["code"]) == (412, "stale_version")
    assert "was changed meanwhile" in answer.json()["detail"]
    assert tag(ben, number) == before


@pytest.mark.parametrize("name", DEEDS)
def test_a_deed_on_what_was_seen_is_done(ben, number, name):
    seen = tag(ben, number)
    answer = ben.post(f"quotes/{number}/{name}/", DEEDS[name], **{"If-Match": seen})
    assert answer.status_code in {200, 201}


def test_a_discount_is_taken_away_from_what_was_seen_only(ben, number):
    seen = tag(ben, number)
    discounted(number)
    path = f"/api/quotes/{number}/discount/"
    assert ben.client.delete(path, headers={"If-Match": seen}).status_code == 412
    assert ben.client.delete(path, headers={"If-Match": tag(ben, number)}).status_code == 200


@pytest.mark.parametrize("body", [{"note": "mine"}, {"customer": None}, {"spec": spec(BAG=2)}])
def test_a_part_of_a_quote_is_changed_on_what_was_seen_only(ben, number, body):
    seen = tag(ben, number)
    quotes.revise(number, note="ring first", actor=actor("Ada"))
    assert changed(ben, number, body, seen).status_code == 412
    assert changed(ben, number, body, tag(ben, number)).status_code == 200


@pytest.mark.parametrize(
    ("header", "status"),
    [
        ("{tag}", 200),
        ("*", 200),
        ('"old", {tag}', 200),
        ('"old" ,, {tag} ,', 200),
        ('"old"', 412),
        ("W/{tag}", 412),
        ("", 400),
        ("3", 400),
        ('"half', 400),
        ("," * 5000 + "x", 400),
        ("{tag} {tag}", 400),
    ],
)
def test_a_list_of_tags_matches_strongly_and_nonsense_is_told(ben, number, header, status):
    answer = changed(ben, number, {"note": "x"}, header.format(tag=tag(ben, number)))
    assert answer.status_code == status
    if status == 400:
        assert "If-Match" in answer.json()["detail"]


def test_a_deed_repeated_under_its_key_is_answered_as_then_though_the_tag_has_moved_on(ben, number):
    seen = {"If-Match": tag(ben, number)}
    first = ben.post(f"quotes/{number}/hold/", {}, key="k", **seen)
    again = ben.post(f"quotes/{number}/hold/", {}, key="k", **seen)
    assert (again.status_code, again.json(), again["ETag"]) == (200, first.json(), first["ETag"])
    assert ben.post(f"quotes/{number}/hold/", {}, key="new", **seen).status_code == 412


def test_the_page_of_a_quote_refuses_a_deed_on_what_somebody_changed_meanwhile(ben, number):
    clerk, page = signed_in("Ben"), f"/quotes/{number}/"
    seen = re.search(r'name="edition" value="([^"]+)"', clerk.get(page).content.decode())[1]
    quotes.revise(number, spec=spec(BAG=6), actor=actor("Ada"))
    refused = deed(clerk, f"{page}accept/", {"edition": seen}, htmx=True)
    assert refused.status_code == 412
    assert "was changed meanwhile" in refused.content.decode()
    assert Quote.objects.get(number=number).state == "open"
    now = re.search(r'name="edition" value="([^"]+)"', refused.content.decode())[1]
    assert deed(clerk, f"{page}accept/", {"edition": now}, htmx=True).status_code == 204
