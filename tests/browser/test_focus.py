"""Focus is never lost: one test for each fragment that is swapped."""

from playwright.sync_api import expect

from inventory.actors import SYSTEM
from inventory.services import adjusting
from shop.models import PrintJob
from shop.services import printing
from shop.services.printing import Wanted
from tests.browser.house import violations

ITEM = "ROOTGATE-30X30"


def test_after_holding_focus_stays_on_hold(desk, live_shop):
    desk.goto(f"/quotes/{live_shop.quote()}/")
    desk.locator("#hold").press("Enter")
    expect(desk.locator("#release")).to_be_visible()
    expect(desk.locator("#hold")).to_be_focused()


def test_after_releasing_the_button_is_gone_and_focus_goes_to_the_heading(desk, live_shop):
    desk.goto(f"/quotes/{live_shop.quote(held=True)}/")
    desk.locator("#release").press("Enter")
    expect(desk.locator("#release")).to_have_count(0)
    expect(desk.locator("main h1")).to_be_focused()


def test_a_faulty_field_gets_the_focus_and_keeps_what_was_typed(desk, live_shop):
    desk.goto(f"/quotes/{live_shop.quote()}/")
    desk.locator("#discount-box summary").click()
    desk.locator("#discount-percent").fill("lots")
    desk.locator("#discount-why").fill("regular")
    desk.keyboard.press("Enter")
    expect(desk.locator("#discount-percent-error")).to_be_visible()
    expect(desk.locator("#discount-percent")).to_be_focused()
    expect(desk.locator("#discount-percent")).to_have_value("lots")
    expect(desk.locator("#discount-why")).to_have_value("regular")


def test_after_a_discount_its_box_is_closed_and_focus_goes_to_the_heading(desk, live_shop):
    desk.goto(f"/quotes/{live_shop.quote()}/")
    desk.locator("#discount-box summary").click()
    desk.locator("#discount-percent").fill("5")
    desk.locator("#discount-why").fill("regular")
    desk.keyboard.press("Enter")
    expect(desk.locator("#notices")).to_contain_text("is taken off")
    expect(desk.locator("main h1")).to_be_focused()


def test_after_keeping_a_note_focus_stays(desk, live_shop):
    desk.goto(f"/quotes/{live_shop.quote()}/")
    if not desk.locator("#note-note").is_visible():
        desk.locator("#note-box summary").click()
    desk.locator("#note-note").fill("By the door")
    desk.locator("#keep-note").press("Enter")
    expect(desk.locator("#notices")).to_contain_text("The note on quote")
    expect(desk.locator("#keep-note")).to_be_focused()


def test_after_handing_over_focus_stays_in_the_order(desk, live_shop):
    desk.goto(f"/orders/{live_shop.order()}/")
    for field in desk.locator("#handover input.quantity").all()[1:]:
        field.fill("0")
    desk.locator("#hand-over").press("Enter")
    expect(desk.locator("#notices")).to_contain_text("left with the customer")
    expect(desk.locator("#hand-over")).to_be_focused()


def test_the_first_row_of_a_hand_over_that_will_not_do_gets_the_focus(desk, live_shop):
    desk.goto(f"/orders/{live_shop.order()}/")
    desk.locator("#leaves-3").fill("x")
    desk.locator("#leaves-2").fill("900")
    desk.locator("#hand-over").press("Enter")
    expect(desk.locator("#leaves-2")).to_be_focused()
    expect(desk.locator("#leaves-3")).to_have_attribute("aria-invalid", "true")
    assert violations(desk) == {}


def test_a_page_that_tells_what_was_done_gives_the_focus_to_its_heading(desk, live_shop):
    desk.goto(f"/shelf/{ITEM}/")
    desk.locator("#found").press("Enter")
    expect(desk.locator("#notices .undo")).to_be_visible()
    desk.keyboard.press("z")
    expect(desk.locator("#notices")).to_contain_text("Undone")
    expect(desk.locator("main h1")).to_be_focused()


