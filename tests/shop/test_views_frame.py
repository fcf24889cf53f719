"""The frame of every screen: the door, headers, notices, one answer per refusal."""

import pytest
import time_machine
from django.core import signing
from django.test import Client

from inventory.actors import SYSTEM
from shop.middleware import SessionClock
from shop.models import StaffMember
from shop.services import staff
from tests.shop.counter import person, quoted
from tests.shop.screens import HTMX, PASSWORD, key, newcomer, signed_in

PAGES = ["/quotes/", "/orders/", "/shelf/", "/mixes/", "/find/?q=unknown", "/password/"]


@pytest.mark.parametrize("path", PAGES)
def test_whoever_is_not_signed_in_is_asked_to_and_then_goes_on(shop, path):
    answer = Client().get(path, follow=False)
    if path != "/password/":
        assert answer["Location"].startswith("/sign-in/?next=/")


@pytest.mark.parametrize("path", PAGES)
def test_every_page_forbids_inline_scripts_and_unneeded_powers(shop, path):
    answer = signed_in("Ben").get(path)
    policy = answer["Content-Security-Policy"]
    assert "script-src 'self'" in policy
    assert "unsafe" not in policy
    assert answer["Referrer-Policy"] == "same-origin"
    assert "camera=()" in answer["Permissions-Policy"]


@pytest.mark.parametrize("path", PAGES)
def test_no_page_has_inline_script_style_or_foreign_asset(shop, path):
    page = signed_in("Ben").get(path).content.decode()
    assert "<main" in page
    assert "<style" not in page
    assert " style=" not in page
    assert " onclick=" not in page
    assert page.count("<script") == page.count('<script type="module" src="/static/') + page.count(
        '<script src="/static/'
    )
    assert 'src="http' not in page


@pytest.mark.parametrize("path", ["/quotes/", "/worktable/", "/quotes/9Z/"])
def test_no_screen_is_kept_so_that_going_back_never_shows_what_is_over(shop, path):
    assert signed_in("Ben").get(path)["Cache-Control"] == "private, no-store"


def test_a_person_without_a_role_is_told_so(shop):
    answer = signed_in("Eve").get("/quotes/")
    assert answer.status_code == 403
    assert "needs the right to read" in answer.content.decode()


def test_name_and_password_open_the_page_that_was_asked_for(shop):
    client = Client()
    give_password("Ben")
    answer = client.post(
        "/sign-in/", {"username": "Ben", "password": PASSWORD, "next": "/shelf/"}, follow=False
    )
    assert answer["Location"] == "/shelf/"


def test_signing_in_never_leads_to_another_house(shop):
    give_password("Ben")
    fields = {"username": "Ben", "password": PASSWORD, "next": "https://elsewhere.example/"}
    assert Client().post("/sign-in/", fields)["Location"] == "/"


def test_a_wrong_password_is_told_and_the_name_stays(shop):
    give_password("Ben")
    answer = Client().post("/sign-in/", {"username": "Ben", "password": "no"})
    page = answer.content.decode()
    assert answer.status_code == 401
    assert "Name and password do not match." in page
    assert 'value="Ben"' in page


def test_too_many_tries_are_told_with_the_time_when_the_next_counts(shop):
    give_password("Ben")
    client = Client()
    with time_machine.travel("2026-11-25T15:00:00Z", tick=False):
        for _ in range(8):
            answer = client.post("/sign-in/", {"username": "Ben", "password": "no"})
    assert answer.status_code == 429
    assert "Try again at 09:15:00." in answer.content.decode()
    assert int(answer["Retry-After"]) <= 901


def test_after_the_wait_the_right_password_counts_again(shop):
    give_password("Ben")
    client = Client()
    with time_machine.travel("2026-11-25T15:00:00Z", tick=False):
        for _ in range(9):
            client.post("/sign-in/", {"username": "Ben", "password": "no"})
        locked = client.post("/sign-in/", {"username": "Ben", "password": PASSWORD})
    with time_machine.travel("2026-11-25T15:15:01Z", tick=False):
        opened = client.post("/sign-in/", {"username": "Ben", "password": PASSWORD})
    assert (locked.status_code, opened.status_code) == (429, 302)


