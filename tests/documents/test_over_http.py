"""Paper over HTTP: from a quote number or an item code to a document."""

from dataclasses import replace
from datetime import timedelta

import pytest
import time_machine
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from inventory.documents.labels import shelf_label
from shop.calc.opening_hours import shop_day
from shop.documents.kit_label import kit_label
from shop.models import House
from shop.selectors import documents
from shop.services import orders, quotes
from tests.documents.papers import page_count, read_codes, text_of
from tests.shop.counter import actor, quoted
from tests.shop.screens import signed_in


@pytest.fixture
def number(shop):
    return quoted(BAG=2, LAMP=1).number


@pytest.mark.parametrize("name", ["build-sheet.pdf", "quote.pdf", "kit-label.pdf"])
def test_a_quote_is_printed(name, number, ada):
    answer = ada.get(f"quotes/{number}/{name}")
    assert answer.status_code == 200
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"] == f'inline; filename="{name.removesuffix(".pdf")}-{number}.pdf"'
    assert number in text_of(answer.content)


def test_a_calendar_is_a_calendar(number, ada):
    answer = ada.get(f"quotes/{number}/calendar.ics", HTTP_ACCEPT="text/calendar")
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer.content.startswith(b"BEGIN:VCALENDAR\r\n")


def test_upkeep_counts_from_the_quote_until_the_kit_is_handed_over(number):
    order = quotes.accept(number, actor=actor("Ben")).number
    assert not documents.kit_calendar(number).is_handed_over
    later = timezone.now() + timedelta(days=4)
    with time_machine.travel(later, tick=False):
        orders.hand_over(order, actor=actor("Cleo"))
    handed, zone = documents.kit_calendar(number), House.current().timezone
    assert (handed.is_handed_over, handed.begins) == (True, shop_day(later, zone=zone))


def test_lines_and_totals_of_the_quote_are_on_its_paper(number, ada):
    totals = ada.get(f"quotes/{number}/").json()["totals"]
    for name in ("build-sheet.pdf", "quote.pdf"):
        text = text_of(ada.get(f"quotes/{number}/{name}").content)
        assert "BAG 2 bags 14.50 29.00" in text
        assert f"total USD {totals['gross']}" in text


@pytest.mark.parametrize("dpi", [203, 300])
def test_labels_are_read_back(dpi, number, ada):
    kit = ada.get(f"quotes/{number}/kit-label.pdf", {"dpi": dpi}).content
    assert read_codes(kit, dpi) == [(number, "]C0")]
    shelf = ada.get("items/BAG/label.pdf", {"dpi": dpi}).content
    assert read_codes(shelf, dpi) == [("BAG", "]C0")]


@pytest.mark.parametrize(
    ("path", "asked", "pointer"),
    [
        ("build-sheet.pdf", {"paper": "legal"}, "/paper"),
        ("quote.pdf", {"paper": ""}, "/paper"),
        ("kit-label.pdf", {"dpi": "204"}, "/dpi"),
        ("kit-label.pdf", {"dpi": "many"}, "/dpi"),
    ],
)
def test_a_page_size_that_does_not_exist_is_refused_by_name(path, asked, pointer, number, ada):
    answer = ada.get(f"quotes/{number}/{path}", asked)
    assert answer.status_code == 422
    assert answer["Content-Type"] == "application/problem+json"
    (error,) = answer.json()["errors"]
    assert error["pointer"] == pointer
    assert error["detail"].startswith(pointer.strip("/"))


BROWSER = "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8"


@pytest.mark.parametrize(
    ("path", "status", "sentence"),
    [
        ("quotes/{}/quote.pdf?paper=legal", 422, "paper must be one of letter or a4, not &#x27;legal&#x27;."),
        ("quotes/{}/kit-label.pdf?dpi=204", 422, "dpi must be 203 or 300, not 204."),
        ("quotes/999999Z/build-sheet.pdf", 404, "There is no quote"),
    ],
)
def test_a_browser_is_told_on_a_page_in_plain_words_what_cannot_be_printed(path, status, sentence, number):
    answer = signed_in("Ben").get(f"/api/{path.format(number)}", headers={"accept": BROWSER})
    assert (answer.status_code, answer["Content-Type"]) == (status, "text/html; charset=utf-8")
    page = answer.content.decode()
    assert sentence in page
    assert "Back to work" in page
    assert "Quotes</a>" in page


@pytest.mark.parametrize("accept", ["*/*", "application/pdf", "application/json", "application/problem+json"])
def test_a_program_gets_the_problem_document_of_the_same_refusal(accept, number, ada):
    answer = ada.get(f"quotes/{number}/quote.pdf", {"paper": "legal"}, HTTP_ACCEPT=accept)
    assert (answer.status_code, answer["Content-Type"]) == (422, "application/problem+json")


def test_what_is_not_there_is_a_problem_document_even_for_who_asks_for_a_pdf(ada):
    answer = ada.get("quotes/999999Z/build-sheet.pdf", HTTP_ACCEPT="application/pdf")
    assert (answer.status_code, answer["Content-Type"]) == (404, "application/problem+json")
    assert ada.get("items/NOTHING/label.pdf").status_code == 404


@pytest.mark.parametrize("read", ["build_sheet", "quote_sheet", "kit_label", "kit_calendar"])
def test_no_document_takes_more_than_a_dozen_queries(read, number):
    getattr(documents, read)(number)
    with CaptureQueriesContext(
        connection,
    ) as asked:
        getattr(documents, read)(number)
    assert len(asked) <= 12


def test_a_square_code_stands_on_the_label_when_the_shop_has_a_page(settings, number, ada):
    settings.CUSTOMER_PAGE = "https://shop.example/kit/{number}"
    codes = read_codes(ada.get(f"quotes/{number}/kit-label.pdf").content, 203)
    assert codes == [(number, "]C0"), (f"https://shop.example/kit/{number}", "]Q1")]
    settings.CUSTOMER_PAGE = "http://shop.example/kit/{number}"
    assert documents.page_address(number) == ""


def test_an_items_label_shows_its_price(shop):
    text = text_of(shelf_label(documents.shelf_label("BAG")))
    assert "14.50 USD" in text
    assert "a bag" in text


def test_a4_is_taller_than_letter(number, ada):
    a4, letter = (ada.get(f"quotes/{number}/quote.pdf", {"paper": p}).content for p in ("a4", "letter"))
    assert page_count(a4) == page_count(letter) == 1
    assert a4 != letter


@pytest.mark.parametrize(
    "path",
    [
        "quotes/{}/build-sheet.pdf?page=a4",
        "quotes/{}/quote.pdf?papre=a4",
        "quotes/{}/kit-label.pdf?paper=a4",
        "quotes/{}/calendar.ics?paper=a4",
        "items/BAG/label.pdf?page=2",
    ],
)
def test_a_name_that_an_address_does_not_know_is_told_and_not_passed_over(path, number, ada):
    answer = ada.get(path.format(number))
    asked = path.partition("?")[2].partition("=")[0]
    assert answer.status_code == 422
    assert f"{asked} is not known here" in answer.json()["detail"]
    assert answer.json()["errors"][0]["pointer"] == f"/{asked}"


def test_everything_in_the_box_stands_on_its_label_in_as_many_columns_as_that_takes(number, ada):
    goods = tuple(f"{n} x thing {n}" for n in range(36))
    label = replace(documents.kit_label(number), contents=goods)
    assert all(thing in text_of(kit_label(label)) for thing in goods)
