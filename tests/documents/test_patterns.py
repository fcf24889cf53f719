"""Patterns and strokes differ in a grey copy, without any colour."""

from io import BytesIO
from itertools import combinations
from math import hypot

import numpy as np
import pypdfium2
import pytest
from reportlab.graphics.shapes import Drawing

from kits.drawings import render
from kits.drawings.legend import DASHED, DOTTED, SOLID, SWATCH, SWATCH_HEIGHT, line_of
from kits.drawings.patterns import PATTERNS, Area, filled, kept, pieces, thinned
from kits.drawings.pen import Pen
from kits.drawings.theme import PAPER

PEN = Pen(PAPER)
# Patterns that stand side by side in one drawing.
TOGETHER = (
    ("wanted", "dots", "checks"),
    ("thin dots", "dots", "thick dots"),
    ("thick dots", "levels", "falling", "checks", "uprights", "thin dots"),
    ("levels", "checks"),
    ("wanted", "dots", "levels", "uprights"),
)


def grey(drawing, dots_a_point=4):
    """Darkness of a drawing as a grey copy shows it, 0 for paper and 1 for black."""
    page = pypdfium2.PdfDocument(BytesIO(render.pdf(drawing, title="x")))[0]
    image = page.render(scale=dots_a_point, grayscale=True).to_numpy()
    return 1 - image.reshape(image.shape[:2]).astype(float) / 255


def texture(name, width=40.0, height=40.0):
    """Mean darkness, and how much darkness varies between rows, columns and both kinds of diagonals."""
    drawing = Drawing(width, height)
    for shape in filled(PEN, name, Area(0, 0, width, height)):
        drawing.add(shape)
    dark = grey(drawing)
    side = min(dark.shape)
    square = dark[:side, :side]
    wrapped = [np.stack([np.roll(row, s * n) for n, row in enumerate(square)]) for s in (1, -1)]
    ways = [square.mean(axis=1), square.mean(axis=0), *(one.mean(axis=0) for one in wrapped)]
    return np.array([3 * dark.mean(), *(way.std() for way in ways)])


@pytest.mark.parametrize("names", TOGETHER)
@pytest.mark.parametrize("size", [(40.0, 40.0), (SWATCH, SWATCH_HEIGHT)], ids=["area", "swatch"])
def test_patterns_of_one_drawing_differ_in_grey(names, size):
    for one, other in combinations(names, 2):
        apart = np.linalg.norm(texture(one, *size) - texture(other, *size))
        assert apart > 0.08, (one, other, apart)


@pytest.mark.parametrize("name", PATTERNS)
def test_no_pattern_is_blank_or_solid(name):
    assert 0.01 < texture(name)[0] / 3 < 0.6


def test_strokes_of_curves_leave_different_shares_of_paper():
    drawn = []
    for stroke in (SOLID, DASHED, DOTTED):
        drawing = Drawing(200, 10)
        drawing.add(line_of(PEN, [(5, 5), (195, 5)], stroke))
        row = grey(drawing)[20, 20:-20]
        drawn.append(float((row > 0.3).mean()))
    assert drawn[0] == 1
    assert drawn[0] > drawn[1] + 0.2 > drawn[2] + 0.2


@pytest.mark.parametrize("name", PATTERNS)
def test_marks_keep_to_an_area_of_any_outline(name):
    area = Area(0, 0, 60, 40, lambda point: hypot(point[0] - 30, point[1] - 20) < 15)
    (path,) = filled(PEN, name, area)
    for x, y in zip(path.points[::2], path.points[1::2], strict=True):
        assert hypot(x - 30, y - 20) < 15.1


def test_an_area_without_room_has_no_marks():
    assert all(filled(PEN, name, Area(3, 3, 3, 3)) == [] for name in ("wanted", "levels", "uprights"))


def test_a_line_is_cut_at_the_edge_of_what_is_held():
    ((start, end),) = kept(((0.0, 0.0), (100.0, 0.0)), lambda point: 20 <= point[0] <= 61)
    assert start[0] == pytest.approx(20, abs=0.1)
    assert end[0] == pytest.approx(61, abs=0.1)


def test_a_bent_line_stays_one_piece_where_all_of_it_is_held():
    line = [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0)]
    assert pieces(line, lambda _: True) == [line]
    (cut,) = pieces(line, lambda point: point[0] + point[1] < 15)
    assert cut[:2] == line[:2]
    assert cut[2] == pytest.approx((10.0, 5.0), abs=0.1)


def test_a_thinned_line_keeps_its_peaks_and_stays_near():
    line = [(float(x), 50.0 if x == 500 else (x / 100) ** 2) for x in range(1000)]
    thin = thinned(line)
    assert (500.0, 50.0) in thin
    assert len(thin) < 60
    xs, ys = zip(*thin, strict=True)
    assert max(abs(np.interp(x, xs, ys) - y) for x, y in line) < 0.25
