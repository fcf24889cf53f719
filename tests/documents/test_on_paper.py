"""The writer of drawings on paper, beside the one of the library that the shapes come from."""

import io
from math import pi, sin

import pytest
from PIL import ImageChops
from reportlab.graphics import renderPDF
from reportlab.graphics.shapes import Drawing, Wedge
from reportlab.pdfgen.canvas import Canvas

from inventory.documents.typeface import SANS, register
from kits.drawings import on_paper
from kits.drawings.floor import floor
from kits.drawings.pen import Marked, Pen
from kits.drawings.section import section
from kits.drawings.theme import PAPER
from kits.drawings.top import top
from tests.documents import drawn
from tests.documents.papers import picture

PEN = Pen(PAPER)


def page(draw, drawing):
    """A drawing as a PDF page of its own size."""
    register()
    out = io.BytesIO()
    size = drawing.width, drawing.height
    canvas = Canvas(out, pagesize=size, invariant=1, initialFontName=SANS, pageCompression=0)
    draw(drawing, canvas, 0, 0)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def unlike(drawing):
    """By how many of 255 grades the two pages differ where they differ most."""
    ours, theirs = (picture(page(draw, drawing), 150) for draw in (on_paper.draw, renderPDF.draw))
    return ImageChops.difference(ours, theirs).getextrema()[1]


@pytest.mark.parametrize("name", sorted(drawn.DEMO)[:6])
@pytest.mark.parametrize("view", [section, floor, top])
def test_a_drawing_looks_as_the_library_itself_would_print_it(view, name):
    # A thousandth of a point is the least that is written: a few edges differ by a few grades.
    assert unlike(view(drawn.demo_scene(name))) <= 16


def test_every_mark_of_the_pen_looks_as_the_library_would_print_it():
    wave = [(20 + n, 80 + 6 * sin(n * pi / 9)) for n in range(60)]
    open_area = PEN.path(fill="leaf", ink="ink")
    open_area.moveTo(120, 20)
    open_area.curveTo(130, 60, 150, 60, 160, 20)
    shapes = [
        PEN.line((5, 5), (190, 12), dash=(4, 2)), PEN.rect((20, 20), (30, 20), fill="wood", ink=""),
        PEN.rect((60, 20), (30, 20), width=1.4), PEN.circle((105, 40), 9, fill="water", ink="accent"),
        PEN.polygon([(20, 50), (50, 55), (35, 70)], fill="stone"),
        PEN.strokes([wave], ink="quiet", width=0.8), PEN.text((100, 20), "middle", anchor="middle"),
        PEN.upright((180, 60), "600 mm"), PEN.text((190, 90), "right", anchor="end", bold=True), open_area,
        Marked(PEN.callout((105, 80), 12), marks={"class": "x"}),
    ]  # fmt: skip
    drawing = Drawing(200, 100)
    for shape in shapes:
        drawing.add(shape)
    assert unlike(drawing) <= 16


def test_an_ink_is_written_once_for_shapes_that_share_it():
    drawing = Drawing(100, 100)
    for n in range(50):
        drawing.add(PEN.line((0, n), (100, n)))
    assert page(on_paper.draw, drawing).count(b" RG") == 1


def test_a_shape_that_the_pen_does_not_make_is_refused():
    with pytest.raises(TypeError, match="Wedge"):
        page(on_paper.draw, Drawing(10, 10, Wedge(5, 5, 5, 0, 90)))
