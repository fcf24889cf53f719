"""A clerk at the worktable with nothing but a keyboard, in a real browser."""

import re

import pytest
from playwright.sync_api import expect

from shop.models import Quote
from tests.browser.conftest import DESK, NARROWEST, PHONE
from tests.browser.house import PASSWORD, focused, scan, violations

BETWEEN_MS = 75  # a quick hand; faster is a scanner


TOO_WIDE = """[...document.querySelectorAll("main *")].filter(one => one.getBoundingClientRect().right > 320.5
    && !one.closest("svg, [hidden], .away")).map(one => one.outerHTML.slice(0, 90))"""


DRAWN = """() => document.querySelector("#figures").dataset.wants
    === document.querySelector("#drawing").dataset.shows"""


class Keyboard:
    """Presses keys one by one and counts them."""

    def __init__(self, page):
        self.page, self.presses = page, 0

    def type(self, text):
        for letter in text:
            self.press(letter)

    def press(self, *names):
        for name in names:
            self.page.keyboard.press(name)
            self.page.wait_for_timeout(BETWEEN_MS)
            self.presses += 1


@pytest.fixture
def clerk(window):
    page = window("joss")
    page.goto("/worktable/")
    return page, Keyboard(page)


CRESTED = {
    "enclosure": {"size": "45x45x60-glass"},
    "animals": [{"species": "correlophus-ciliatus", "count": 1}],
}


@pytest.fixture
def worked_out(window, live_shop):
    """A kit that was begun before, on the worktable again."""
    page = window("joss")
    page.goto(f"/worktable/{live_shop.draft('joss', CRESTED)}/")
    expect(page.locator("#line-1")).to_be_focused()
    page.wait_for_function(DRAWN)
    return page, Keyboard(page)


@pytest.fixture
def typed_out(clerk):
    """The same kit, begun with nothing but keys."""
    page, keys = clerk
    keys.type("crest")
    keys.press("Enter")
    expect(page.locator("#enclosure")).to_be_focused()
    keys.type("45x45x60")
    keys.press("Enter")
    expect(page.locator("#line-1")).to_be_focused()
    page.wait_for_function(DRAWN)
    return page, keys


def settled(page):
    """Wait until nothing is being asked of the server, and what came has settled and been painted."""
    page.wait_for_timeout(250)
    expect(page.locator("#table[data-asking], #table.htmx-request")).to_have_count(0)
    page.wait_for_function(DRAWN)
    painted = "requestAnimationFrame(() => requestAnimationFrame(done))"
    page.evaluate(f"() => new Promise((done) => setTimeout(() => {painted}, 60))")


def test_a_quote_held_and_its_build_sheet_in_at_most_25_key_presses(typed_out):
    page, keys = typed_out
    keys.press("h")
    expect(page.locator("#state")).to_contain_text("held")
    sheet = received(page, lambda: keys.press("p"))
    assert sheet.startswith(b"%PDF")
    assert keys.presses <= 25
    assert Quote.objects.get(number=page.locator("#number").inner_text()).hold_until


def received(page, act):
    """The file that a new window is given."""
    with page.context.expect_event(
        "response", lambda answer: answer.url.endswith("build-sheet.pdf")
    ) as found:
        act()
    address = found.value.url
    return page.context.request.get(address).body()


@pytest.mark.parametrize("field", ["drainage", "substrate_front", "substrate_back", "litter"])
def test_focus_and_caret_stay_in_a_depth_while_the_drawing_changes(worked_out, field):
    page, keys = worked_out
    page.locator(f"#{field}").focus()
    keys.type("30")
    keys.press("ArrowLeft")
    settled(page)
    assert focused(page) == field
    assert page.locator(f"#{field}").input_value() == "30"
    assert page.evaluate("document.activeElement.selectionStart") == 1


def test_a_depth_stands_in_the_drawing_and_tells_what_was_worked_out(worked_out):
    page, _ = worked_out
    assert page.locator("#over #drainage").get_attribute("placeholder") == "40"
    page.locator("#over #drainage").fill("60")
    expect(page.locator("#figures")).to_have_attribute("data-drainage", "60")
    expect(page.locator("#over #drainage")).to_be_focused()


def test_the_latest_of_many_quick_changes_wins(worked_out):
    page, _ = worked_out
    page.locator("#drainage").focus()
    for depth in ("30", "45", "55", "70"):
        page.keyboard.press("Control+a")
        page.keyboard.type(depth, delay=120)
    expect(page.locator("#figures")).to_have_attribute("data-drainage", "70")
    settled(page)
    assert page.locator("#figures").get_attribute("data-drainage") == "70"