def test_after_found_one_more_and_its_undo_focus_stays(desk):
    desk.goto(f"/shelf/{ITEM}/")
    desk.locator("#found").press("Enter")
    expect(desk.locator("#undo-last")).to_be_visible()
    expect(desk.locator("#found")).to_be_focused()
    desk.locator("#undo-last").press("Enter")
    expect(desk.locator("#notices")).to_contain_text("Undone")
    expect(desk.locator("main h1")).to_be_focused()


def test_turning_to_older_movements_keeps_the_focus_in_the_pages(desk):
    desk.goto(f"/shelf/{ITEM}/")
    for _ in range(31):
        adjusting.adjust(ITEM, quantity=1, reason="found_on_shelf", actor=SYSTEM)
    desk.goto(f"/shelf/{ITEM}/")
    desk.locator("#older").press("Enter")
    expect(desk.locator("#newer")).to_be_visible()
    expect(desk.locator("#older")).to_be_focused()


def test_a_filter_swaps_the_rows_and_leaves_focus_where_it_is(desk):
    desk.goto("/orders/")
    desk.locator("#state").select_option("collected")
    expect(desk.locator("#rows tbody tr")).to_have_count(1)
    desk.locator("#state").focus()
    expect(desk.locator("#state")).to_be_focused()


def test_what_was_done_is_said_in_the_live_region(desk):
    desk.goto(f"/shelf/{ITEM}/")
    desk.locator("#found").press("Enter")
    live = desk.locator("[role=status]", has_text="One more, found on the shelf.")
    expect(live.first).to_be_visible()


def test_a_print_is_followed_without_taking_the_focus(desk, live_shop):
    job = printing.order(Wanted("kit_label", [live_shop.quote()]), actor=SYSTEM)
    desk.goto("/prints/")
    row, cancel = desk.locator(f"#print-{job.pk}"), desk.locator(f"#cancel-{job.pk}")
    cancel.focus()
    PrintJob.objects.filter(pk=job.pk).update(state="running")
    expect(row).to_contain_text("running")
    expect(cancel).to_be_focused()
    assert violations(desk) == {}
    desk.locator("#order-targets").fill("half typed")
    cancel.press("Enter")
    expect(row).to_contain_text("cancelled")
    expect(row).to_be_focused()
    expect(desk.locator("#order-targets")).to_have_value("half typed")


def test_a_print_that_is_done_is_said_once_and_focus_stays_in_its_row(desk, live_shop):
    job = printing.order(Wanted("kit_label", [live_shop.quote()] * 2), actor=SYSTEM)
    desk.goto("/prints/")
    desk.locator(f"#cancel-{job.pk}").focus()
    PrintJob.objects.filter(pk=job.pk).update(state="done", done=2)
    expect(desk.locator("#said")).to_have_text(f"Print {job.pk}: done, 2 of 2 drawn.")
    expect(desk.locator(f"#print-{job.pk}")).to_be_focused()
    desk.locator(f"#print-{job.pk} summary").press("Enter")
    desk.locator(f"#after-{job.pk}").fill("two")
    desk.keyboard.press("Enter")
    expect(desk.locator(f"#after-{job.pk}-error")).to_be_visible()
    expect(desk.locator(f"#after-{job.pk}")).to_be_focused()
    assert violations(desk) == {}


def test_a_print_under_way_is_cancelled_in_its_row_and_the_list_stays_whole(desk, live_shop):
    job = printing.order(Wanted("kit_label", [live_shop.quote()] * 9), actor=SYSTEM)
    desk.goto("/prints/")
    desk.locator(f"#cancel-{job.pk}").press("Enter")
    expect(desk.locator("#notices")).to_contain_text(f"Print {job.pk} is cancelled")
    expect(desk.locator(f"#print-{job.pk}")).to_be_focused()
    expect(desk.locator(f"#print-{job.pk} #resume-{job.pk}")).to_be_visible()
    expect(desk.locator("table")).to_have_count(1)
