"""A key changes what differs by it and touches nothing else: no field, no style and no layout besides."""

import json

import pytest
from playwright.sync_api import expect

ANEW = "requestAnimationFrame(() => requestAnimationFrame(done))"
INVALIDATED = "disabled-by-default-devtools.timeline.invalidationTracking"
SETTLED = """() => !document.querySelector("#table[data-asking], #table.htmx-request")
    && document.querySelector("#figures").dataset.wants
    === document.querySelector("#drawing").dataset.shows"""
WATCHED = """window.touched = [];
    new MutationObserver(all => window.touched.push(...all.map(one => one.attributeName)))
    .observe(document.querySelector("#over"), { subtree: true, attributes: true, childList: true })"""
FIELDS = {"day": "24", "drainage": "70", "customer": "Ottoline Fenwick"}


@pytest.fixture
def table(desk):
    desk.goto("/worktable/")
    desk.get_by_role("button", name="Crested gecko, tall 45").click()
    expect(desk.locator("#line-1")).to_be_focused()
    desk.wait_for_function(SETTLED)
    return desk


def traced(page, do):
    """What the browser says that it did, until the next picture, because of a script."""
    page.context.browser.start_tracing(page=page, categories=["devtools.timeline", INVALIDATED])
    page.evaluate(f"() => new Promise((done) => {{ {do}; {ANEW}; }})")
    return json.loads(page.context.browser.stop_tracing())["traceEvents"]


def test_a_field_that_nobody_sees_styles_nothing_else(table):
    found = traced(table, "document.querySelector('[name=touched]').value = 'day 7'")
    styled = [event["args"]["elementCount"] for event in found if event["name"] == "UpdateLayoutTree"]
    assert sum(styled) <= 3


def test_a_figure_that_changes_does_not_lay_out_the_drawing(table):
    found = traced(table, "document.querySelector('#figures .figure').textContent = '7.7 L'")
    laid_out = [event["args"]["data"] for event in found if event["name"] == "LayoutInvalidationTracking"]
    assert any("#text" in one["nodeName"] for one in laid_out)
    assert not [one for one in laid_out if "drawing-section" in one["nodeName"]]


def test_an_answer_that_moves_no_depth_touches_none_of_their_fields(table):
    table.evaluate(WATCHED)
    before = table.locator("#figures").get_attribute("data-wants")
    table.locator("#day").fill("24")
    expect(table.locator("#figures")).not_to_have_attribute("data-wants", before)
    table.wait_for_function(SETTLED)
    assert table.evaluate("window.touched") == []


def undo(page):
    page.locator("#line-1").focus()
    with page.expect_response(lambda answer: answer.request.method == "POST"):
        page.keyboard.press("u")


def test_undo_leaves_every_field_of_the_strip_in_its_place(table):
    table.locator("#fill").select_option("free")
    expect(table.locator("#fill")).to_have_value("free")
    table.wait_for_function(SETTLED)
    table.evaluate("window.before = [...document.querySelectorAll('#strip .field, #over .field')]")
    undo(table)
    expect(table.locator("#fill")).to_have_value("preferred")
    assert table.evaluate("window.before.length > 20 && window.before.every(field => field.isConnected)")


@pytest.mark.parametrize("name", FIELDS)
def test_undo_gives_a_field_back_what_it_said(table, name):
    field = table.locator(f"#{name}")
    before = field.input_value()
    with table.expect_response(lambda answer: answer.request.method == "POST"):
        field.fill(FIELDS[name])
    table.keyboard.press("Escape")
    undo(table)
    expect(field).to_have_value(before)


def test_undo_gives_a_choice_back_in_its_words(table):
    before = table.locator("#animal").input_value()
    table.locator("#animal").fill("leop")
    table.keyboard.press("Enter")
    expect(table.locator("#animal")).not_to_have_value(before)
    table.wait_for_function(SETTLED)
    undo(table)
    expect(table.locator("#animal")).to_have_value(before)
    expect(table.locator("#animal")).to_have_attribute("role", "combobox")


def test_undo_takes_back_what_the_customer_has_and_how_many_that_are(table):
    table.locator("#own summary").click()
    with table.expect_response(lambda answer: answer.request.method == "POST"):
        table.locator("#own input").nth(2).check()
    expect(table.locator("[data-owned]")).to_have_text("1")
    undo(table)
    expect(table.locator("[data-owned]")).to_have_text("nothing")
    assert not table.locator("#own input").nth(2).is_checked()


def test_the_first_answer_sends_nothing_that_came_with_the_page(table):
    table.reload()
    with table.expect_request(lambda request: request.method == "POST") as asked:
        table.locator("#day").fill("24")
    assert len(dict(asked.value.post_data_json)["has"].split()) > 80