def test_a_bad_depth_is_told_at_its_field_and_the_drawing_stands(worked_out):
    page, keys = worked_out
    page.locator("#drainage").focus()
    keys.type("900")
    expect(page.locator("#drainage")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#drawing-section")).to_be_visible()
    assert focused(page) == "drainage"


@pytest.mark.parametrize("pressed", ["f", "fu", "fur"])
def test_the_line_keeps_the_focus_when_everything_is_worked_out_again(worked_out, pressed):
    page, keys = worked_out
    keys.press("j", "j", "j")
    for key in pressed:
        keys.press(key)
        settled(page)
        assert focused(page) == "line-4"


def test_the_first_substitute_of_a_line_is_one_key_away(worked_out):
    page, keys = worked_out
    keys.press("j")
    before = page.locator("#line-2").inner_text()
    keys.press("s")
    expect(page.locator("#line-2")).not_to_have_text(before)
    assert focused(page) == "line-2"
    keys.press("u")
    expect(page.locator("#line-2")).to_have_text(before)


def test_an_opened_line_stays_open_when_the_plan_is_worked_out_again(worked_out):
    page, keys = worked_out
    keys.press("j", "Enter")
    expect(page.locator("[data-part='2'] details")).to_have_attribute("open", "")
    keys.press("f")
    settled(page)
    expect(page.locator("[data-part='2'] details")).to_have_attribute("open", "")


def test_a_line_is_left_out_and_put_back(worked_out):
    page, keys = worked_out
    keys.press("j", "j", "-")
    expect(page.get_by_text("Left out:")).to_be_visible()
    page.get_by_role("button", name=re.compile("put back")).click()
    expect(page.get_by_text("Left out:")).to_have_count(0)


def test_an_item_is_added_by_search_and_by_scan(worked_out):
    page, keys = worked_out
    keys.press("+")
    expect(page.locator("#add")).to_be_focused()
    page.keyboard.type("GHOSTWOOD-60", delay=60)
    keys.press("Enter")
    expect(page.locator("#extra-GHOSTWOOD-60")).to_have_value("1")
    expect(page.locator("#add")).to_have_value("")
    keys.press("Escape")
    scan(page, "GHOSTWOOD-60")
    expect(page.locator("#extra-GHOSTWOOD-60")).to_have_value("2")


def test_a_scan_that_begins_with_a_key_that_acts_at_once_says_so(worked_out):
    page, keys = worked_out
    scan(page, "fzz-77")
    expect(page.locator("#notices")).to_contain_text(
        "began with f, which is a key as well: fill from what is free"
    )
    expect(page.locator("#refusal")).to_contain_text("fzz-77")
    expect(page.locator("#fill")).to_have_value("free")
    keys.press("u")
    expect(page.locator("#fill")).to_have_value("preferred")


def keep_back(page, address, requests):
    """Send nothing to the address, and note what would have been sent."""

    def keep(route):
        requests.append(route)

    page.route(address, keep)


def test_offers_that_come_after_enter_do_not_open_the_list_again(worked_out):
    page, keys = worked_out
    late, deed = [], []
    keep_back(page, "**/offers/?q=GHOSTWOOD-60", late)
    keep_back(page, page.url, deed)
    keys.press("+")
    keys.type("GHOSTWOOD-60")
    keys.press("Enter")
    for route in late + deed:
        route.fulfill(response=route.fetch())
    expect(page.locator("#extra-GHOSTWOOD-60")).to_have_value("1")
    assert late
    expect(page.locator("#add-list")).to_be_hidden()


def test_typing_a_quantity_survives_the_swap_of_its_own_row(worked_out):
    page, keys = worked_out
    page.locator("#add").fill("GHOSTWOOD-60")
    keys.press("Enter")
    page.locator("#extra-GHOSTWOOD-60").focus()
    page.keyboard.press("Control+a")
    page.keyboard.type("123", delay=170)
    settled(page)
    assert (focused(page), page.locator("#extra-GHOSTWOOD-60").input_value()) == ("extra-GHOSTWOOD-60", "123")


def test_a_callout_and_its_row_light_each_other(worked_out):
    page, _ = worked_out
    page.locator("#line-4").hover()
    expect(page.locator("#drawing [data-callout='4']").first).to_have_class(re.compile("lit"))
    page.locator("#drawing [data-callout='2']").first.hover()
    expect(page.locator("#parts [data-part='2']")).to_have_class(re.compile("lit"))


def test_a_figure_opens_its_working(worked_out):
    page, keys = worked_out
    keys.press("y")
    page.locator("#figure-substrate_l").press("Enter")
    expect(page.locator("#working-substrate_l")).to_contain_text("width x depth x (front + back) / 2")


def test_the_keys_are_listed(worked_out):
    page, keys = worked_out
    keys.press("?")
    expect(page.locator("#keys")).to_contain_text("hold everything")
    expect(page.locator("#keys")).to_contain_text("take the first substitute of the line")


def test_an_expired_session_in_the_middle_of_a_hold_loses_nothing(worked_out):
    page, keys = worked_out
    page.context.clear_cookies(name="sessionid")
    keys.press("h")
    again = page.locator("#sign-in-again")
    expect(again).to_be_visible()
    again.locator("input[name=username]").fill("joss")
    again.locator("input[name=password]").fill(PASSWORD)
    page.keyboard.press("Enter")
    expect(page.locator("#state")).to_contain_text("held")


def test_one_plant_leaves_by_a_key_the_others_stay_and_it_comes_back(worked_out):
    page, keys = worked_out
    plants = page.locator("#parts [data-key-of^='plant '] summary")
    before = plants.all_inner_texts()
    plants.first.focus()
    keys.press("-")
    back = page.get_by_role("button", name=f"{before[0]} put back")
    expect(back).to_be_visible()
    expect(plants).to_have_text(before[1:])
    back.click()
    expect(plants).to_have_text(before)


def test_two_quick_presses_of_hold_hold_once(worked_out):
    page, _ = worked_out
    before = Quote.objects.count()
    page.locator("#hold").dblclick()
    expect(page.locator("#state")).to_contain_text("held")
    settled(page)
    assert Quote.objects.count() == before + 1


def test_above_and_back_keep_what_was_typed(worked_out):
    page, keys = worked_out
    page.locator("#litter").fill("30")
    settled(page)
    page.locator("#line-1").focus()
    keys.press("x")
    expect(page.locator("#drawing-floor")).to_be_visible()
    for picture in ("uv", "warmth", "light", "day", "fortnight", "section"):
        keys.press("x")
        expect(page.locator(f"#tab-{picture}")).to_have_attribute("aria-selected", "true")
        expect(page.locator(f"#drawing[data-view={picture}]")).to_be_attached()
    expect(page.locator("#over #litter")).to_have_value("30")


STATES = ["start", "empty", "full", "fault"]


@pytest.mark.parametrize("state", STATES)
def test_axe_finds_nothing_wrong_with_the_worktable(window, live_shop, state):
    page = window("joss", size=DESK)
    show(page, live_shop, state)
    assert violations_above_the_bar(page) == {}


@pytest.mark.parametrize("state", STATES)
def test_the_worktable_reflows_at_320_pixels_and_axe_finds_nothing_wrong_on_a_phone(window, live_shop, state):
    page = window("joss", size=NARROWEST, touch=True)
    show(page, live_shop, state)
    assert page.evaluate(TOO_WIDE) == []
    assert page.evaluate("document.documentElement.scrollWidth") <= 320
    page.set_viewport_size(PHONE)
    assert violations_above_the_bar(page) == {}


def violations_above_the_bar(page):
    """Axe takes whatever is half under the bar at the lower edge for something that is too small to touch."""
    page.evaluate("document.querySelectorAll('#block').forEach(bar => { bar.style.position = 'static' })")
    return violations(page)


def show(page, shop, state):
    if state == "start":
        page.goto("/worktable/")
        return
    spec = {"animals": CRESTED["animals"]}
    draft = shop.draft("joss", spec) if state == "empty" else shop.kit("joss", "crested-tall")
    page.goto(f"/worktable/{draft}/")
    expect(page.locator("#strip")).to_be_visible()
    if state == "fault":
        page.locator("#day").focus()
        page.keyboard.type("99")
        expect(page.locator("#day")).to_have_attribute("aria-invalid", "true")
    settled(page)  # what waits for an answer is dimmed


def test_no_key_is_lost_while_answers_come_in(worked_out):
    """Keys come at any time of an answer: sent, on its way, swapped in, painted."""
    page, _ = worked_out
    page.locator("#drainage").focus()
    for pause in (20, 55, 90, 140):
        page.keyboard.press("Control+a")
        page.keyboard.type("64646464", delay=pause)
        page.keyboard.press("ArrowLeft")
        settled(page)
        assert page.locator("#drainage").input_value() == "64646464"
        assert page.evaluate("document.activeElement.selectionStart") == 7
