"""The build sheet: to scale, complete, the same every time."""

import gc
import io
from dataclasses import replace

import psutil
import pypdf
import pytest

from inventory.errors import BadInput
from kits.documents.build_sheet import build_sheet
from kits.documents.words import DEFERENCE
from kits.terms.counting import counted
from kits.terms.typesetting import typeset
from tests.documents.papers import (
    crested,
    crested_pdf,
    many_parts,
    opened,
    page_count,
    plan,
    sheet_of,
    text_of,
    text_of_columns,
)
from tests.full_shelf import CRESTED, DESERT, FERN_BOX


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595.3, 841.9))])
def test_it_is_two_to_four_pages_of_the_paper_asked_for(paper, size):
    pdf = crested_pdf(paper)
    with opened(pdf) as document:
        assert {(round(page.width, 1), round(page.height, 1)) for page in document.pages} == {size}
    assert 2 <= page_count(pdf) <= 4


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("data", [CRESTED, FERN_BOX, DESERT], ids=["forest", "small", "desert"])
def test_twice_the_same_is_the_same_to_the_byte(data, paper):
    sheet, scene = sheet_of(data)
    assert build_sheet(sheet, scene, paper=paper) == build_sheet(sheet, scene, paper=paper)


def test_every_line_stands_on_it_with_quantity_and_price():
    text = text_of(crested_pdf())
    for line in plan()["lines"]:
        many = counted(line["quantity"], line["unit"])
        assert f"{line['name']} {line['item']} {many} {line['each']} {line['total']}" in text


def test_the_totals_stand_on_it():
    totals, text = plan()["totals"], text_of(crested_pdf())
    assert f"net {totals['net']}" in text
    assert f"tax {totals['tax']}" in text
    assert f"total USD {totals['gross']}" in text


def test_every_caution_and_every_upkeep_task_stands_on_it():
    text = text_of_columns(crested_pdf())
    for caution in plan()["cautions"]:
        if caution["about"] != "figures":  # said at more length, with a sign, by what stands on every sheet
            assert "".join(typeset(caution["text"]).split()) in text
    for _, sentence in DEFERENCE:
        assert "".join(sentence.split()) in text
    for reminder in plan()["calendar"]:
        assert "".join(reminder["what"].split()) in text


def test_layers_stand_on_it_with_depth_litres_and_bags():
    text = text_of(crested_pdf())
    assert "Drainage 2 in (50 mm)" in text
    assert "Soil front 2⅜ in (60 mm)" in text
    assert "back 4⅜ in (110 mm)" in text
    litres = plan()["figures"]["substrate_l"]
    assert f"({litres:.1f} L)" in text
    bags = [line for line in plan()["lines"] if line["role"] == "substrate"]
    assert all(f"{line['quantity']} x {line['name']}" in text for line in bags)


def test_the_section_is_drawn_to_scale():
    """Drawn depth over drawn width of the floor plan and height over depth of the section, within 1 %."""
    with opened(crested_pdf()) as document:
        sides = drawn_boxes(document.pages[0])
    inside = crested()[1].inside
    section = next(s for s in sides if abs(s[1] / s[0] / (inside.height_mm / inside.depth_mm) - 1) < 0.01)
    floor = [s for s in sides if abs(s[1] / s[0] / (inside.depth_mm / inside.width_mm) - 1) < 0.01]
    points_per_mm = 72 / 25.4 / printed_scale()
    assert section[0] == pytest.approx(inside.depth_mm * points_per_mm, rel=0.01)
    assert section[1] == pytest.approx(inside.height_mm * points_per_mm, rel=0.01)
    views = [s for s in floor if s[0] == pytest.approx(inside.width_mm * points_per_mm, rel=0.01)]
    assert len(views) >= 2  # the floor and the top


def drawn_boxes(page):
    return [
        (r["width"], r["height"]) for r in (*page.rects, *page.curves) if r["width"] > 40 and r["height"] > 40
    ]


