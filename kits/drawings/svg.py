"""A Drawing as SVG for inlining: our own small writer, for marks, theme colours and unique ids.

Knows the shapes that the pen makes. Colours become CSS custom properties with the paper's colour as fallback;
there is no style attribute, so that a strict content security policy lets everything through.
"""

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import NamedTuple, cast
from xml.sax.saxutils import escape, quoteattr

from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Path, Polygon, Rect, Shape, String
from reportlab.lib.colors import Color

from inventory.documents.typeface import SANS_BOLD
from kits.drawings.pen import Marked
from kits.drawings.theme import PAPER, Theme, css_colours

FAMILY = "DejaVu Sans, Verdana, sans-serif"
CAPS = {0: "butt", 1: "round", 2: "square"}
Matrix = tuple[float, float, float, float, float, float]
_STEPS = ("M%.1f %.1f", "L%.1f %.1f", "C%.1f %.1f %.1f %.1f %.1f %.1f", "Z")  # by a path's operators
UNTURNED: Matrix = (1, 0, 0, 1, 0, 0)


def svg(drawing: Drawing, *, name: str, title: str, description: str = "", theme: Theme = PAPER) -> str:
    """The drawing as one <svg> element; `name` makes its ids unique on the page."""
    writer = _Writer(drawing.height, css_colours(theme))
    size = f"0 0 {_n(drawing.width)} {_n(drawing.height)}"
    described = f"<desc id={quoteattr(name + '-desc')}>{escape(description)}</desc>" if description else ""
    ids = f"{name}-title {name}-desc" if description else f"{name}-title"
    body = writer.write(drawing.contents, UNTURNED)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" id={quoteattr(name)} class="drawing" viewBox="{size}" '
        f'width="{_n(drawing.width)}" height="{_n(drawing.height)}" role="img" aria-label={quoteattr(title)} '
        f"aria-describedby={quoteattr(ids)}>"
        f"<title id={quoteattr(name + '-title')}>{escape(title)}</title>{described}"
        f'<g font-family="{FAMILY}">{body}</g></svg>'
    )


