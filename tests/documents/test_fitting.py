"""How a build sheet fills its pages: drawings as large as they go, then type as large as it goes."""

from dataclasses import replace

import pytest
from reportlab.graphics.shapes import Drawing, Rect

from inventory.documents.flow import BODY
from kits.documents.build_sheet import LARGER_PT, LEAST_PT, build_sheet
from kits.documents.content import CautionRow, Fact, Picture
from tests.documents.papers import crested, many_parts, opened, page_count, sheet_of, text_of
from tests.full_shelf import DESERT, FERN_BOX

PAPERS = pytest.mark.parametrize("paper", ["letter", "a4"])
SENTENCE = "This sentence is here to be measured and to fill a few lines of a column."


def sizes(pdf, start):
    """Points of the type in which words that begin so are set."""
    with opened(pdf) as document:
        words = [w for page in document.pages for w in page.extract_words(extra_attrs=["size"])]
    return {round(word["size"], 1) for word in words if word["text"].startswith(start)}


def noted(count):
    """The crested sheet with so many notes."""
    sheet, scene = crested()
    notes = tuple(CautionRow("note", "x", f"Measured{n} {SENTENCE * 2}") for n in range(count))
    return replace(sheet, cautions=(*sheet.cautions, *notes)), scene


def first_page(pdf):
    with opened(pdf) as document:
        return document.pages[0].extract_text()


@PAPERS
def test_parts_begin_on_the_first_page_where_the_drawings_leave_room(paper):
    pdf = build_sheet(*sheet_of(DESERT), paper=paper)
    assert "Parts numbers as in the drawings" in first_page(pdf)


@PAPERS
@pytest.mark.parametrize("data", [FERN_BOX, DESERT], ids=["small", "desert"])
def test_a_kit_of_few_parts_is_set_in_larger_type(data, paper):
    assert sizes(build_sheet(*sheet_of(data), paper=paper), "Healthy") | {LARGER_PT[0]} == {LARGER_PT[0]}


@PAPERS
def test_type_shrinks_with_the_words_and_never_below_the_least(paper):
    found = [sizes(build_sheet(*noted(count), paper=paper), "Measured") for count in range(2, 60, 6)]
    points = [max(one) for one in found]
    assert all(len(one) == 1 for one in found)
    assert {LARGER_PT[0], BODY.size} <= set(points)
    assert min(points) >= LEAST_PT


def test_more_than_four_pages_of_words_are_set_in_the_usual_type():
    pdf = build_sheet(*many_parts(300))
    assert page_count(pdf) > 4
    assert sizes(pdf, "ITEM-1") == {7.0}  # codes are smaller than the text by a point and a half


def test_text_that_goes_on_below_a_picture_is_named_again():
    sheet, scene = noted(14)
    pictures = []
    for n in range(4):
        drawing = Drawing(250, 230)
        drawing.add(Rect(0, 0, 250, 230))
        pictures.append(Picture(f"Picture {n}", drawing))
    text = text_of(build_sheet(replace(sheet, pictures=tuple(pictures)), scene))
    assert ", continued" in text


def test_text_without_pictures_is_not_named_again():
    assert ", continued" not in text_of(build_sheet(*noted(14)))


def test_all_that_was_wanted_stands_in_the_strip():
    sheet, scene = crested()
    wanted = (*sheet.wanted[:4], Fact("customer has", "thermometer, hygrometer, timer, water dish"))
    words = first_page(build_sheet(replace(sheet, wanted=wanted), scene)).split()
    assert {"has", "thermometer,", "dish", "mm),", "mesh", "planting"} <= set(words[:80])


def blank(width, height):
    return Drawing(width, height, Rect(0, 0, width, height))


def drawn_heights(pdf):
    with opened(pdf) as document:
        rects = [rect for page in document.pages for rect in page.rects]
    return {round(rect["height"]) for rect in rects if round(rect["width"]) == 243}


def with_map(sheet, larger):
    """The sheet with one map, 101 points high or as high as this."""
    return replace(sheet, pictures=(Picture("Map", blank(243, 101), (), lambda: blank(243, larger)),))


@PAPERS
def test_a_map_is_drawn_larger_where_the_pages_have_room(paper):
    sheet, scene = sheet_of(DESERT)
    assert drawn_heights(build_sheet(with_map(sheet, 203), scene, paper=paper)) == {203}


@PAPERS
@pytest.mark.parametrize("count", [2, 10, 18])
def test_a_larger_map_never_takes_another_page(count, paper):
    sheet, scene = noted(count)
    small = build_sheet(replace(sheet, pictures=(Picture("Map", blank(243, 101)),)), scene, paper=paper)
    pdfs = [build_sheet(with_map(sheet, larger), scene, paper=paper) for larger in (203, 303, 403, 503, 603)]
    assert {page_count(pdf) for pdf in pdfs} == {page_count(small)}


def test_a_short_paragraph_is_not_parted_by_the_end_of_a_column():
    with opened(build_sheet(*noted(24))) as document:
        pages = document.pages
        columns = [
            page.crop(
                (side * page.width / 2, 18, (side + 1) * page.width / 2, page.height - 53)
            ).extract_text()
            for page in pages[1:]
            for side in (0, 1)
        ]
    notes = [f"Measured{n} {SENTENCE * 2}" for n in range(24)]
    assert all(any(note in " ".join(column.split()) for column in columns) for note in notes)
