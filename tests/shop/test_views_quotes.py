"""Quotes on the screen: list, page and deeds, whole and as fragments."""

import re

import pytest

from inventory.models import Item
from shop.models import House, Order
from shop.selectors.quotes import held_lines
from shop.services import customers, quotes
from shop.services.customers import Contact
from tests.inventory.shelf import stocked
from tests.shop.counter import actor, quoted, spec
from tests.shop.screens import HTMX, deed, key, signed_in


@pytest.fixture
def quote(shop):
    return quoted(BAG=2, LAMP=1)


def test_the_list_shows_every_quote_as_shape_and_word(quote):
    page = signed_in("Ben").get("/quotes/").content.decode()
    assert quote.number in page
    assert 'data-shape="○">open</span>' in page


def test_the_list_tells_what_each_quote_comes_to_after_its_discount(quote):
    ben, path = signed_in("Ben"), f"/quotes/{quote.number}/"
    deed(ben, f"{path}discount/", percent="5", amount="", why="regular")
    total = re.search(r'<dd class="number">(\$[\d.,]+)</dd>', ben.get(path).content.decode())[1]
    quoted(BAG=7)
    row = ben.get("/quotes/").content.decode().split(f'data-href="{path}"')[1].split("</tr>")[0]
    assert f'<td class="right number sum">{total}</td>' in row


def test_the_list_answers_a_search_with_its_rows_alone(quote):
    other = quoted(HIDE=1)
    page = signed_in("Ben").get("/quotes/", {"q": quote.number}, headers=HTMX).content.decode()
    assert quote.number in page
    assert other.number not in page
    assert "<html" not in page


def test_the_list_filters_by_state_and_ignores_a_word_that_is_none(quote):
    client = signed_in("Ben")
    assert quote.number not in client.get("/quotes/?state=lapsed").content.decode()
    assert quote.number in client.get("/quotes/?state=sideways").content.decode()


def test_the_list_turns_pages_and_a_page_too_far_is_the_last(shop):
    for _ in range(41):
        quoted(BAG=1)
    page = signed_in("Ben").get("/quotes/?page=99").content.decode()
    assert "41 to 41 of 41" in page


def test_a_page_of_quotes_costs_a_fixed_number_of_queries(shop, django_assert_max_num_queries):
    for _ in range(20):
        quoted(BAG=1)
    client = signed_in("Ben")
    client.get("/quotes/")
    with django_assert_max_num_queries(10):
        client.get("/quotes/")


def test_holding_answers_a_fragment_with_a_notice_and_its_undo(quote):
    answer = deed(signed_in("Ben"), f"/quotes/{quote.number}/hold/", htmx=True)
    page = answer.content.decode()
    assert held_lines(quote.demand_ref) == {"BAG": 2, "LAMP": 1}
    assert "<html" not in page
    assert f"Quote {quote.number} is held until" in page
    assert f'action="/quotes/{quote.number}/release/"' in page


def test_holding_without_scripts_goes_back_to_the_page(quote):
    answer = deed(signed_in("Ben"), f"/quotes/{quote.number}/hold/")
    assert answer["Location"] == f"/quotes/{quote.number}/"


def test_the_same_form_sent_twice_is_done_once(quote):
    client, fields = signed_in("Ben"), key()
    answers = [client.post(f"/quotes/{quote.number}/accept/", fields) for _ in range(2)]
    assert Order.objects.filter(quote=quote).count() == 1
    assert {answer["Location"] for answer in answers} == {f"/orders/{Order.objects.get(quote=quote).number}/"}


def test_a_form_without_a_key_is_not_done(quote):
    answer = signed_in("Ben").post(f"/quotes/{quote.number}/hold/", {})
    assert answer.status_code == 422
    assert held_lines(quote.demand_ref) == {}


def test_what_is_short_is_named_and_nothing_is_held(shop):
    quote = quoted(LAMP=5)
    answer = deed(signed_in("Ben"), f"/quotes/{quote.number}/hold/", htmx=True)
    assert answer.status_code == 409
    assert "LAMP (wanted 5, free 2)" in answer.content.decode()
    assert held_lines(quote.demand_ref) == {}


def test_a_stop_disables_hold_and_names_its_reason_and_is_refused_when_posted(shop):
    listed = {
        "animals": [{"species": "ambystoma-tigrinum", "count": 1}]
    }  # 90 FR 2170: its facts stop the sale
    stopped = quotes.open(spec(BAG=1) | listed, actor=actor("Ben"))
    client = signed_in("Ben")
    page = client.get(f"/quotes/{stopped.number}/").content.decode()
    answer = deed(client, f"/quotes/{stopped.number}/hold/")
    assert "This kit may not be held or accepted." in page
    assert "US Lacey Act injurious list" in page
    assert answer.status_code == 409


def test_every_undo_of_a_quote_leads_back(quote):
    client = signed_in("Ben")
    deed(client, f"/quotes/{quote.number}/hold/")
    deed(client, f"/quotes/{quote.number}/release/")
    assert held_lines(quote.demand_ref) == {}
    deed(client, f"/quotes/{quote.number}/withdraw/")
    deed(client, f"/quotes/{quote.number}/reopen/")
    quote.refresh_from_db()
    assert quote.state == "open"


