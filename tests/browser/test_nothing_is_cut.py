"""What a clerk reads at a glance stands there whole and in its place."""

import pytest
from playwright.sync_api import expect

CUT = """() => [...document.querySelectorAll("#strip select")].filter(one => one.getClientRects().length)
.filter(one => {
    const style = getComputedStyle(one), pen = document.createElement("canvas").getContext("2d");
    pen.font = `${style.fontSize} ${style.fontFamily}`;
    const room = one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
    return pen.measureText(one.selectedOptions[0].text).width > room + 1;
}).map(one => one.selectedOptions[0].text)"""
PLACES = """() => [...document.querySelectorAll("table.entries tbody tr")].map(row => {
    const at = (one) => one.getBoundingClientRect();
    const [number, sum] = [row.cells[0], row.querySelector(".sum")];
    return [Math.abs(at(number).bottom - at(sum).bottom), at(row).right - at(sum).right];
})"""


def test_no_choice_of_the_strip_is_cut_on_a_desk(desk):
    desk.goto("/worktable/")
    desk.get_by_role("button", name="Crested gecko, tall 45").click()
    expect(desk.locator("#line-1")).to_be_focused()
    desk.locator("#planting").select_option("moderate")
    desk.locator("#style").select_option("humid-forest")
    assert desk.evaluate(CUT) == []


CUT_NAMES = """() => [...document.querySelectorAll("#strip .combo input")]
.filter(one => one.scrollWidth > one.clientWidth + 1).map(one => one.value)"""
ROWS = """() => [...new Set([...document.querySelectorAll("#strip > .field, #strip > .depths > .field")]
.filter(one => one.getClientRects().length).map(one => Math.round(one.getBoundingClientRect().top)))]
.map(top => [...document.querySelectorAll("#strip .field")]
.filter(one => Math.round(one.getBoundingClientRect().top) === top).length)"""


def test_long_names_of_animal_and_style_stand_whole_on_the_one_line_of_the_strip(desk):
    desk.goto("/worktable/")
    desk.get_by_role("button", name="Crested gecko, tall 45").click()
    expect(desk.locator("#line-1")).to_be_focused()
    desk.locator("#style").select_option("temperate-woodland")
    expect(desk.locator("#table[data-asking], #table.htmx-request")).to_have_count(0)
    assert desk.evaluate(CUT) == desk.evaluate(CUT_NAMES) == []
    assert len(desk.evaluate(ROWS)) == 1


def test_a_depth_without_a_place_in_the_drawing_does_not_stand_alone_on_a_line(desk):
    desk.goto("/worktable/")
    desk.locator("#start").fill("Leopard gecko")
    desk.keyboard.press("Enter")
    desk.locator("#enclosure").fill("90x45x45")
    desk.keyboard.press("Enter")
    expect(desk.locator("#drawing-section")).to_be_visible()
    expect(desk.locator("#depths .field")).not_to_have_count(4)
    assert desk.locator("#depths .field").count() >= 1
    assert min(desk.evaluate(ROWS)) > 4


@pytest.mark.parametrize("room", ["quotes", "orders"])
def test_on_a_phone_number_and_total_stand_on_one_line(phone, room):
    phone.goto(f"/{room}/")
    places = phone.evaluate(PLACES)
    assert len(places) >= 4
    assert all(apart < 6 and edge < 20 for apart, edge in places)


def test_an_opened_line_on_a_phone_tells_its_quantity_before_its_reasons(phone):
    phone.goto("/worktable/")
    phone.get_by_role("button", name="Crested gecko, tall 45").tap()
    line = phone.locator("tbody[data-part='3']")
    line.locator("summary").tap()
    expect(line.locator(".why")).to_be_visible()
    name, pieces, why = (line.locator(part).bounding_box() for part in ("summary", ".pieces", ".why"))
    assert name["y"] + name["height"] <= pieces["y"] + 1
    assert pieces["y"] + pieces["height"] <= why["y"] + 1
    assert why["width"] > 250
    expect(line.locator(".stock")).to_be_in_viewport()
