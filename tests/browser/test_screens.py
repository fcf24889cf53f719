"""Every screen in a real browser: axe-core finds nothing, and it reflows at 320 px (WCAG 1.4.10)."""

import pytest
from playwright.sync_api import expect

from inventory.actors import SYSTEM
from inventory.models import Item
from shop.models import Customer, PrintJob, Quote
from shop.services import printing
from shop.services.printing import Wanted
from tests.browser.conftest import DESK, NARROWEST, PHONE
from tests.browser.house import violations

SCREENS = {
    "sign in": "/sign-in/",
    "password": "/password/",
    "quotes": "/quotes/",
    "no quotes": "/quotes/?q=nothing-at-all",
    "open quote": "/quotes/{open}/",
    "held quote": "/quotes/{held}/",
    "lapsed quote": "/quotes/{lapsed}/",
    "orders": "/orders/",
    "held order": "/orders/{order}/",
    "collected order": "/orders/{collected}/",
    "shelf": "/shelf/",
    "item": "/shelf/ROOTGATE-30X30/",
    "prints": "/prints/",
    "prints of open quotes": "/prints/?from=quotes&state=open",
    "mixes": "/mixes/",
    "mix": "/mixes/understorey/?air_lo=20",
    "mix in doubt": "/mixes/dune/?front=deep&water_lo=60&density_lo=1",
    "workings": "/workings/",
    "no workings": "/workings/?q=nothing-at-all",
    "a working": "/workings/packs.cheapest_cover/",
    "a working beyond its source": "/workings/power.continuous_limit_w/?breaker_a=90&volts=120",
    "a working that cannot be": "/workings/geometry.layer_l/?width_m=-1&depth_m=1&front_m=1&back_m=1",
    "facts": "/facts/plant/?q=fern",
    "an animal": "/facts/animal/correlophus-ciliatus/",
    "found": "/find/?q=moss",
    "nothing here": "/cellar/",
}


@pytest.fixture
def address(live_shop):
    def named(screen):
        return SCREENS[screen].format(
            open=live_shop.quote(),
            held=live_shop.quote(held=True),
            lapsed=live_shop.quote("lapsed"),
            order=live_shop.order(),
            collected=live_shop.order("collected"),
        )

    return named


@pytest.fixture
def long_words(live_shop):
    """A note and an item's name that offer no place to break."""
    Quote.objects.filter(number=live_shop.quote()).update(note="w" * 300)
    Item.objects.filter(code="ROOTGATE-45X45").update(name="moss" * 50)


@pytest.mark.parametrize("screen", SCREENS)
def test_axe_finds_nothing_wrong_with_a_screen(window, address, screen):
    page = window("" if screen == "sign in" else "marit", size=DESK)
    page.goto(address(screen))
    assert violations(page) == {}


@pytest.mark.parametrize("screen", SCREENS)
def test_on_a_phone_axe_finds_nothing_wrong_with_a_screen_and_it_reflows_at_320_pixels(
    window, address, screen
):
    page = window("" if screen == "sign in" else "marit", size=PHONE, touch=True)
    page.goto(address(screen))
    assert violations(page) == {}
    page.set_viewport_size(NARROWEST)
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


@pytest.mark.parametrize("screen", ["quotes", "held quote", "held order", "item", "mix", "a working"])
def test_everything_to_press_is_large_enough_for_a_finger(window, address, screen):
    """44 px on touch for buttons and fields of the sheet; WCAG 2.5.8 asks 24 of everything else."""
    page = window(size=PHONE, touch=True)
    page.goto(address(screen))
    small = page.evaluate(
        """() => [...document.querySelectorAll("main button, main input:not([type=hidden]), main select")]
        .filter(one => one.getClientRects().length && !one.matches(".away, [type=checkbox]"))
        .filter(one => one.getBoundingClientRect().height < 43.5).map(one => one.outerHTML.slice(0, 120))"""
    )
    assert small == []


def test_prints_in_every_state_stay_in_their_column(desk, live_shop):
    for state in PrintJob.State.values:
        job = printing.order(Wanted("build_sheet", [live_shop.quote()] * 20), actor=SYSTEM)
        PrintJob.objects.filter(pk=job.pk).update(state=state, done=7, problem="It is gone. " * 20)
    desk.goto("/prints/")
    right = "one => document.querySelector(one).getBoundingClientRect().right"
    for width in (320, 761, 1000, 1241):
        desk.set_viewport_size({"width": width, "height": 700})
        assert desk.evaluate(right, "table.prints") <= desk.evaluate(right, ".wide") + 0.5, width
        assert desk.evaluate("document.documentElement.scrollWidth") <= width
        assert violations(desk) == {}, width


def test_the_box_that_finds_stands_beside_the_rooms_on_a_small_desk(window):
    page = window(size={"width": 1000, "height": 700})
    page.goto("/quotes/")
    assert page.evaluate("document.querySelector('.edge').offsetHeight") < 60


def test_what_may_be_done_is_one_press_away_on_a_phone(phone, live_shop):
    phone.goto(f"/quotes/{live_shop.quote()}/")
    expect(phone.locator("#hold")).not_to_be_in_viewport()
    phone.locator(".jump a").tap()
    expect(phone.locator("#hold")).to_be_in_viewport()


