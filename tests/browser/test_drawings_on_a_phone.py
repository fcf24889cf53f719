"""On a phone every drawing of the worktable can be read without a glass."""

import pytest
from playwright.sync_api import expect

SMALLEST = """() => Math.min(...[...document.querySelectorAll("#drawing svg text")].map(one =>
    parseFloat(getComputedStyle(one).fontSize) * one.ownerSVGElement.getScreenCTM().a))"""
LEAST_PX = 7.5  # the words of the section were 5.2


@pytest.fixture
def kit(phone, live_shop):
    phone.goto(f"/worktable/{live_shop.kit('marit', 'crested-tall')}/")
    expect(phone.locator("#drawing-section")).to_be_visible()
    return phone


def test_the_words_of_a_drawing_are_large_enough(kit):
    for view in ("section", "above", "uv", "light", "day", "fortnight"):
        kit.locator(f"#tab-{view}").tap()
        expect(kit.locator(f"#drawing[data-view={view}]")).to_be_attached()
        kit.wait_for_function(f"() => {SMALLEST[6:]} >= {LEAST_PX}")
        assert kit.evaluate("document.documentElement.scrollWidth") <= 390


def test_a_number_in_the_section_still_leads_to_its_line(kit):
    kit.wait_for_function(f"() => {SMALLEST[6:]} >= {LEAST_PX}")
    kit.locator("#drawing-section [data-callout='3']").tap()
    expect(kit.locator("#line-3")).to_be_focused()
