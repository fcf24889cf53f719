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


@pytest.mark.parametrize("room", ["quotes", "orders"])
def test_on_a_phone_number_and_total_stand_on_one_line(phone, room):
    phone.goto(f"/{room}/")
    places = phone.evaluate(PLACES)
    assert len(places) >= 4
    assert all(apart < 6 and edge < 20 for apart, edge in places)