def test_hold_and_accept_stay_in_sight_beside_a_long_kit_and_cover_nothing(desk, live_shop):
    desk.goto(f"/quotes/{live_shop.quote()}/")
    desk.evaluate("scrollTo(0, document.documentElement.scrollHeight)")
    assert desk.evaluate("scrollY") > 100
    for button in ("#hold", "#accept"):
        expect(desk.locator(button)).to_be_in_viewport()
    desk.locator(".papers a").first.focus()
    covered = desk.locator(".deedbox").bounding_box()
    assert desk.locator(".papers a").first.bounding_box()["y"] >= covered["y"] + covered["height"] - 0.5


@pytest.mark.parametrize("size", [DESK, PHONE])
def test_the_button_that_hands_over_is_in_sight_while_lots_are_counted(window, live_shop, size):
    page = window(size=size)
    page.goto(f"/orders/{live_shop.order()}/")
    expect(page.locator("#hand-over")).to_be_in_viewport()
    fields = page.locator("#handover input.quantity")
    fields.last.focus()
    page.keyboard.press("Shift+Tab")
    covered = page.evaluate("document.activeElement.getBoundingClientRect().bottom")
    assert covered <= page.evaluate("document.querySelector('.bar').getBoundingClientRect().top") + 0.5


def test_keys_are_named_where_there_is_a_keyboard_only(window, phone, live_shop):
    address = f"/quotes/{live_shop.quote()}/"
    desk = window()
    desk.goto(address)
    phone.goto(address)
    expect(desk.locator("#accept kbd")).to_be_visible()
    expect(phone.locator("#accept kbd")).to_be_hidden()


@pytest.mark.parametrize("address", ["/quotes/", "/orders/", "/shelf/?q=ROOTGATE", "/mixes/", "/workings/"])
def test_a_list_with_long_words_keeps_to_the_page_and_its_numbers_whole(desk, long_words, address):
    desk.goto(address)
    narrow = "[...document.querySelectorAll('td .state')].every(one => one.offsetHeight < 30)"
    for width in (761, 1000, 1366):
        desk.set_viewport_size({"width": width, "height": 700})
        assert desk.evaluate("document.documentElement.scrollWidth") <= width
        assert desk.evaluate(narrow), width
        if address == "/quotes/":
            assert desk.locator("tbody td:first-child a").first.bounding_box()["height"] < 30, width


def test_axe_does_find_what_is_wrong(desk):
    desk.goto("/quotes/")
    desk.evaluate("document.querySelector('main').insertAdjacentHTML('beforeend', '<img src=\"/x.png\">')")
    assert "image-alt" in violations(desk)


def test_axe_finds_nothing_wrong_with_the_list_of_keys(desk):
    desk.goto("/quotes/")
    desk.keyboard.press("?")
    desk.locator("#keys").wait_for(state="visible")
    assert violations(desk) == {}


def test_axe_finds_nothing_wrong_where_something_is_refused(desk, live_shop):
    desk.goto(f"/quotes/{live_shop.quote()}/")
    desk.locator("#discount-box summary").click()
    desk.locator("#discount-percent").fill("lots")
    desk.keyboard.press("Enter")
    desk.locator("#discount-percent-error").wait_for()
    assert violations(desk) == {}


def test_axe_finds_nothing_wrong_with_a_notice_and_its_undo(desk):
    desk.goto("/shelf/ROOTGATE-30X30/")
    desk.locator("#found").click()
    desk.locator(".notice .undo").wait_for()
    assert violations(desk) == {}


def test_axe_finds_nothing_wrong_with_signing_in_again(window):
    page = window("joss")
    page.goto("/shelf/ROOTGATE-30X30/")
    page.context.clear_cookies(name="sessionid")
    page.locator("#found").click()
    page.locator("#again_username").wait_for()
    assert violations(page) == {}


def test_a_table_of_a_quote_too_wide_for_its_column_never_widens_the_page(window, live_shop):
    page = window(size={"width": 941, "height": 700})
    page.goto(f"/quotes/{live_shop.quote()}/")
    assert page.evaluate("document.documentElement.scrollWidth") <= 941


@pytest.mark.parametrize("size", [PHONE, NARROWEST])
def test_every_room_is_in_sight_on_a_phone(window, size):
    page = window(size=size, touch=True)
    page.goto("/quotes/")
    ends = page.locator(".rooms a").evaluate_all("all => all.map(one => one.getBoundingClientRect().right)")
    assert len(ends) == 7
    assert max(ends) <= size["width"]
    assert page.locator("#find-text").bounding_box()["width"] > 120


def test_a_customers_name_without_a_place_to_break_keeps_to_a_phone(window, live_shop):
    number = live_shop.quote()
    Quote.objects.filter(number=number).update(customer=Customer.objects.create(name="W" * 200))
    page = window(size=NARROWEST, touch=True)
    for address in (f"/quotes/{number}/", "/quotes/", "/worktable/"):
        page.goto(address)
        assert page.evaluate("document.documentElement.scrollWidth") <= 320
