"""A session that ends: warned before, prolonged by one key, and nothing typed is lost after."""

from django.conf import settings
from django.contrib.sessions.models import Session
from playwright.sync_api import expect

from inventory.models import Movement
from shop.models import Quote
from tests.browser.house import PASSWORD, focused

ITEM = "ROOTGATE-30X30"


def test_name_and_password_open_the_first_room(window):
    page = window("")
    page.goto("/quotes/")
    assert focused(page) == "id_username"
    page.keyboard.type("joss")
    page.keyboard.press("Tab")
    page.keyboard.type(PASSWORD)
    page.keyboard.press("Enter")
    page.wait_for_url("**/quotes/")


def test_the_end_of_a_session_is_told_two_minutes_before_and_one_key_prolongs_it(window):
    page = window("joss", new=True)
    page.clock.install()
    page.goto("/quotes/")
    page.clock.fast_forward((settings.SESSION_COOKIE_AGE - 119) * 1000)
    expect(page.locator("#session")).to_contain_text("You will be signed out in two minutes.")
    page.locator("#session button[data-stay]").click()
    expect(page.locator("#session")).to_be_hidden()


def test_nothing_is_said_long_before_the_end(window):
    page = window("joss", new=True)
    page.clock.install()
    page.goto("/quotes/")
    page.clock.fast_forward((settings.SESSION_COOKIE_AGE - 300) * 1000)
    expect(page.locator("#session")).to_be_hidden()


def test_a_deed_met_by_an_ended_session_is_done_once_after_signing_in_in_place(window, live_shop):
    page, number = window("joss"), live_shop.quote()
    page.goto(f"/quotes/{number}/")
    if not page.locator("#note-note").is_visible():
        page.locator("#note-box summary").click()
    page.locator("#note-note").fill("Typed before the end")
    Session.objects.all().delete()
    page.locator("#keep-note").click()
    expect(page.locator("#sign-in-again")).to_be_visible()
    page.locator("#again_username").fill("joss")
    page.locator("#again_password").fill(PASSWORD)
    page.keyboard.press("Enter")
    expect(page.locator("#notices")).to_contain_text(f"The note on quote {number} is changed.")
    expect(page.locator("#session")).to_be_hidden()
    assert Quote.objects.get(number=number).note == "Typed before the end"


def test_a_wrong_password_in_place_is_told_in_place(window):
    page = window("joss")
    page.goto(f"/shelf/{ITEM}/")
    before = Movement.objects.count()
    Session.objects.all().delete()
    page.locator("#found").click()
    page.locator("#again_username").fill("joss")
    page.locator("#again_password").fill("wrong")
    page.keyboard.press("Enter")
    expect(page.locator("#sign-in-again")).to_contain_text("Name and password do not match.")
    assert Movement.objects.count() == before
