"""One clerk, one draft, two windows of one browser: nothing is overwritten unseen."""

from playwright.sync_api import expect


def laid(page):
    page.goto("/worktable/")
    page.get_by_role("button", name="Crested gecko, tall 45").click()
    expect(page.locator("#line-1")).to_be_focused()


def test_the_second_window_sees_the_change_and_goes_on_from_it(desk):
    laid(desk)
    other = desk.context.new_page()
    other.goto(desk.url)
    desk.locator("#day").fill("23")
    expect(desk.locator("#table:not([data-asking])")).to_be_attached()
    other.locator("#night").fill("17")
    expect(other.locator("#refusal")).to_contain_text("changed in another window")
    expect(other.locator("#day")).to_have_value("23")
    expect(other.locator("#night")).to_be_focused()
    assert other.locator("#night").input_value() != "17"
    other.locator("#night").fill("16")
    expect(other.locator("#refusal")).to_have_count(0)
    desk.reload()
    expect(desk.locator("#day")).to_have_value("23")
    expect(desk.locator("#night")).to_have_value("16")
