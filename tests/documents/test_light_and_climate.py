"""The pages "Light and climate" of a build sheet: after the others, two or more pictures to a page."""

from dataclasses import replace

import pytest
from reportlab.graphics.shapes import Drawing, Rect

from kits.documents.build_sheet import build_sheet
from kits.documents.content import Picture
from kits.documents.light_and_climate import FULL_WIDTH_PT, HALF_WIDTH_PT, HEIGHT_PT, SMALLER
from tests.documents.papers import crested, crested_pdf, opened, page_count

SAID = ("Wanted on the back 0 to 0.7, at most 1.4 within reach.", "An estimate: measure it.")
PAPERS = pytest.mark.parametrize("paper", ["letter", "a4"])


def picture(number, *, width=FULL_WIDTH_PT, height=HEIGHT_PT):
    return Picture(f"Picture {number}", Drawing(width, height, Rect(0, 0, width, height)), SAID)


def with_pictures(*pictures, paper="letter"):
    sheet, scene = crested()
    return build_sheet(replace(sheet, pictures=pictures), scene, paper=paper)


def pages_after(pdf, paper):
    """Of each page with pictures: its words, and the rectangles of the drawings on it."""
    first = page_count(crested_pdf(paper))
    with opened(pdf) as document:
        return [
            (page.extract_text(), [r for r in page.rects if r["width"] > 100 and r["height"] > 50 and
             r["x0"] > 30])
            for page in document.pages[first:]
        ]  # fmt: skip


@PAPERS
@pytest.mark.parametrize(("count", "width", "shares"), [
    (1, FULL_WIDTH_PT, [1]), (4, FULL_WIDTH_PT, [2, 2]), (5, FULL_WIDTH_PT, [2, 2, 1]),
    (4, HALF_WIDTH_PT, [4]), (5, HALF_WIDTH_PT, [4, 1]),
])  # fmt: skip
def test_two_wide_or_four_narrow_pictures_stand_on_a_page(paper, count, width, shares):
    pdf = with_pictures(*(picture(n, width=width) for n in range(count)), paper=paper)
    pages = pages_after(pdf, paper)
    assert [len(drawn) for _, drawn in pages] == shares
    assert [text.count("Picture ") for text, _ in pages] == shares


def test_a_narrow_picture_without_a_neighbour_has_its_words_beside_it():
    pdf = with_pictures(picture(1, width=200, height=100), picture(2, height=100), picture(3, height=100))
    [(_, drawn)] = pages_after(pdf, "letter")
    assert len({round(rect["top"]) for rect in drawn}) == 3
    rect = next(one for one in drawn if one["width"] == 200)
    with opened(pdf) as document:
        beside = document.pages[-1].crop((rect["x1"], rect["top"], 612 - 36, rect["bottom"]))
        assert " ".join(beside.extract_text().split()) == " ".join(SAID)


@PAPERS
def test_the_other_pages_stay_as_they_are_but_for_the_number_of_pages(paper):
    pdf = with_pictures(picture(1), picture(2), picture(3), paper=paper)
    count = page_count(crested_pdf(paper))
    assert page_count(pdf) == count + 2
    with opened(pdf) as more, opened(crested_pdf(paper)) as plain:
        told = [page.extract_text() for page in more.pages]
        assert all(f"{number} of {count + 2}\n" in text for number, text in enumerate(told, start=1))
        for text, page in zip(told, plain.pages, strict=False):
            assert text.replace(f" of {count + 2}\n", f" of {count}\n") == page.extract_text()


@PAPERS
def test_title_and_sentences_stand_around_their_drawing(paper):
    with opened(with_pictures(picture(1), picture(2), paper=paper)) as document:
        page = document.pages[-1]
        assert "Light and climate" in page.extract_text()
        for number, rect in enumerate(sorted((r for r in page.rects if r["width"] == FULL_WIDTH_PT),
                                             key=lambda r: r["top"]), start=1):  # fmt: skip
            above = page.crop((36, rect["top"] - 14, page.width - 36, rect["top"])).extract_text()
            below = page.crop((36, rect["bottom"], page.width - 36, rect["bottom"] + 34)).extract_text()
            assert above == f"Picture {number}"
            assert below == "\n".join(SAID)


@PAPERS
@pytest.mark.parametrize("size", [(2000, 300), (400, 2000), (3000, 3000)])
def test_a_drawing_that_no_page_has_room_for_is_shrunk_and_that_is_said(paper, size):
    pdf = with_pictures(picture(1, width=size[0], height=size[1]), paper=paper)
    [(text, [rect])] = pages_after(pdf, paper)
    assert rect["width"] / rect["height"] == pytest.approx(size[0] / size[1], rel=1e-3)
    assert SMALLER in text
    with opened(pdf) as document:
        page = document.pages[-1]
        words = [word["bottom"] for word in page.extract_words() if word["text"].startswith("estimate:")]
        assert rect["x1"] < page.width - 36 + 0.5
        assert max([rect["bottom"], *words]) < page.height - 64


def test_a_drawing_that_fits_keeps_its_size():
    [(text, [rect])] = pages_after(with_pictures(picture(1, width=400, height=500)), "letter")
    assert (round(rect["width"], 2), round(rect["height"], 2)) == (400, 500)
    assert SMALLER not in text


def test_a_sheet_without_pictures_has_no_such_page():
    with opened(crested_pdf()) as document:
        assert not any("Light and climate" in page.extract_text() for page in document.pages)


def test_twice_the_same_pictures_are_the_same_to_the_byte():
    assert with_pictures(picture(1), picture(2)) == with_pictures(picture(1), picture(2))
