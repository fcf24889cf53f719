"""A clerk with a queue: where the next key goes, and that nothing of the sheet hides what is looked for."""

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import DESK
from tests.browser.house import PASSWORD, focused, scan, violations
from tests.browser.test_worktable_keys import Keyboard, settled


@pytest.fixture
def begun(window, live_shop):
    """Lays a standard kit on the worktable; gives the page once its first line has the focus."""

    def lay(kit="fern-column", *, page=None):
        page = page or window("joss")
        page.goto(f"/worktable/{live_shop.kit('joss', kit)}/")
        expect(page.locator("#line-1")).to_be_focused()
        return page, Keyboard(page)

    return lay


def test_after_an_enclosure_the_animal_is_asked_for(window):
    page = window("joss")
    page.goto("/worktable/")
    keys = Keyboard(page)
    keys.type("60x45x45")
    keys.press("Enter")
    expect(page.locator("#animal")).to_be_focused()


def test_the_depths_are_one_key_away_from_every_drawing(begun):
    page, keys = begun()
    keys.press("x", "x")
    expect(page.locator("#tab-uv")).to_have_attribute("aria-selected", "true")
    keys.press("d")
    expect(page.locator("[data-depth-field] input").first).to_be_focused()
    expect(page.locator("#tab-section")).to_have_attribute("aria-selected", "true")


@pytest.mark.parametrize("box", ["own", "lid"])
def test_what_opens_over_the_sheet_closes_by_escape_and_by_going_on(begun, box):
    page, keys = begun()
    page.locator(f"#{box} summary").press("Enter")
    keys.press("Tab", "Escape")
    expect(page.locator(f"#{box}")).not_to_have_attribute("open", "")
    expect(page.locator(f"#{box} summary")).to_be_focused()
    keys.press("Enter")
    page.locator("#fill").focus()
    expect(page.locator(f"#{box}")).not_to_have_attribute("open", "")


def test_what_is_said_of_the_lid_is_worked_out_and_told(begun):
    page, keys = begun()
    page.locator("#lid summary").press("Enter")
    page.locator("#covered").focus()
    keys.type("45")
    expect(page.locator("[data-lid]")).to_have_text("45 %")
    settled(page)
    keys.type("0")
    expect(page.locator("#fault-covered")).to_have_text("covered part of the lid must be from 0 to 90%.")
    assert focused(page) == "covered"


def test_the_list_of_keys_shows_all_of_them_and_closes_by_the_key_that_opens_it(begun):
    page, keys = begun()
    keys.press("?")
    dialog = page.locator("#keys")
    expect(dialog).to_be_visible()
    assert dialog.evaluate("dialog => dialog.scrollHeight <= dialog.clientHeight + 1")
    keys.press("?")
    expect(dialog).to_be_hidden()
    expect(page.locator("#line-1")).to_be_focused()


KEYS_BY_GROUP = """() => Object.fromEntries([...document.querySelectorAll("#keys section")]
.filter(one => one.getClientRects().length)
.map(one => [one.querySelector("h3").textContent, [...one.querySelectorAll("dt")].map(k => k.innerText)]))"""


def test_the_keys_stand_under_what_they_are_for(begun):
    page, keys = begun()
    keys.press("?")
    found = page.evaluate(KEYS_BY_GROUP)
    assert list(found) == ["Going about", "The kit", "The drawing", "The quote", "This page"]
    assert {"/", "?", "w"} <= set(found["Going about"])
    assert {"s", "-", "f", "+", "u", "Enter"} <= set(found["The kit"])
    assert {"x", "d", "y"} == set(found["The drawing"])
    assert {"h", "a", "p"} <= set(found["The quote"])


def test_the_order_is_one_key_away_once_a_kit_is_accepted(begun):
    page, keys = begun()
    keys.press("a")
    expect(page.locator("#to-order")).to_be_visible()
    keys.press("o")
    expect(page.locator("#handover")).to_be_visible()