def test_a_one_time_password_opens_only_the_choice_of_an_own_one(shop):
    once = staff.one_time_password("Ben", actor=SYSTEM)
    client = newcomer("Ben")
    assert client.get("/quotes/")["Location"] == "/password/"
    fields = {"old": once, "new": "lichen-ledger-lantern"}
    assert client.post("/password/", fields)["Location"] == "/"
    assert client.get("/quotes/").status_code == 200


def test_a_weak_password_is_named_at_its_field(shop):
    once = staff.one_time_password("Ben", actor=SYSTEM)
    answer = newcomer("Ben").post("/password/", {"old": once, "new": "12345"})
    assert answer.status_code == 422
    assert 'aria-describedby="id_new-error"' in answer.content.decode()


def test_signing_out_closes_the_session(shop):
    client = signed_in("Ben")
    client.post("/sign-out/")
    assert client.get("/quotes/").status_code == 302


def test_the_page_knows_how_long_the_session_lasts_and_it_can_be_prolonged(shop):
    client = signed_in("Ben")
    with time_machine.travel("2026-11-25T15:00:00Z", tick=False) as clock:
        full = int(client.get("/quotes/")[SessionClock.HEADER])
        clock.shift(3600)
        later = int(client.get("/quotes/")[SessionClock.HEADER])
        stayed = int(client.post("/stay/")[SessionClock.HEADER])
    assert (full - later, stayed) == (3600, full)


def test_reading_a_page_early_in_a_session_writes_nothing(shop, django_assert_max_num_queries):
    client = signed_in("Ben")
    client.get("/find/")
    with django_assert_max_num_queries(6) as seen:
        client.get("/find/")
    assert not [row for row in seen.captured_queries if row["sql"].startswith(("UPDATE", "INSERT"))]


def test_a_deed_met_by_an_ended_session_is_kept_and_done_once_after_signing_in(shop):
    quote = quoted(BAG=2)
    give_password("Ben")
    client = Client()
    asked = client.post(f"/quotes/{quote.number}/note/", {**key(), "note": "Blue gate, 7 steps"})
    kept = asked.context["kept"]
    answer = client.post("/sign-in/", {"username": "Ben", "password": PASSWORD, "kept": kept})
    fields = dict(answer.context["fields"])
    for _ in range(2):
        client.post(answer.context["address"], fields)
    quote.refresh_from_db()
    assert (asked.status_code, quote.note) == (401, "Blue gate, 7 steps")
    assert signing.loads(kept, salt="shop.kept-deed")["to"] == f"/quotes/{quote.number}/note/"


def test_a_fragment_met_by_an_ended_session_gets_the_sign_in_form_alone(shop):
    quote = quoted(BAG=2)
    answer = Client().post(f"/quotes/{quote.number}/hold/", key(), headers=HTMX)
    assert answer.status_code == 401
    assert "<html" not in answer.content.decode()


def test_a_kept_deed_that_somebody_changed_is_not_done(shop):
    give_password("Ben")
    fields = {"username": "Ben", "password": PASSWORD, "kept": "forged:thing"}
    assert Client().post("/sign-in/", fields)["Location"] == "/"


def test_nothing_at_an_address_is_a_page_of_the_house(shop):
    answer = signed_in("Ben").get("/cellar/")
    assert answer.status_code == 404
    assert "There is nothing at this address." in answer.content.decode()


def test_the_way_to_the_catalogues_upkeep_is_shown_to_whom_it_is_open(shop):
    way = 'href="/admin/"'
    assert way not in signed_in("Ben").get("/quotes/").content.decode()
    StaffMember.objects.filter(username="Ada").update(is_staff=True)
    assert way in signed_in("Ada").get("/quotes/").content.decode()


def test_the_admin_has_no_sign_in_of_its_own(shop):
    assert Client().get("/admin/login/?next=/admin/")["Location"] == "/sign-in/?next=/admin/"


def give_password(name):
    user = person(name)
    user.set_password(PASSWORD)
    user.must_change_password = False
    user.save()


def test_a_form_whose_token_does_not_count_is_told_in_a_sentence(shop):
    client = signed_in("Ben")
    client.handler.enforce_csrf_checks = True
    answer = client.post("/shelf/BAG/found/", key())
    assert answer.status_code == 403
    assert "This form is out of date" in answer.content.decode()
