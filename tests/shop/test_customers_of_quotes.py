"""Naming the customer of a quote that stands already: from its page, from the worktable, over HTTP."""

import pytest

from shop.models import Change, Customer, Draft, Quote
from shop.selectors import quotes as quote_selector
from shop.services import customers, drafts, quotes
from shop.services.customers import Contact
from tests.shop.counter import actor, person, quoted, spec
from tests.shop.screens import deed, signed_in


@pytest.fixture
def quote(shop):
    return quoted(BAG=1)


@pytest.fixture
def wren(shop):
    return customers.add(Contact("Wren Okafor", phone="555 0100"), actor=actor("Ben"))


def on_page(quote, deed_name="customer", **fields):
    return deed(signed_in("Ben"), f"/quotes/{quote.number}/{deed_name}/", fields, htmx=True)


def on_table(draft, deed_name="change", **fields):
    return deed(signed_in("Ben"), f"/worktable/{draft.pk}/", {"deed": deed_name, **fields}, htmx=True)


def taken_up(quote):
    return drafts.take_up(person("Ben"), quote.number, actor=actor("Ben"))


def customer_of(quote):
    return Quote.objects.get(pk=quote.pk).customer


def test_somebody_known_is_found_by_a_part_of_name_phone_or_address(quote, wren):
    client = signed_in("Ben")
    for asked in ("okaf", "0100", "WREN"):
        answer = client.get("/worktable/offers/", {"kind": "customer", "q": asked}).content.decode()
        assert f'<option value="{wren.pk}" data-more="555 0100">Wren Okafor</option>' in answer
    assert "option" not in client.get("/worktable/offers/?kind=customer&q=%20").content.decode()


def test_the_page_names_somebody_known_without_writing_them_down_twice(quote, wren):
    answer = on_page(quote, name="Wren Okafor", known=wren.pk)
    assert customer_of(quote) == wren
    assert Customer.objects.count() == 1
    assert f'action="/quotes/{quote.number}/nobody/"' in answer.content.decode()  # the way back


def test_the_page_names_somebody_new_in_place_and_the_undo_leads_back(quote, wren):
    quotes.name_customer(quote.number, customer=wren, actor=actor("Ben"))
    answer = on_page(quote, name="Bo Lund", email="bo@example.org").content.decode()
    assert customer_of(quote).email == "bo@example.org"
    assert f'<input type="hidden" name="known" value="{wren.pk}">' in answer
    on_page(quote, name=wren.name, known=wren.pk)
    assert customer_of(quote) == wren


def test_a_name_is_corrected_without_naming_somebody_else(quote, wren):
    quotes.name_customer(quote.number, customer=wren, actor=actor("Ben"))
    on_page(quote, "contact", name="Wren Okafo", phone="555 0100")
    wren.refresh_from_db()
    assert (wren.name, customer_of(quote)) == ("Wren Okafo", wren)


def test_naming_nobody_takes_the_customer_off_and_the_diary_says_so(quote, wren):
    quotes.name_customer(quote.number, customer=wren, actor=actor("Ben"))
    on_page(quote, "nobody")
    assert customer_of(quote) is None
    said = Change.objects.filter(subject=f"quote {quote.number}", what="customer")
    assert list(said.values_list("why", flat=True)) == ["Wren Okafor", "nobody"]


def test_a_customer_named_on_an_older_edition_is_refused_and_what_was_typed_stands(quote):
    seen = quote_selector.edition(quote_selector.document(quote_selector.find(quote.number)))
    quotes.revise(quote.number, spec=spec(BAG=2), actor=actor("Ada"))
    answer = on_page(quote, name="Bo Lund", edition=seen)
    assert answer.status_code == 412
    assert "is at version 2 by now" in answer.content.decode()
    assert 'value="Bo Lund"' in answer.content.decode()
    assert not Customer.objects.exists()


def test_the_page_of_a_quote_leads_to_its_own_worktable(quote):
    page = signed_in("Ben").get(f"/quotes/{quote.number}/").content.decode()
    assert f'name="start" value="quote:{quote.number}"' in page
    answer = deed(signed_in("Ben"), "/worktable/", {"start": f"quote:{quote.number}"})
    assert answer["Location"] == f"/worktable/{Draft.objects.get(quote=quote).pk}/"


def test_the_worktable_changes_the_customer_of_its_quote_and_keeps_the_version(quote, wren):
    draft = taken_up(quote)
    answer = on_table(draft, customer="Wren Okafor", **{"customer-known": wren.pk}).content.decode()
    assert customer_of(quote) is None
    assert 'id="save"' in answer
    on_table(draft, "save", customer="Wren Okafor", **{"customer-known": wren.pk})
    assert (customer_of(quote), Quote.objects.get().version) == (wren, 1)


def test_the_worktable_undoes_a_customer_like_any_other_step(quote, wren):
    draft = taken_up(quote)
    on_table(draft, customer="Wren Okafor", touched="customer 4", **{"customer-known": wren.pk})
    answer = on_table(draft, "undo").content.decode()
    assert 'name="customer" maxlength="200" value=""' in answer
    assert 'value="Wren Okafor"' in on_table(draft, "redo").content.decode()
    assert Draft.objects.get().known == wren


def test_a_picked_name_that_was_typed_over_is_somebody_new(quote, wren):
    draft = taken_up(quote)
    on_table(draft, "save", customer="Wren Okafor-Lund", **{"customer-known": wren.pk})
    assert customer_of(quote).name == "Wren Okafor-Lund"
    assert Customer.objects.count() == 2
    on_table(draft, "save", customer="Wren Okafor-Lund", **{"customer-known": customer_of(quote).pk})
    assert Customer.objects.count() == 2


def test_a_draft_that_names_nobody_else_follows_its_quote_and_never_names_it_back(quote, wren):
    draft = taken_up(quote)
    quotes.name_customer(quote.number, customer=wren, actor=actor("Ada"))
    page = signed_in("Ben").get(f"/worktable/{draft.pk}/").content.decode()
    assert 'value="Wren Okafor"' in page
    on_table(draft, "save", **{"extra-BAG": "3"})
    assert (customer_of(quote), Quote.objects.get().version) == (wren, 2)


def test_the_api_names_a_customer_and_takes_the_name_off(ben, quote, wren):
    path = f"/api/quotes/{quote.number}/"
    named = ben.client.patch(path, {"customer": wren.pk}, "json").json()
    assert (named["customer"]["id"], named["version"]) == (wren.pk, 1)
    assert ben.client.patch(path, {"customer": None}, "json").json()["customer"] is None


def test_a_customer_who_is_unknown_is_refused_and_nothing_else_of_the_body_is_done(ben, quote):
    answer = ben.client.patch(f"/api/quotes/{quote.number}/", {"customer": 999, "note": "x"}, "json")
    assert answer.status_code == 422
    assert Quote.objects.get(pk=quote.pk).note == ""
