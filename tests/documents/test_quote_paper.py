"""The quote on paper."""

import itertools
from dataclasses import replace

import pytest

from inventory.errors import BadInput
from kits.documents.content import CautionRow
from kits.terms.counting import counted
from shop.documents.quote import quote
from tests.documents.papers import opened, page_count, plan, quote_sheet, text_of, text_of_columns


def test_every_line_and_every_sum_stands_on_it():
    text = text_of(quote(quote_sheet()))
    for line in plan()["lines"]:
        many = counted(line["quantity"], line["unit"])
        assert f"{line['item']} {many} {line['each']} {line['total']}" in text
    assert "discount -40.00" in text
    assert "net 360.00" in text
    assert "tax 6.25 % on 360.00 22.50" in text
    assert "total USD 382.50" in text


def test_it_says_how_long_it_is_good_and_whether_anything_is_held():
    text = text_of_columns(quote(quote_sheet()))
    assert "Gooduntiltheendof2026-12-09.Nothingisheld:stockcanchangeuntilyouaccept." in text
    held = text_of_columns(quote(quote_sheet(hold_until="2026-11-28 18:00")))
    assert "Gooduntiltheendof2026-12-09.Thegoodsarehelduntil2026-11-2818:00." in held


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_300_lines_with_long_names_run_over_pages_with_the_head_on_each(paper):
    first = quote_sheet().lines[0]
    name = "Ghostwood branch of very great length " * 5
    lines = tuple(replace(first, number=n, item=f"ITEM-{n}", name=name[:200]) for n in range(1, 301))
    pdf = quote(quote_sheet(lines=lines), paper=paper)
    assert page_count(pdf) > 10
    with opened(pdf) as document:
        pages = [page.extract_text() for page in document.pages]
    assert all("quantity each total" in page for page in pages if "ITEM-" in page)
    assert sum(page.count("ITEM-") for page in pages) == 300


def test_a_note_with_markup_is_printed_as_it_was_typed():
    text = text_of(
        quote(quote_sheet(note="<para>5 < 6 & <font size=90>big</font></para>", customer="🦎 مرحبا"))
    )
    assert "<para>5 < 6 & <font size=90>big</font></para>" in text
    assert "for [lizard]" in text


def test_one_endless_word_is_broken_and_stays_inside_the_frame():
    with opened(quote(quote_sheet(note="x" * 2000))) as document:
        page = document.pages[0]
        assert max(char["x1"] for char in page.chars) <= page.width - 24
        assert sum(1 for char in page.chars if char["text"] == "x") >= 2000


def test_cautions_that_matter_stand_below():
    caution = CautionRow("warning", "residual_current_device", "Mains electricity beside water can kill.")
    text = text_of(
        quote(quote_sheet(cautions=(caution,), missing=("Not on the shelf today: 2 of 3 x bag.",)))
    )
    assert "Mains electricity beside water can kill." in text
    assert "Not on the shelf today: 2 of 3 x bag." in text


def warnings(count, *, words=40):
    return tuple(
        CautionRow("warning", about, f"First{n} {'words ' * words}")
        for n, about in zip(range(count), itertools.cycle(("uvb_lamp", "heat", "animals")), strict=False)
    )


def pages_with(pdf, word):
    with opened(pdf) as document:
        return [number for number, page in enumerate(document.pages) if word in page.extract_text()]


@pytest.mark.parametrize("count", [2, 6, 9, 12])
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_cautions_that_one_page_has_room_for_are_not_spread_over_two(count, paper):
    pdf = quote(quote_sheet(cautions=warnings(count)), paper=paper)
    [page] = pages_with(pdf, "Cautions that matter")
    assert all(pages_with(pdf, f"First{n}") == [page] for n in range(count))


def test_the_name_of_the_terms_keeps_clear_of_the_last_line():
    with opened(quote(quote_sheet())) as document:
        [page] = document.pages
        terms = next(word for word in page.extract_words() if word["text"] == "Terms")
        above = [line["top"] for line in page.lines if line["top"] < terms["bottom"]]
    assert terms["top"] - max(above) > 4


def test_the_same_quote_is_the_same_to_the_byte():
    assert quote(quote_sheet()) == quote(quote_sheet())


def test_a_paper_that_does_not_exist_is_refused_by_name():
    with pytest.raises(BadInput, match="paper must be one of"):
        quote(quote_sheet(), paper="tabloid")
