"""Odd things that people type or order go the whole way: shown and printed as they are, nothing lost."""

from html import escape

import pytest

from inventory.models import Item
from inventory.services import receiving
from inventory.services.receiving import Receipt
from tests.documents.papers import page_count, read_codes, text_of
from tests.inventory.shelf import OWNER, assert_agrees, levels, make_item, stocked
from tests.shop.counter import quoted, spec
from tests.shop.screens import signed_in

NAMES = ["🦎 moss 🌿", "طحلب رطب", "טחב (ירוק)", "<b>Moss</b> & 'Co'", "w" * 200, "Zoë\u200b\u202eseed"]
PAPERS = ("build-sheet.pdf", "quote.pdf", "kit-label.pdf")


def many(count):
    codes = [f"THING-{number}" for number in range(count)]
    for code in codes:
        make_item(code, price="1.10", unit_name="piece")
    receiving.receive([Receipt(code, 2) for code in codes], actor=OWNER)
    return codes


def test_three_hundred_lines_are_quoted_held_printed_and_handed_over(shop, ada):
    codes = many(300)
    made = ada.post("quotes/", {"spec": spec(**dict.fromkeys(codes, 2))}).json()
    assert made["totals"]["net"] == "660.00"
    assert ada.post(f"quotes/{made['number']}/hold/").status_code == 200
    sheet = text_of(ada.get(f"quotes/{made['number']}/build-sheet.pdf").content)
    assert [code for code in codes if f"{code} " not in sheet] == []
    order = ada.post(f"quotes/{made['number']}/accept/").json()
    assert ada.post(f"orders/{order['number']}/hand-over/").status_code == 200
    assert {levels(code) for code in codes} == {(0, 0, 0)}
    assert_agrees()


def test_one_line_more_than_that_is_refused_in_a_sentence(shop, ada):
    body = {"spec": {**spec(), "extra": [{"item": "BAG", "quantity": 1}] * 301}}
    answer = ada.post("quotes/", body)
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["pointer"] == "/spec/extra"
    assert "may hold at most 300 entries, not 301." in answer.json()["errors"][0]["detail"]


@pytest.fixture(params=NAMES)
def name(request, shop):
    stocked("ODD", 3, price="1.00", unit_name="piece")
    Item.objects.filter(code="ODD").update(name=request.param)
    return request.param


def test_an_item_of_any_name_is_shown_as_it_is(name):
    number = quoted(ODD=1).number
    for path in ("/shelf/ODD/", f"/quotes/{number}/", "/shelf/?q=ODD"):
        answer = signed_in("Ada").get(path)
        assert answer.status_code == 200
        assert escape(name).replace("&#x27;", "&#39;")[:60] in answer.content.decode().replace(
            "&#x27;", "&#39;"
        )
        assert "<b>Moss</b>" not in answer.content.decode()


def test_an_item_of_any_name_is_printed_with_its_code_and_price(name, ada):
    number = quoted(ODD=1).number
    for paper in PAPERS:
        pdf = ada.get(f"quotes/{number}/{paper}").content
        assert page_count(pdf) >= 1
        assert number in text_of(pdf)
    label = ada.get("items/ODD/label.pdf").content
    assert read_codes(label, 203) == [("ODD", "]C0")]
    assert "1.00" in text_of(label)


@pytest.mark.parametrize("paper", ["a5", "A4 ", "", "letter;a4", "../letter", "٤"])
def test_a_page_size_that_does_not_exist_is_one_sentence_on_every_paper(paper, shop, ada):
    number = quoted(BAG=1).number
    for document in ("build-sheet.pdf", "quote.pdf"):
        answer = ada.get(f"quotes/{number}/{document}", {"paper": paper})
        assert answer.status_code == 422
        assert "paper must be one of letter or a4" in answer.json()["errors"][0]["detail"]
