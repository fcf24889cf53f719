"""A Drawing on a page of a PDF: our own small writer, as there is one for SVG.

Knows the shapes that the pen makes. An ink, a width or a dash is written where it changes and not for every
shape again, which makes a page of leaves and hatching half as large and several times as fast to write.
"""

from collections.abc import Sequence
from functools import lru_cache
from itertools import chain
from typing import cast

from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Path, Polygon, Rect, Shape, String
from reportlab.lib.colors import Color
from reportlab.pdfgen.canvas import Canvas

from inventory.documents.typeface import text_width

CURVE = 0.5523  # of the radius: four curves that look like a circle
_STEPS = ("%.3f %.3f m", "%.3f %.3f l", "%.3f %.3f %.3f %.3f %.3f %.3f c", "h")  # by a path's operators
_MOVE, _CLOSE = 0, 3
_PAINT = {(True, True): "B*", (True, False): "f*", (False, True): "S", (False, False): "n"}
_LINE, _RECT = "%.3f %.3f m %.3f %.3f l", "%.3f %.3f %.3f %.3f re"
_TURN, _INK, _LENGTH = "q %.5f %.5f %.5f %.5f %.3f %.3f cm", "%.5f %.5f %.5f", "%.3f"
_RING = "\n".join((_STEPS[0], *(_STEPS[2],) * 4, "h"))
UNTURNED = (1, 0, 0, 1, 0, 0)


def draw(drawing: Drawing, canvas: Canvas, x: float, y: float) -> None:
    """The drawing with its lower left corner at a point of the page."""
    writer = _Writer(canvas)
    canvas.saveState()
    canvas.translate(x, y)
    for shape in drawing.contents:
        writer.write(shape)
    canvas.restoreState()


class _Writer:
    """Writes shapes and remembers what the page was last told of each operator."""

    def __init__(self, canvas: Canvas) -> None:
        self._canvas, self._told = canvas, dict[str, str]()

    def write(self, shape: Shape) -> None:
        for kind, method in _METHODS:
            if isinstance(shape, kind):
                getattr(self, method)(shape)
                return
        raise TypeError(f"A drawing holds a {type(shape).__name__}, which has no form on paper here.")

    def group(self, group: Group) -> None:
        turned = tuple(group.transform) != UNTURNED
        before = self._told.copy()
        if turned:
            self._canvas.addLiteral(_TURN % tuple(group.transform))
        for shape in group.contents:
            self.write(shape)
        if turned:
            self._canvas.addLiteral("Q")
            self._told = before

    def line(self, line: Line) -> None:
        self._paint(line, _LINE % (line.x1, line.y1, line.x2, line.y2), area=False)

    def rect(self, rect: Rect) -> None:
        self._paint(rect, _RECT % (rect.x, rect.y, rect.width, rect.height))

    def circle(self, circle: Circle) -> None:
        self._paint(circle, _RING % _ring(circle.cx, circle.cy, circle.r))

    def polygon(self, polygon: Polygon) -> None:
        self._paint(polygon, _outline(len(polygon.points) // 2) % tuple(polygon.points))

    def path(self, path: Path) -> None:
        operators = path.operators
        closed = operators.count(_MOVE) == operators.count(_CLOSE)
        steps = "\n".join([_STEPS[operator] for operator in operators])
        self._paint(path, steps % tuple(path.points), area=closed)

    def string(self, string: String) -> None:
        self._tell("rg", _ink(string.fillColor))
        share = {"start": 0.0, "middle": 0.5, "end": 1.0}[string.textAnchor]
        wide = text_width(string.text, string.fontSize, string.fontName) if share else 0.0
        self._canvas.setFont(string.fontName, string.fontSize)
        self._canvas.drawString(string.x - share * wide, string.y, string.text)

    def _paint(self, shape: Shape, outline: str, *, area: bool = True) -> None:
        """Fill and stroke an outline in the inks of its shape."""
        filled = area and shape.fillColor is not None
        stroked = shape.strokeColor is not None
        if filled:
            self._tell("rg", _ink(shape.fillColor))
        if stroked:
            self._tell("RG", _ink(shape.strokeColor))
            self._tell("w", _LENGTH % shape.strokeWidth)
            self._tell("J", str(shape.strokeLineCap))
            self._tell("j", str(shape.strokeLineJoin))
            self._tell("d", _dash(shape.strokeDashArray))
        self._canvas.addLiteral(f"{outline} {_PAINT[filled, stroked]}")

    def _tell(self, operator: str, value: str) -> None:
        if self._told.get(operator) != value:
            self._told[operator] = value
            self._canvas.addLiteral(f"{value} {operator}")


_METHODS: tuple[tuple[type[Shape], str], ...] = (
    (Path, "path"), (String, "string"), (Line, "line"), (Circle, "circle"), (Rect, "rect"),
    (Polygon, "polygon"), (Group, "group"),
)  # fmt: skip


@lru_cache(maxsize=64)
def _ink(colour: Color) -> str:
    return _INK % cast("tuple[float, float, float]", colour.rgb())


def _dash(lengths: Sequence[float] | None) -> str:
    return f"[{' '.join(_LENGTH % length for length in lengths or ())}] 0"


@lru_cache(maxsize=64)
def _outline(count: int) -> str:
    return "\n".join((_STEPS[0], *(_STEPS[1],) * (count - 1), "h"))


def _ring(x: float, y: float, r: float) -> tuple[float, ...]:
    k = CURVE * r
    return tuple(
        chain(
            (x + r, y),
            (x + r, y + k, x + k, y + r, x, y + r),
            (x - k, y + r, x - r, y + k, x - r, y),
            (x - r, y - k, x - k, y - r, x, y - r),
            (x + k, y - r, x + r, y - k, x + r, y),
        )
    )