def printed_scale():
    """n of the 1 : n in the title block."""
    words = text_of(crested_pdf()).split()
    return float(words[words.index(":", words.index("1042K") if "1042K" in words else 0) + 1])


def test_the_scale_bar_is_as_long_as_it_says():
    with opened(crested_pdf()) as document:
        page = document.pages[0]
        pieces = sorted({round(r["x1"] - r["x0"], 2) for r in page.rects if 1 < r["height"] < 6})
    fifty_mm = 50 * 72 / 25.4 / printed_scale()
    assert any(piece == pytest.approx(fifty_mm, rel=0.01) for piece in pieces)


def test_title_language_and_shop_are_in_the_document_itself():
    reader = pypdf.PdfReader(io.BytesIO(crested_pdf()))
    assert reader.metadata.title == "Build sheet 1042K: Crested gecko, humid forest"
    assert reader.metadata.author == "Saltmoss Vivaria"
    assert reader.trailer["/Root"]["/Lang"] == "en-US"
    assert reader.trailer["/Root"]["/ViewerPreferences"]["/DisplayDocTitle"]


def test_the_one_typeface_is_in_the_document():
    reader = pypdf.PdfReader(io.BytesIO(crested_pdf()))
    fonts = {
        font.get_object()["/BaseFont"].split("+")[-1]
        for page in reader.pages
        for font in page["/Resources"]["/Font"].values()
    }
    assert fonts == {"DejaVuSans", "DejaVuSans-Bold"}


def test_the_title_block_counts_the_pages():
    pdf = crested_pdf()
    count = page_count(pdf)
    with opened(pdf) as document:
        for number, page in enumerate(document.pages, start=1):
            assert f"{number} of {count}" in page.extract_text()


def test_300_lines_run_over_pages_with_the_head_on_each():
    pdf = build_sheet(*many_parts(300))
    text = text_of(pdf)
    assert all(f"Thing number {n} ITEM-{n} " in text for n in range(1, 301))
    with opened(pdf) as document:
        with_parts = [page.extract_text() for page in document.pages if "Thing number" in page.extract_text()]
    assert len(with_parts) > 3
    assert all("quantity each total" in page for page in with_parts)


def test_markup_emoji_and_right_to_left_names_are_printed_as_they_are():
    sheet, scene = crested()
    note = "<para>5 < 6 & <b>no</b></para>"
    heading = replace(
        sheet.heading, note=note, customer="<b>Wren</b> & שלום 🦎\x00", shop="Salt & <i>moss</i>"
    )
    text = text_of(build_sheet(replace(sheet, heading=heading), scene))
    assert "<b>Wren</b> &" in text
    assert note in text
    assert "Salt & <i>moss</i>" in text
    assert "[lizard]" in text  # the picture is not in the typeface, so its name stands for it
    assert "םולש" in text  # drawn from left to right, as a right-to-left word is read


def test_a_paper_that_does_not_exist_is_refused_by_name():
    with pytest.raises(BadInput, match="paper must be one of letter or a4, not 'legal'"):
        build_sheet(*crested(), paper="legal")


def test_200_sheets_take_no_more_memory_than_50():
    process = psutil.Process()
    sheet, scene = sheet_of(FERN_BOX)
    for _ in range(50):
        build_sheet(sheet, scene)
    gc.collect()
    before = process.memory_info().rss
    for _ in range(150):
        build_sheet(sheet, scene)
    gc.collect()
    assert process.memory_info().rss - before < 5_000_000


def test_the_hours_of_every_month_stand_each_on_a_line_of_its_column():
    spec = {**CRESTED, "lighting": {"season": {"latitude_deg": -21.5}}}
    told = text_of_columns(build_sheet(*sheet_of(spec)))
    assert "Hoursoflight,JanuarytoMarch13.25,12.75,12.25Hoursoflight,ApriltoJune" in told
    assert "Hoursoflight,OctobertoDecember12.5,13.25,13.5" in told
