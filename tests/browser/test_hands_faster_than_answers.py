"""A clerk whose keys come faster than the answers: no deed, no digit and no drawing is lost on the way."""

import pytest
from django.contrib.sessions.models import Session
from playwright.sync_api import expect

from tests.browser.house import PASSWORD

EXTRA = "#parts input[name=extra-{}]"


class Held:
    """Keeps back what the worktable asks for, until it is let go."""

    def __init__(self, page, method="POST"):
        self.page, self.routes, self.method, self.is_open = page, [], method, False
        page.route("**/worktable/*/**", self.keep)

    def keep(self, route):
        if self.is_open or route.request.method != self.method:
            route.continue_()
        else:
            self.routes.append(route)

    def asked(self, do):
        with self.page.expect_request(lambda request: request.method == self.method):
            do()

    def let_go(self):
        self.is_open = True
        for route in self.routes:
            route.continue_()


@pytest.fixture
def laid(desk, live_shop):
    """A kit that was begun before, on the worktable again."""
    desk.goto(f"/worktable/{live_shop.kit('marit', 'crested-tall')}/")
    expect(desk.locator("#line-1")).to_be_focused()
    return desk


def test_two_deeds_that_wait_are_both_done_in_their_order(laid):
    held, name = Held(laid), laid.locator("#line-2").inner_text()
    held.asked(lambda: laid.locator("#day").fill("24"))
    laid.locator("#line-2").focus()
    laid.keyboard.press("-")
    laid.locator("#save").click()
    held.let_go()
    expect(laid.locator("#version")).to_have_text("1")
    laid.reload()
    expect(laid.locator("#parts tbody").filter(has_text=name)).to_have_count(0)
    expect(laid.locator("#day")).to_have_value("24")


def test_two_scans_that_wait_are_two_items(laid):
    held = Held(laid)
    held.asked(lambda: scan(laid, "ROOTGATE-30X30"))
    scan(laid, "ROOTGATE-30X30")
    held.let_go()
    expect(laid.locator(EXTRA.format("ROOTGATE-30X30"))).to_have_value("2")


def scan(page, code):
    page.keyboard.type(code)
    page.keyboard.press("Enter")


def test_a_digit_typed_before_the_answer_stays_when_its_field_is_left(laid):
    scan(laid, "ROOTGATE-30X30")
    field, held = laid.locator(EXTRA.format("ROOTGATE-30X30")), Held(laid)
    held.asked(lambda: field.fill("4"))
    field.fill("45")
    laid.locator("#night").focus()
    held.let_go()
    expect(laid.locator("#parts tbody", has_text=" short").filter(has_text="Rootgate")).to_be_visible()
    expect(field).to_have_value("45")


def test_another_drawing_that_is_looked_at_meanwhile_stays(laid):
    held = Held(laid)
    held.asked(lambda: laid.locator("#day").fill("24"))
    laid.locator("#tab-above").click()
    expect(laid.locator("#drawing")).to_have_attribute("data-view", "above")
    held.let_go()
    expect(laid.locator("#table:not([data-asking])")).to_be_attached()
    wants = laid.locator("#figures").get_attribute("data-wants")
    expect(laid.locator("#drawing")).to_have_attribute("data-shows", wants)
    expect(laid.locator("#drawing")).to_have_attribute("data-view", "above")


def test_a_drawing_on_its_way_comes_though_something_is_typed_that_it_does_not_show(laid):
    held = Held(laid, method="GET")
    held.asked(lambda: laid.locator("#tab-above").click())
    laid.locator("#customer").fill("Ida Quill")
    held.let_go()
    expect(laid.locator("#drawing")).to_have_attribute("data-view", "above")


def test_a_drawing_that_is_got_ahead_is_not_asked_for_again_by_who_does_not_wait_for_it(laid):
    asked = []
    laid.on("request", lambda request: asked.append(request.url) if "?view=" in request.url else None)
    for view in ("above", "uv", "warmth", "light", "day"):
        laid.locator(f"#tab-{view}").click()
    expect(laid.locator("#drawing")).to_have_attribute("data-view", "day")
    assert len(asked) == len(set(asked)) >= 5


def test_going_back_and_forward_in_the_browser_comes_to_the_whole_table(desk):
    desk.goto("/worktable/")
    desk.get_by_role("button", name="Crested gecko, tall 45").click()
    expect(desk.locator("#line-1")).to_be_focused()
    desk.go_back()
    expect(desk.locator("#begin")).to_be_visible()
    desk.go_forward()
    expect(desk.locator("#line-1")).to_be_visible()
    desk.locator("#day").fill("24")
    desk.wait_for_function("document.querySelector('[name=before]').value !== '0'")


def test_what_is_typed_into_an_ended_session_arrives_once_after_signing_in(laid):
    before = laid.locator("#day").input_value()
    Session.objects.all().delete()
    laid.locator("#day").fill("24")
    laid.locator("#again_username").fill("marit")
    laid.locator("#again_password").fill(PASSWORD)
    with laid.expect_response(
        lambda answer: answer.request.method == "POST" and "x-serial" in answer.headers
    ):
        laid.keyboard.press("Enter")
    laid.reload()
    expect(laid.locator("#day")).to_have_value("24")
    laid.locator("#undo").click()
    expect(laid.locator("#day")).to_have_value(before)