def test_after_a_wrong_password_in_place_the_password_is_what_one_types(begun):
    page, keys = begun()
    page.context.clear_cookies(name="sessionid")
    keys.press("h")
    page.locator("#again_username").fill("joss")
    page.locator("#again_password").fill("wrong")
    keys.press("Enter")
    expect(page.locator("#sign-in-again")).to_contain_text("do not match")
    expect(page.locator("#again_password")).to_be_focused()
    page.keyboard.type(PASSWORD)
    keys.press("Enter")
    expect(page.locator("#state")).to_contain_text("held")


def test_what_would_do_instead_leaves_the_names_of_parts_their_room(begun):
    page, _ = begun("poison-frog-corner")
    assert page.locator("tr.alt").count()
    widths = page.locator("#parts td.name").evaluate_all("all => all.map(one => one.clientWidth)")
    assert min(widths) > 200


def test_every_figure_is_in_sight_on_a_counters_screen(begun):
    page, keys = begun("crested-tall")
    in_sight = "one => one.scrollHeight <= one.clientHeight"
    assert page.locator(".figures .figure").count() >= 8
    assert page.locator(".telling").evaluate(in_sight)
    keys.press("y")
    expect(page.locator("#all-figures")).to_be_focused()
    assert page.locator("#all-figures .figure").count() >= 24
    assert page.locator("#all-figures").evaluate(in_sight)
    assert violations(page) == {}
    page.locator("#figure-substrate_l").press("Enter")
    expect(page.locator("#working-substrate_l")).to_be_visible()
    keys.press("Escape", "Escape")
    expect(page.locator("#line-1")).to_be_focused()


def test_a_code_scanned_while_a_number_is_focused_is_added_and_the_number_stays(begun):
    page, _ = begun()
    page.locator("#day").fill("23")
    settled(page)
    page.locator("#day").focus()
    scan(page, "GHOSTWOOD-20")
    expect(page.locator("#extra-GHOSTWOOD-20")).to_have_value("1")
    settled(page)
    assert (focused(page), page.locator("#day").input_value()) == ("day", "23")
    expect(page.locator("#fault-day")).to_have_text("")


def test_a_lot_scanned_while_a_quantity_is_focused_is_counted(window, live_shop):
    page = window("joss")
    page.goto(f"/orders/{live_shop.order()}/")
    page.locator("#count-out").click()
    page.locator("#leaves-2").focus()
    scan(page, page.locator("tr[data-codes]").first.get_attribute("data-codes").split()[0])
    expect(page.locator("#leaves-1")).to_have_value("1")
    expect(page.locator("#leaves-2")).to_have_value("0")


def test_a_season_and_a_slot_are_told_beside_the_lid_and_worked_out(begun):
    page, keys = begun()
    page.locator("#lid summary").press("Enter")
    page.locator("#slot").focus()
    keys.type("12")
    page.locator("#latitude").focus()
    keys.type("-21.5")
    expect(page.locator("[data-lid]")).to_have_text("12 mm -21.5°")
    settled(page)
    expect(page.locator("#sheet")).to_contain_text("longest day")


def test_what_is_said_of_a_silent_computer_goes_when_it_answers_again(begun, browser, live_shop):
    context = browser.new_context(viewport=DESK, base_url=live_shop.url)  # its console tells the failure
    live_shop.sign_in(context, "joss")
    page, keys = begun(page=context.new_page())
    page.route("**/worktable/*/", lambda route: route.abort())
    page.locator("#hold").dispatch_event("click")
    expect(page.locator("#notices")).to_contain_text("does not answer")
    page.unroute("**/worktable/*/")
    keys.press("h")
    expect(page.locator("#state")).to_contain_text("held")
    expect(page.locator("#notices")).not_to_contain_text("does not answer")
    context.close()


def test_what_opens_over_the_sheet_stays_on_the_page(begun):
    page, keys = begun()
    for width in (320, 765, 860, 940, 1100, 1300, 1366):
        page.set_viewport_size({"width": width, "height": 700})
        for box in ("lid", "own"):
            page.locator(f"#{box} summary").press("Enter")
            edges = page.locator(f"#{box} .pop").bounding_box()
            assert edges["x"] >= 0, width
            assert edges["x"] + edges["width"] <= width
            keys.press("Escape")
