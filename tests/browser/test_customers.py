"""A customer is found by name while one types: on the worktable and on the page of a quote."""

import re

import pytest
from playwright.sync_api import expect

from shop.models import Customer, Quote
from tests.browser.house import violations


@pytest.fixture
def known(live_shop):
    """Somebody whom the shop knows, by name."""
    return Customer.objects.order_by("id")[0]


def open_quote(known):
    return Quote.objects.filter(state="open", hold_until=None).exclude(customer=known).order_by("id")[0]


def customer_of(quote):
    return Quote.objects.get(pk=quote.pk).customer


def pick(page, field, known):
    """Type some letters of a name and take the offer that is this person."""
    page.locator(field).fill("")
    page.locator(field).press_sequentially(known.name[:5], delay=20)
    offer = page.locator(f"{field}-list [role=option]", has_text=known.name)
    expect(offer.first).to_be_visible()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator(field)).to_have_value(known.name)


def test_the_page_of_a_quote_names_somebody_known_by_keys_and_undoes_it(desk, known):
    quote = open_quote(known)
    before = quote.customer
    desk.goto(f"/quotes/{quote.number}/")
    desk.locator("#customer-box summary").click()
    pick(desk, "#customer-name", known)
    desk.locator("#keep-customer").click()
    expect(desk.locator(".strip")).to_contain_text(known.name)
    assert customer_of(quote) == known
    desk.get_by_role("button", name="Undo").click()
    expect(desk.locator("#notices")).to_contain_text(before.name if before else "names no customer")
    assert customer_of(quote) == before


def test_the_worktable_names_somebody_known_when_it_is_saved(desk, known):
    quote = open_quote(known)
    desk.goto(f"/quotes/{quote.number}/")
    desk.keyboard.press("e")
    desk.wait_for_url(re.compile(r"/worktable/\d+/$"))
    pick(desk, "#customer", known)
    expect(desk.locator("#save")).to_be_visible()
    desk.locator("#save").click()
    expect(desk.locator("#save")).to_have_count(0)
    assert customer_of(quote) == known


def test_the_open_customer_box_keeps_to_the_rules_of_access(desk, known):
    quote = Quote.objects.filter(state="open").exclude(customer=None).order_by("id")[0]
    desk.goto(f"/quotes/{quote.number}/")
    desk.locator("#customer-box summary").click()
    desk.locator("#discount-box summary").click()
    assert violations(desk) == {}