def test_only_a_withdrawn_quote_opens_again(quote):
    assert deed(signed_in("Ben"), f"/quotes/{quote.number}/reopen/").status_code == 409


def test_a_discount_within_the_counters_limit_is_given_and_a_larger_one_refused(quote):
    client = signed_in("Ben")
    path = f"/quotes/{quote.number}/discount/"
    given = deed(client, path, percent="5", why="regular")
    refused = deed(client, path, percent="45", why="friend")
    page = refused.content.decode()
    assert (given.status_code, refused.status_code) == (302, 403)
    assert "discount large" in page
    assert 'value="friend"' in page


def test_a_discount_that_is_no_number_is_named_at_its_field_and_nothing_typed_is_lost(quote):
    answer = deed(signed_in("Ben"), f"/quotes/{quote.number}/discount/", percent="lots", why="regular")
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Percent must be a number such as 5 or 7.5." in page
    assert 'aria-describedby="discount-percent-error"' in page
    assert 'value="lots"' in page
    assert 'value="regular"' in page


def test_a_note_may_hold_markup_and_right_to_left_letters_and_stays_text(quote):
    note = "<b>bold</b> \u05e9\u05dc\u05d5\u05dd \U0001f98e"
    client = signed_in("Ben")
    deed(client, f"/quotes/{quote.number}/note/", note=note)
    page = client.get(f"/quotes/{quote.number}/").content.decode()
    assert "&lt;b&gt;bold&lt;/b&gt; \u05e9\u05dc\u05d5\u05dd \U0001f98e" in page


def test_undoing_a_note_brings_the_old_one_back(quote):
    client = signed_in("Ben")
    deed(client, f"/quotes/{quote.number}/note/", note="first")
    answer = deed(client, f"/quotes/{quote.number}/note/", {"note": "second"}, htmx=True)
    assert '<input type="hidden" name="note" value="first">' in answer.content.decode()


def test_a_customer_is_written_down_and_corrected(quote):
    client = signed_in("Ben")
    path = f"/quotes/{quote.number}/customer/"
    deed(client, path, name="Wren Halloway", phone="555 0100")
    deed(client, path, name="Wren Hallowey", email="wren@example.com")
    quote.refresh_from_db()
    assert (quote.customer.name, quote.customer.email) == ("Wren Hallowey", "wren@example.com")


def test_a_broken_address_of_a_customer_is_named(quote):
    answer = deed(signed_in("Ben"), f"/quotes/{quote.number}/customer/", name="Wren", email="nowhere")
    assert answer.status_code == 422
    assert 'id="customer-email-error"' in answer.content.decode()


def test_a_price_that_changed_is_shown_and_accepted_as_a_new_version(quote):
    Item.objects.filter(code="BAG").update(price="16.00")
    client = signed_in("Ben")
    page = client.get(f"/quotes/{quote.number}/").content.decode()
    assert "1 price changed" in page
    assert "14.50" in page
    assert "16.00" in page
    deed(client, f"/quotes/{quote.number}/today/")
    page = client.get(f"/quotes/{quote.number}/").content.decode()
    assert "1 price changed" not in page
    assert "From version 1 to 2" in page


def test_versions_are_compared_line_by_line(quote):
    quotes.revise(quote.number, spec=spec(BAG=3, HIDE=1), actor=actor("Ben"))
    page = signed_in("Ben").get(f"/quotes/{quote.number}/?compare=1").content.decode()
    assert "2 → 3" in page
    assert '<span class="change-plus">+ 1</span>' in page
    assert "gone" in page


def test_a_packer_sees_a_quote_but_no_deed_of_it(quote):
    page = signed_in("Cleo").get(f"/quotes/{quote.number}/").content.decode()
    assert "BAG" in page
    assert "/hold/" not in page
    assert deed(signed_in("Cleo"), f"/quotes/{quote.number}/hold/").status_code == 403


def test_a_deed_that_is_none_is_not_found(quote):
    assert deed(signed_in("Ben"), f"/quotes/{quote.number}/explode/").status_code == 404


def test_reading_a_deed_is_refused(quote):
    assert signed_in("Ben").get(f"/quotes/{quote.number}/hold/").status_code == 405


def test_a_quote_that_is_none_is_told_as_a_page(shop):
    answer = signed_in("Ben").get("/quotes/99999A/")
    assert answer.status_code == 404
    assert "There is no quote" in answer.content.decode()


def test_a_hold_too_long_is_named_at_its_field(quote):
    House.objects.update(hold_days_max=14)
    answer = deed(signed_in("Ben"), f"/quotes/{quote.number}/hold/", until="2031-01-01T10:00")
    assert answer.status_code == 422
    assert 'id="hold-until-error"' in answer.content.decode()


def test_a_name_of_two_hundred_letters_stands_whole(shop):
    stocked("LONG", 3, price="1.00", unit_name="piece")
    Item.objects.filter(code="LONG").update(name="n" * 200)
    quote = quotes.open(
        spec(LONG=1), actor=actor("Ben"), customer=customers.add(Contact("c" * 200), actor=actor("Ben"))
    )
    page = signed_in("Ben").get(f"/quotes/{quote.number}/").content.decode()
    assert "n" * 200 in page
    assert "c" * 200 in page
