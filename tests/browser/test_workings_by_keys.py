"""The workings in a real browser, with nothing but a keyboard: found, tried, shared."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import NARROWEST
from tests.browser.house import violations

BED = "/workings/geometry.layer_l/?width_m=0.4&depth_m=0.4&front_m=0.05&back_m=0.05"
BETWEEN_MS = 90  # a quick hand; faster is a scanner


def answer(page):
    return page.locator("#answer .answer")


def test_a_calculation_is_found_by_keys_as_one_types(desk):
    desk.goto("/quotes/")
    desk.keyboard.press("i")
    expect(desk).to_have_url(re.compile("/workings/$"))
    desk.keyboard.press("f")
    expect(desk.locator("#q")).to_be_focused()
    desk.keyboard.type("dew point", delay=BETWEEN_MS)
    expect(desk.locator("#rows tbody tr")).to_have_count(1)
    expect(desk.locator("#q")).to_be_focused()
    desk.keyboard.press("Tab")
    desk.keyboard.press("Enter")
    expect(desk.locator("h1")).to_have_text("air.dew_point_c")


def test_the_answer_follows_what_is_typed_and_the_address_with_it(desk):
    desk.goto(BED)
    expect(answer(desk)).to_have_text("8 L")
    field = desk.locator("#arg-width_m")
    field.focus()
    field.press("End")
    desk.keyboard.type("5", delay=BETWEEN_MS)
    expect(answer(desk)).to_have_text("9 L")
    expect(field).to_be_focused()
    assert field.evaluate("one => one.selectionStart") == len("0.45")
    expect(desk).to_have_url(re.compile("width_m=0.45&"))
    desk.reload()
    expect(answer(desk)).to_have_text("9 L")


def test_the_way_back_leads_past_everything_that_was_typed(desk):
    desk.goto("/workings/")
    desk.goto(BED)
    desk.locator("#arg-width_m").press_sequentially("55", delay=BETWEEN_MS)
    expect(desk).to_have_url(re.compile("width_m=550.4"))
    desk.go_back()
    expect(desk.locator("h1")).to_have_text("Workings")


def test_what_cannot_be_is_told_at_its_field_and_gone_when_it_is_mended(desk):
    desk.goto(BED)
    field, fault = desk.locator("#arg-width_m"), desk.locator("#fault-arg-width_m")
    field.fill("-1")
    expect(fault).to_have_text("width_m: must be above zero.")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(field).to_have_accessible_description(re.compile("must be above zero"))
    expect(answer(desk)).to_have_text("No answer with these arguments")
    assert violations(desk) == {}
    field.fill("1")
    expect(fault).to_be_empty()
    expect(field).not_to_have_attribute("aria-invalid", "true")
    expect(answer(desk)).to_have_text("20 L")


def test_without_scripts_the_button_works_it_out(browser, live_shop):
    context = browser.new_context(base_url=live_shop.url, java_script_enabled=False)
    live_shop.sign_in(context, "joss")
    page = context.new_page()
    page.goto(BED)
    page.locator("#arg-width_m").fill("1")
    page.locator("#try button").click()
    expect(answer(page)).to_have_text("20 L")
    context.close()


def test_a_figure_of_the_worktable_leads_to_its_working(desk):
    desk.goto("/worktable/")
    desk.keyboard.type("crest", delay=BETWEEN_MS)
    desk.keyboard.press("Enter")
    expect(desk.locator("#enclosure")).to_be_focused()
    desk.keyboard.type("45x45x60", delay=BETWEEN_MS)
    desk.keyboard.press("Enter")
    expect(desk.locator("#line-1")).to_be_focused()
    desk.wait_for_timeout(BETWEEN_MS)
    desk.keyboard.press("y")
    expect(desk.locator("#all-figures")).to_be_visible()
    figure = desk.locator("#figure-substrate_l")
    shown = figure.inner_text()
    figure.press("Enter")
    desk.locator("#working-substrate_l a[href^='/workings/']").press("Enter")
    expect(desk.locator("h1")).to_have_text("geometry.layer_l")
    litres = float(answer(desk).inner_text().removesuffix(" L"))
    assert f"{litres:.1f} L" == shown


@pytest.mark.parametrize("name", ["packs.cheapest_cover", "day.climate_summary", "weight.filled_kg"])
def test_long_lists_and_answers_of_many_parts_reflow_at_320_pixels(window, name):
    page = window(size=NARROWEST, touch=True)
    page.goto(f"/workings/{name}/")
    assert page.evaluate("document.documentElement.scrollWidth") <= 320


def test_the_answer_stays_in_sight_and_hides_no_field_on_a_phone(phone):
    phone.goto("/workings/air.misting_l_day/")
    last = phone.locator("#try input").last
    for field in phone.locator("#try input").all():
        field.focus()
        top = phone.locator("#answer").bounding_box()
        assert field.bounding_box()["y"] >= top["y"] + top["height"]
    last.fill("50")
    expect(answer(phone)).to_be_in_viewport()
