"""Care marks for boxes: our own drawings after the shapes of ISO 780, black, with words beside them.

A mark is drawn in a square of 100 units and scaled; ISO 780 has none for live goods, so those are ours alone.
"""

from collections.abc import Callable
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from inventory.documents.pen import BLACK, WHITE, Pen, Style

THIS_WAY_UP, FRAGILE, TEMPERATURE = "this_way_up", "fragile", "temperature"
LIVE_PLANT, LIVE_ANIMAL = "live_plant", "live_animal"
KEEP_DRY = "keep_dry"


@dataclass(frozen=True, slots=True)
class CareMark:
    """One mark and the words below it; `low` and `high` are the limits of a temperature mark.

    A limit in two scales has a line for each.
    """

    kind: str
    words: str
    low: str = ""
    high: str = ""


def draw(pen: Pen, mark: CareMark, corner: tuple[float, float], *, side: float) -> None:
    """Draw a mark in a square with its lower left corner here; its words stand below the square."""
    canvas = pen.canvas
    canvas.saveState()
    canvas.translate(*corner)
    canvas.scale(side / 100, side / 100)
    canvas.setStrokeColor(BLACK)
    canvas.setFillColor(BLACK)
    canvas.setLineWidth(4)
    canvas.setLineJoin(1)
    canvas.setLineCap(1)
    canvas.roundRect(2, 2, 96, 96, 6, stroke=1, fill=0)
    _DRAWN[mark.kind](canvas)
    canvas.restoreState()
    if mark.kind == TEMPERATURE:
        _limits(pen, mark, corner, side)
    pen.text(
        corner[0] + side / 2, corner[1] - 7, mark.words, Style(5.6, bold=True, ink=BLACK, align="centre")
    )


def _limits(pen: Pen, mark: CareMark, corner: tuple[float, float], side: float) -> None:
    for text, x, y, up in ((mark.high, 0.775, 0.755, 0.105), (mark.low, 0.20, 0.235, -0.105)):
        lines = text.split("\n")
        style = Style(side * (0.11 if len(lines) == 1 else 0.092), bold=True, ink=BLACK, align="centre")
        for n, line in enumerate(reversed(lines) if up > 0 else lines):
            pen.text(corner[0] + side * x, corner[1] + side * (y + n * up), line, style)


def _this_way_up(canvas: Canvas) -> None:
    for x in (32.0, 68.0):
        _polygon(
            canvas, [(x, 84), (x - 14, 60), (x - 5, 60), (x - 5, 26), (x + 5, 26), (x + 5, 60), (x + 14, 60)]
        )
    canvas.rect(14, 14, 72, 7, stroke=0, fill=1)


def _fragile(canvas: Canvas) -> None:
    bowl = [(28, 86), (72, 86), (70, 60), (64, 50), (54, 44)]
    foot = [(54, 24), (70, 18), (70, 13), (30, 13), (30, 18), (46, 24)]
    _polygon(canvas, [*bowl, *foot, (46, 44), (36, 50), (30, 60)])
    canvas.setFillColor(WHITE)
    _polygon(canvas, [(47, 88), (55, 74), (48, 68), (54, 56), (44, 68), (50, 74), (43, 88)])
    canvas.setFillColor(BLACK)


def _temperature(canvas: Canvas) -> None:
    canvas.setLineWidth(4)
    canvas.roundRect(44, 26, 12, 60, 6, stroke=1, fill=0)
    canvas.circle(50, 22, 11, stroke=1, fill=1)
    canvas.rect(47.5, 24, 5, 42, stroke=0, fill=1)
    canvas.line(60, 70, 93, 70)
    canvas.line(7, 36, 40, 36)


def _keep_dry(canvas: Canvas) -> None:
    path = canvas.beginPath()
    path.moveTo(16, 46)
    path.curveTo(18, 84, 82, 84, 84, 46)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)
    canvas.setLineWidth(5)
    canvas.line(50, 46, 50, 20)
    canvas.arc(50, 13, 64, 27, 180, 180)
    for x, y in ((22, 90), (40, 94), (60, 94), (78, 90)):
        canvas.line(x, y, x - 3, y - 9)


def _live_plant(canvas: Canvas) -> None:
    canvas.setLineWidth(5)
    canvas.line(50, 16, 50, 56)
    for sign in (-1, 1):
        path = canvas.beginPath()
        path.moveTo(50, 40)
        path.curveTo(50 + sign * 8, 72, 50 + sign * 26, 80, 50 + sign * 36, 80)
        path.curveTo(50 + sign * 38, 56, 50 + sign * 22, 42, 50, 40)
        canvas.drawPath(path, stroke=0, fill=1)
    canvas.rect(22, 12, 56, 6, stroke=0, fill=1)


def _live_animal(canvas: Canvas) -> None:
    """A woodlouse from above."""
    canvas.setLineWidth(4)
    for step in range(6):
        y = 30 + step * 8.0
        reach = 30 + 5 * (1 - abs(step - 2.5) / 2.5)
        for sign in (-1, 1):
            canvas.line(50, y, 50 + sign * reach, y - 5)
    canvas.ellipse(32, 16, 68, 80, stroke=0, fill=1)
    canvas.setStrokeColor(WHITE)
    canvas.setLineWidth(2.5)
    for step in range(6):
        y = 28 + step * 8.0
        canvas.bezier(34, y, 42, y - 4, 58, y - 4, 66, y)
    canvas.setStrokeColor(BLACK)
    for sign in (-1, 1):
        canvas.bezier(50 + sign * 6, 78, 50 + sign * 10, 88, 50 + sign * 18, 88, 50 + sign * 20, 82)


def _polygon(canvas: Canvas, points: list[tuple[float, float]]) -> None:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)


_DRAWN: dict[str, Callable[[Canvas], None]] = {
    THIS_WAY_UP: _this_way_up,
    FRAGILE: _fragile,
    TEMPERATURE: _temperature,
    KEEP_DRY: _keep_dry,
    LIVE_PLANT: _live_plant,
    LIVE_ANIMAL: _live_animal,
}
