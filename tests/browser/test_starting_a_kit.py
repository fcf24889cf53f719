"""What stands on the empty worktable can be pressed: a standard kit, an old quote, a draft."""

from playwright.sync_api import expect


def test_a_standard_kit_is_laid_on_the_worktable_by_a_press(desk):
    desk.goto("/worktable/")
    desk.get_by_role("button", name="Crested gecko, tall 45").click()
    expect(desk.locator("#line-1")).to_be_focused()
    expect(desk.locator("#animal")).to_have_value("crested gecko")


def test_an_open_quote_is_taken_up_by_a_press(desk):
    desk.goto("/worktable/")
    quote = desk.locator("button[value^='quote:']").first
    number = quote.inner_text()
    quote.click()
    expect(desk.locator("#number")).to_have_text(number)
    expect(desk.locator("#line-1")).to_be_focused()


def test_a_draft_is_taken_up_again_by_a_press(desk):
    desk.goto("/worktable/")
    desk.locator("button[value^='kit:']").first.click()
    expect(desk.locator("#line-1")).to_be_focused()
    address = desk.url
    desk.goto("/worktable/")
    desk.locator("#begin-with a").first.click()
    expect(desk.locator("#line-1")).to_be_focused()
    assert desk.url == address
