"""Screens say plainly who may not, what is out of date and what is not there, and units with their signs."""

import pytest
from django.conf import settings
from django.test import Client

from shop.services import drafts, quotes
from tests.shop.counter import actor, person, quoted, spec
from tests.shop.screens import HTMX, signed_in

pytestmark = pytest.mark.usefixtures("shop")


def page(client, path):
    return client.get(path, follow=True).content.decode()


def test_who_may_not_open_a_page_is_told_as_whom_they_are_signed_in():
    assert "You are signed in as Ben, who may not open that page" in page(signed_in("Ben"), "/admin/")
    assert "You are signed in as" not in page(Client(), "/sign-in/")


def test_a_page_that_is_out_of_date_says_so_where_only_a_fragment_was_asked_for():
    client = Client(enforce_csrf_checks=True)
    client.force_login(person("Ben"), backend=settings.AUTHENTICATION_BACKENDS[-1])
    answer = client.post("/worktable/1/", {"deed": "hold"}, headers=HTMX)
    assert (answer.status_code, answer["HX-Retarget"]) == (403, "#notices")
    assert "out of date, and nothing was done" in answer.content.decode()


def test_an_address_where_nothing_is_is_no_deed_that_failed():
    shown = page(signed_in("Ben"), "/cellar/")
    assert "<h1>Nothing here</h1>" in shown
    assert "Not done" not in shown


def test_cautions_read_alike_on_worktable_and_quote():
    draft = drafts.begin(person("Ben"), spec=spec(BAG=1), actor=actor("Ben"))
    for path in (f"/worktable/{draft.pk}/", f"/quotes/{quoted(BAG=1).number}/"):
        shown = page(signed_in("Ben"), path)
        assert "<b>Weight.</b>" in shown
        assert "kg/m2" not in shown


def test_a_quote_says_how_many_there_are_of_an_item():
    assert ">2 bags</td>" in page(signed_in("Ben"), f"/quotes/{quoted(BAG=2).number}/")


def test_the_diary_tells_the_end_of_a_hold_as_people_say_it():
    quote = quotes.hold(quoted(BAG=1).number, actor=actor("Ben"))
    shown = page(signed_in("Ben"), f"/quotes/{quote.number}/")
    assert f"until {quote.hold_until:%a %b} " in shown
    assert "T18:00:00" not in shown


def test_a_known_temperature_has_its_degrees():
    shown = page(signed_in("Ben"), "/facts/animal/ambystoma-tigrinum/")
    assert "</span> °C <b>" in shown
    assert "</span> C <b>" not in shown
