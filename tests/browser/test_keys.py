"""Keys, scanner, undo: what a hand on the keyboard does at every screen."""

import pytest
from playwright.sync_api import expect

from inventory.models import Barcode, Item, Movement
from inventory.selectors import stock
from shop.models import Order
from shop.selectors.quotes import held_lines
from tests.browser.house import focused, scan

ITEM = "ROOTGATE-30X30"


def free():
    return stock.free_by_code([ITEM])[ITEM]


def test_slash_goes_to_the_box_and_enter_opens_what_it_names(desk, live_shop):
    number = live_shop.quote()
    desk.goto("/shelf/")
    desk.keyboard.press("/")
    expect(desk.locator("#find-text")).to_be_focused()
    desk.keyboard.type(number)
    desk.keyboard.press("Enter")
    desk.wait_for_url(f"**/quotes/{number}/")


def test_question_mark_lists_the_keys_and_escape_goes_back(desk, live_shop):
    desk.goto(f"/quotes/{live_shop.quote()}/")
    desk.keyboard.press("?")
    expect(desk.locator("#keys")).to_contain_text("scan, or find anything")
    expect(desk.locator("#keys")).to_contain_text("hold this quote")
    desk.keyboard.press("Escape")
    expect(desk.locator("#keys")).to_be_hidden()


def test_a_letter_goes_to_a_room_but_not_from_within_a_field(desk):
    desk.goto("/quotes/")
    desk.locator("#q").click()
    desk.keyboard.type("so")
    expect(desk.locator("#q")).to_have_value("so")
    desk.keyboard.press("Escape")
    desk.keyboard.press("o")
    desk.wait_for_url("**/orders/")


def test_single_keys_can_be_turned_off(desk):
    desk.goto("/quotes/")
    desk.keyboard.press("?")
    desk.locator("#keys-off").check()
    desk.keyboard.press("Escape")
    desk.keyboard.press("/", delay=60)
    desk.keyboard.press("?")
    expect(desk.locator("#keys")).to_be_visible()
    expect(desk.locator("#find-text")).not_to_be_focused()


def test_a_scan_anywhere_opens_the_item(desk):
    Barcode.objects.get_or_create(
        item=Item.objects.get(code=ITEM), text="9521234543213", gtin="09521234543213"
    )
    desk.goto("/quotes/")
    scan(desk, "9521234543213")
    desk.wait_for_url(f"**/shelf/{ITEM}/")


def test_a_scan_that_begins_with_a_key_of_the_page_does_only_the_scan(desk):
    desk.goto("/quotes/")
    scan(desk, "qzz-77")
    desk.wait_for_url("**/find/?q=qzz-77")


def test_plus_finds_one_more_and_z_undoes_it(desk):
    desk.goto(f"/shelf/{ITEM}/")
    before = free()
    desk.keyboard.press("+")
    expect(desk.locator("#notices")).to_contain_text("One more, found on the shelf.")
    assert free() == before + 1
    desk.keyboard.press("z")
    expect(desk.locator("#notices")).to_contain_text("Undone")
    assert free() == before


def test_a_double_click_finds_one(desk):
    desk.goto(f"/shelf/{ITEM}/")
    before = Movement.objects.count()
    desk.locator("#found").dblclick()
    expect(desk.locator("#notices")).to_contain_text("One more")
    desk.wait_for_load_state("networkidle")
    assert Movement.objects.count() == before + 1


def test_without_scripts_every_deed_still_works(browser, live_shop):
    context = browser.new_context(base_url=live_shop.url, java_script_enabled=False)
    live_shop.sign_in(context, "marit")
    page = context.new_page()
    page.goto(f"/shelf/{ITEM}/")
    page.locator("#found").click()
    expect(page.locator("#notices")).to_contain_text("One more, found on the shelf.")
    context.close()


def test_a_kit_is_held_and_accepted_by_keys_alone(desk, live_shop):
    number = live_shop.quote()
    desk.goto(f"/quotes/{number}/")
    desk.keyboard.press("h")
    expect(desk.locator("#notices")).to_contain_text(f"Quote {number} is held until")
    desk.keyboard.press("a")
    desk.wait_for_url("**/orders/**")
    expect(desk.locator("#notices")).to_contain_text(f"Quote {number} is order")


def test_lots_are_counted_out_by_scanner_and_only_what_was_scanned_leaves(desk, live_shop):
    number = live_shop.order()
    desk.goto(f"/orders/{number}/")
    code = desk.locator("#handover tr[data-codes] input[name=item]").first.input_value()
    scan(desk, code)
    expect(desk.locator("#scanned")).to_contain_text("1 of")
    expect(desk.locator("#leaves-2")).to_have_value("0")
    desk.keyboard.press("h")
    expect(desk.locator("#notices")).to_contain_text("1 left with the customer.")
    order = Order.objects.get(number=number)
    assert sum(line.handed_over for line in order.lines.all()) == 1
    assert order.state == "held"
    desk.keyboard.press("z")
    expect(desk.locator("#notices")).to_contain_text("The hand-over is undone")
    assert held_lines(order.demand_ref)[code] >= 1


def test_the_list_answers_while_one_types_and_keeps_the_focus(desk, live_shop):
    number = live_shop.quote()
    desk.goto("/quotes/")
    desk.keyboard.press("f")
    expect(desk.locator("#q")).to_be_focused()
    desk.keyboard.type(number, delay=60)
    expect(desk.locator("#rows tbody tr")).to_have_count(1)
    assert focused(desk) == "q"


@pytest.mark.parametrize("press", ["Tab"])
def test_the_first_tab_offers_to_skip_to_the_sheet(desk, press):
    desk.goto("/quotes/")
    desk.keyboard.press(press)
    expect(desk.locator(".skip")).to_be_focused()
    desk.keyboard.press("Enter")
    assert focused(desk) == "sheet"
