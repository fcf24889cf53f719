"""Pictures of light and climate on a build sheet: each whole in a column, with its words below."""

from dataclasses import replace

import pytest
from reportlab.graphics.shapes import Drawing, Rect

from inventory.documents.flow import BLOCK_HEIGHT, INSIDE, MARGIN
from kits.documents.build_sheet import build_sheet
from kits.documents.content import CautionRow, Picture
from kits.documents.light_and_climate import COLUMN_PT, NOTE, SMALLER
from tests.documents.papers import crested, crested_pdf, opened, page_count, text_of_columns

SAID = ("Wanted on the back 0 to 0.7, at most 1.4 within reach.", "Shade is not drawn.")
EDGE = MARGIN + INSIDE
PAPERS = pytest.mark.parametrize("paper", ["letter", "a4"])


def picture(number, *, width=COLUMN_PT, height=197):
    return Picture(f"Picture {number}", Drawing(width, height, Rect(0, 0, width, height)), SAID)


def with_pictures(*pictures, paper="letter"):
    sheet, scene = crested()
    return build_sheet(replace(sheet, pictures=pictures), scene, paper=paper)


def drawn(pdf, *, proportion, least=60):
    """Page number and rectangle of each picture, told by the proportion of its sides."""
    sides = pytest.approx(proportion, rel=1e-3)
    with opened(pdf) as document:
        return [
            (number, rect)
            for number, page in enumerate(document.pages)
            for rect in page.rects
            if rect["height"] > least and rect["width"] / rect["height"] == sides
        ]


@PAPERS
def test_the_tallest_that_fits_comes_first_and_each_is_whole_in_a_column(paper):
    heights = (101, 303, 203)
    pdf = with_pictures(*(picture(n, height=h) for n, h in enumerate(heights)), paper=paper)
    placed = [found for h in heights for found in drawn(pdf, proportion=COLUMN_PT / h)]
    assert [round(rect["height"]) for _, rect in placed] == [101, 303, 203]
    with opened(pdf) as document:
        width = document.pages[0].width
        assert all(rect["x0"] >= EDGE and rect["x1"] <= width - EDGE for _, rect in placed)
        assert all(not rect["x0"] < width / 2 < rect["x1"] for _, rect in placed)


@PAPERS
def test_title_and_sentences_stand_around_their_drawing(paper):
    pdf = with_pictures(picture(1), paper=paper)
    [(number, rect)] = drawn(pdf, proportion=COLUMN_PT / 197)
    with opened(pdf) as document:
        page = document.pages[number]
        above = page.crop((rect["x0"], rect["top"] - 20, rect["x1"], rect["top"])).extract_text()
        below = page.crop((rect["x0"], rect["bottom"], rect["x1"] + 18, rect["bottom"] + 30)).extract_text()
    assert above == f"Picture 1 {NOTE}"
    assert " ".join(below.split()) == " ".join(SAID)


@PAPERS
@pytest.mark.parametrize("size", [(2000, 310), (400, 2000), (3000, 2900)])
def test_a_drawing_that_no_column_has_room_for_is_shrunk_and_that_is_said(paper, size):
    pdf = with_pictures(picture(1, width=size[0], height=size[1]), paper=paper)
    [(number, rect)] = drawn(pdf, proportion=size[0] / size[1], least=30)
    with opened(pdf) as document:
        page = document.pages[number]
        assert SMALLER in " ".join(page.extract_text().split("\n"))
        assert rect["x1"] < page.width - EDGE + 0.5
        assert rect["bottom"] < page.height - MARGIN - BLOCK_HEIGHT


def test_a_drawing_that_fits_keeps_its_size():
    pdf = with_pictures(picture(1, width=240, height=500))
    [(_, rect)] = drawn(pdf, proportion=240 / 500)
    assert (round(rect["width"], 2), round(rect["height"], 2)) == (240, 500)
    with opened(pdf) as document:
        assert not any(SMALLER in page.extract_text() for page in document.pages)


def test_a_picture_waits_for_a_column_and_no_paragraph_is_broken_around_it():
    sentence = "This sentence is long enough for several lines of a column. " * 4
    sheet, scene = crested()
    notes = tuple(CautionRow("note", "x", f"{n}: {sentence.strip()}") for n in range(12))
    pictures = tuple(picture(n, height=90 + 40 * n) for n in range(5))
    pdf = build_sheet(replace(sheet, cautions=notes, pictures=pictures), scene)
    text = text_of_columns(pdf)
    assert all("".join(note.text.split()) in text for note in notes)
    assert all(f"Picture{n}" in text for n in range(5))


def test_a_sheet_without_pictures_has_no_such_heading():
    with opened(crested_pdf()) as document:
        assert not any(f" {NOTE}\n" in page.extract_text() for page in document.pages)


def test_twice_the_same_pictures_are_the_same_to_the_byte():
    assert with_pictures(picture(1), picture(2)) == with_pictures(picture(1), picture(2))


def with_aside(aside, notes=0):
    sheet, scene = crested()
    more = tuple(CautionRow("note", "x", f"Note {n} of a few words.") for n in range(notes))
    pictures = (replace(picture(1), aside=aside),)
    return build_sheet(replace(sheet, pictures=pictures, cautions=(*sheet.cautions, *more)), scene)


def test_an_aside_is_told_where_the_pages_have_room_for_it():
    pdf = with_aside("An aside of a few words.")
    assert "Anasideofafewwords." in text_of_columns(pdf)
    assert page_count(pdf) == page_count(with_aside(""))


@pytest.mark.parametrize("notes", range(0, 60, 12))
def test_an_aside_never_takes_another_page(notes):
    long = "An aside of very many words. " * 30
    assert page_count(with_aside(long, notes)) == page_count(with_aside("", notes))