def _n(value: float) -> str:
    """A number as short as a hundredth of a point allows."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


class _Part(NamedTuple):
    """A shape before and after its paint; `strokes` are those of a path that fills nothing."""

    head: str
    paint: str = ""
    tail: str = "/>"
    strokes: str = ""


class _Writer:
    """Writes shapes with the page's downward axis.

    Shapes that follow one another in the same paint say it once, in a group around them, and strokes
    are one path: a browser works out every element and every attribute for itself.
    """

    def __init__(self, height: float, colours: Mapping[str, str]) -> None:
        self._height, self._colours = height, colours

    def write(self, shapes: Sequence[Shape], matrix: Matrix, marks: str = "") -> str:
        """The shapes, in a group of these marks if there are any."""
        runs = [_run(list(parts)) for _, parts in groupby(self._parts(shapes, matrix), key=_paint_of)]
        if marks and len(runs) == 1:
            paint, body = runs[0]
            return f"<g{marks}{paint}>{body}</g>"
        body = "".join([f"<g{paint}>{body}</g>" if paint else body for paint, body in runs])
        return f"<g{marks}>{body}</g>" if marks else body

    def _parts(self, shapes: Sequence[Shape], matrix: Matrix) -> Iterator[_Part]:
        for shape in shapes:
            if isinstance(shape, Group):
                yield from self._group(shape, _product(matrix, shape.transform))
            else:
                yield self._part(shape, matrix)

    def _group(self, group: Group, matrix: Matrix) -> Iterator[_Part]:
        marks = "".join(f" {key}={quoteattr(value)}" for key, value in _marks(group).items())
        if marks:
            yield _Part(self.write(group.contents, matrix, marks), tail="")
        else:
            yield from self._parts(group.contents, matrix)

    def _part(self, shape: Shape, matrix: Matrix) -> _Part:
        for kind, method in _METHODS:
            if isinstance(shape, kind):
                return cast(_Part, getattr(self, method)(shape, matrix))
        raise TypeError(f"A drawing holds a {type(shape).__name__}, which has no SVG form here.")

    def text(self, text: String, matrix: Matrix) -> _Part:
        x, y = self._point(text.x, text.y, matrix)
        turned = f' transform="rotate(-90 {x} {y})"' if abs(matrix[1]) > 0.5 else ""
        bold = ' font-weight="bold"' if text.fontName == SANS_BOLD else ""
        anchor = "" if text.textAnchor == "start" else f' text-anchor="{text.textAnchor}"'
        looks = f' font-size="{_n(text.fontSize)}" fill="{self._colour(text.fillColor)}"{anchor}{bold}'
        return _Part(f'<text x="{x}" y="{y}"{looks}{turned}>{escape(text.text)}</text>', tail="")

    def line(self, line: Line, matrix: Matrix) -> _Part:
        (x1, y1), (x2, y2) = self._point(line.x1, line.y1, matrix), self._point(line.x2, line.y2, matrix)
        head = f'<line x1="{x1}" y1="{y1}" x2="{x2}" y2="{y2}"'
        return _Part(head, self._stroke(line), strokes=f"M{x1} {y1}L{x2} {y2}")

    def rect(self, rect: Rect, matrix: Matrix) -> _Part:
        x, y = self._point(rect.x, rect.y + rect.height, matrix)
        size = f'width="{_n(rect.width)}" height="{_n(rect.height)}"'
        return _Part(f'<rect x="{x}" y="{y}" {size}', self._paint(rect))

    def circle(self, circle: Circle, matrix: Matrix) -> _Part:
        x, y = self._point(circle.cx, circle.cy, matrix)
        return _Part(f'<circle cx="{x}" cy="{y}" r="{_n(circle.r)}"', self._paint(circle))

    def polygon(self, polygon: Polygon, matrix: Matrix) -> _Part:
        values = self._on_page(polygon.points, matrix)
        corners = " ".join(["%.1f,%.1f"] * (len(values) // 2))
        return _Part(f'<polygon points="{corners % values}"', self._paint(polygon))

    def path(self, path: Path, matrix: Matrix) -> _Part:
        steps = "".join([_STEPS[operator] for operator in path.operators])
        d = steps % self._on_page(path.points, matrix)
        return _Part(f'<path d="{d}"', self._paint(path), strokes="" if path.fillColor else d)

    def _on_page(self, points: Sequence[float], matrix: Matrix) -> tuple[float, ...]:
        """The coordinates x, y, x, y, ... with the page's downward axis."""
        a, b, c, d, e, f = matrix
        top = self._height - f
        pairs = zip(points[::2], points[1::2], strict=True)
        return tuple([n for x, y in pairs for n in (a * x + c * y + e, top - b * x - d * y)])

    def _point(self, x: float, y: float, matrix: Matrix) -> tuple[str, str]:
        a, b, c, d, e, f = matrix
        return _n(a * x + c * y + e), _n(self._height - (b * x + d * y + f))

    def _paint(self, shape: Shape) -> str:
        fill = self._colour(shape.fillColor)
        return f' fill="{fill}"{self._stroke(shape)}'

    def _stroke(self, shape: Shape) -> str:
        if shape.strokeColor is None or not shape.strokeWidth:
            return ""
        cap = CAPS[getattr(shape, "strokeLineCap", 0) or 0]
        caps = "" if cap == "butt" else f' stroke-linecap="{cap}" stroke-linejoin="round"'
        dashes = getattr(shape, "strokeDashArray", None)
        dash = f' stroke-dasharray="{" ".join(_n(d) for d in dashes)}"' if dashes else ""
        return (
            f' stroke="{self._colour(shape.strokeColor)}" stroke-width="{_n(shape.strokeWidth)}"{caps}{dash}'
        )

    def _colour(self, colour: Color | None) -> str:
        if colour is None:
            return "none"
        hexadecimal = f"#{colour.hexval()[2:]}"
        return self._colours.get(hexadecimal, hexadecimal)


_METHODS: tuple[tuple[type, str], ...] = (
    (String, "text"), (Line, "line"), (Rect, "rect"), (Circle, "circle"),
    (Polygon, "polygon"), (Path, "path"),
)  # fmt: skip


def _paint_of(part: _Part) -> str:
    return part.paint


def _run(parts: Sequence[_Part]) -> tuple[str, str]:
    """Parts of one paint: what the group around them says of it, and they themselves."""
    paint = parts[0].paint
    if not paint or len(parts) == 1:
        return "", "".join([f"{part.head}{paint}{part.tail}" for part in parts])
    if all(part.strokes for part in parts):
        filled = (
            "" if " fill=" in paint else ' fill="none"'
        )  # a line has nothing to fill, a path of lines has
        return "", f'<path d="{"".join([part.strokes for part in parts])}"{filled}{paint}/>'
    return paint, "".join([f"{part.head}{part.tail}" for part in parts])


def _marks(group: Group) -> Mapping[str, str]:
    return group.marks if isinstance(group, Marked) else {}


def _product(m: Matrix, n: Matrix) -> Matrix:
    """First n, then m."""
    return (
        m[0] * n[0] + m[2] * n[1], m[1] * n[0] + m[3] * n[1],
        m[0] * n[2] + m[2] * n[3], m[1] * n[2] + m[3] * n[3],
        m[0] * n[4] + m[2] * n[5] + m[4], m[1] * n[4] + m[3] * n[5] + m[5],
    )  # fmt: skip
