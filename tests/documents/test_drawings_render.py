"""Drawings as SVG for a page and as PDF for paper."""

import re
from io import BytesIO
from xml.etree import ElementTree as ET

import pytest
from pypdf import PdfReader
from reportlab.graphics.shapes import Drawing, Wedge

from kits.drawings import render
from kits.drawings.floor import floor
from kits.drawings.pen import Pen
from kits.drawings.section import section
from kits.drawings.theme import PAPER, Theme
from kits.drawings.top import top
from tests.documents import drawn

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def scene():
    return drawn.scene_of({**drawn.CRESTED, "units": "us"})


def page(scene, name="section", title="Side section"):
    return render.svg(section(scene), name=name, title=title, description="Front left.")


def test_an_svg_is_one_element_with_role_name_title_and_description(scene):
    text = page(scene, title="Gecko & <friends>")
    root = ET.fromstring(text)
    assert text.startswith("<svg")
    assert (root.tag, root.get("role"), root.get("aria-label")) == (f"{SVG}svg", "img", "Gecko & <friends>")
    assert root.findtext(f"{SVG}title") == "Gecko & <friends>"
    assert root.findtext(f"{SVG}desc") == "Front left."


def test_two_drawings_on_one_page_share_no_id(scene):
    ids = [re.findall(r'\bid="([^"]+)"', page(scene, name=name)) for name in ("one", "two")]
    assert len(ids[0]) == 3
    assert not set(ids[0]) & set(ids[1])


def test_a_strict_content_security_policy_lets_an_svg_through(scene):
    text = page(scene)
    assert not re.search(r"\bstyle=|<style|<script|\bon\w+=|href", text)


def test_every_colour_of_an_svg_can_be_changed_by_the_page(scene):
    colours = set(re.findall(r'(?:fill|stroke)="([^"]+)"', page(scene)))
    assert f"var(--drawing-ink, {PAPER.ink})" in colours
    assert all(colour == "none" or colour.startswith("var(--drawing-") for colour in colours)


def test_no_two_inks_are_the_same_colour():
    inks = [getattr(PAPER, name) for name in Theme.__dataclass_fields__]
    assert len(set(inks)) == len(inks)


def test_depths_that_can_be_edited_are_marked_once_each(scene):
    marked = re.findall(r'data-depth="([^"]+)"', page(scene))
    assert sorted(marked) == ["drainage", "litter", "substrate_back", "substrate_front"]


def test_every_drawn_line_has_one_callout_and_no_other_line_has_one(scene):
    found = sorted(map(int, re.findall(r'data-callout="(\d+)"', page(scene))))
    assert found == sorted(part.number for part in scene.parts if part.number)


def test_text_stays_text_on_screen_and_on_paper(scene):
    texts = [element.text for element in ET.fromstring(page(scene)).iter(f"{SVG}text")]
    printed = PdfReader(BytesIO(render.pdf(section(scene), title="Section"))).pages[0].extract_text()
    for words in ("443 mm · 17½ in", "leaf litter", "front", "back"):
        assert words in texts
        assert words in printed


@pytest.mark.parametrize("view", [section, floor, top])
def test_equal_scenes_give_equal_bytes(scene, view):
    first, second = (render.pdf(view(scene), title="Kit") for _ in range(2))
    assert first == second
    assert render.svg(view(scene), name="a", title="t") == render.svg(view(scene), name="a", title="t")


def test_a_pdf_says_its_title_and_language(scene):
    reader = PdfReader(BytesIO(render.pdf(top(scene), title="The top", language="en-US")))
    assert reader.metadata.title == "The top"
    assert reader.trailer["/Root"]["/Lang"] == "en-US"


def test_numbers_alone_make_a_narrower_section(scene):
    bare = section(scene, words=False)
    assert bare.width < section(scene, scale=9).width
    assert not {"leaf litter", "drainage"} & {box.what for box in drawn.words(bare)}


def test_neighbours_in_one_paint_say_it_once_around_them():
    pen = Pen(PAPER)
    drawing = Drawing(40, 10, *[pen.circle((10.0 * n, 5.0), 2, fill="leaf") for n in range(3)])
    text = render.svg(drawing, name="a", title="t")
    assert re.search(r"<g fill=[^>]+>(<circle cx=\"\d+\" cy=\"5\" r=\"2\"/>){3}</g>", text)


def test_strokes_in_one_paint_are_one_path_and_what_comes_between_stays_between():
    pen = Pen(PAPER)
    lines = [pen.line((0, y), (9, y)) for y in (1, 2, 3)]
    drawing = Drawing(10, 10, *lines[:2], pen.rect((0, 0), (9, 9), fill="paper"), lines[2])
    shapes = re.findall(r"<(?:path|rect|line) [^>]*?(?= stroke)", render.svg(drawing, name="a", title="t"))
    assert [shape.split()[0] for shape in shapes] == ["<path", "<rect", "<line"]
    assert 'd="M0 9L9 9M0 8L9 8" fill="none"' in shapes[0]


def test_the_leaders_of_a_side_are_one_path_below_their_dots(scene):
    leaders = re.findall(r'<g class="leader">(<path d="[^"]+"[^>]*/>)</g>(<g [^>]+><circle)?', page(scene))
    assert [bool(dots) for _, dots in leaders] == [True, True]
    assert all(path.count("M") > 2 for path, _ in leaders)


def test_a_shape_that_the_writer_does_not_know_is_refused_by_name():
    drawing = Drawing(10, 10, Wedge(5, 5, 5, 0, 90))
    with pytest.raises(TypeError, match="Wedge"):
        render.svg(drawing, name="a", title="t")
