"""Safety signs: our own drawings after the shapes and colours of ISO 3864 and the meanings of ISO 7010.

A yellow triangle warns, a blue disc says what must be done, a red ring with a bar forbids. The three differ
in shape and in tone, so a photocopy says the same. A sign is drawn in a square of 100 units and scaled.
"""

from collections.abc import Callable

from reportlab.lib.colors import HexColor
from reportlab.pdfgen.canvas import Canvas

from inventory.documents.pen import BLACK, WHITE

YELLOW, BLUE, RED = HexColor("#f9c413"), HexColor("#005387"), HexColor("#b5261e")
Points = list[tuple[float, float]]

# The sign for a caution about a role; what is not listed gets the general warning.
SIGN_FOR = {
    "uvb_lamp": "radiation",
    "basking_lamp": "hot",
    "night_heat": "hot",
    "lamp_holder": "hot",
    "residual_current_device": "electricity",
    "animals": "wash",
    "mesh_cover": "cover",
    "enclosure": "general",
    "power_w": "electricity",
    "mister": "general",
}
WORDS = {
    "radiation": "Ultraviolet",
    "hot": "Hot surface",
    "electricity": "Electricity",
    "general": "",
    "wash": "Wash hands",
    "read": "Read the manual",
    "unplug": "Unplug first",
    "cover": "Do not cover",
    "stop": "",
}


def sign_for(level: str, about: str) -> str:
    """The name of the sign beside a caution; notes have none."""
    if level == "note":
        return ""
    return "stop" if level == "stop" else SIGN_FOR.get(about, "general")


def draw(canvas: Canvas, sign: str, corner: tuple[float, float], *, side: float) -> None:
    """Draw a sign in a square with its lower left corner here."""
    canvas.saveState()
    canvas.translate(*corner)
    canvas.scale(side / 100, side / 100)
    canvas.setLineJoin(1)
    canvas.setLineCap(1)
    frame, symbol = _SIGNS[sign]
    frame(canvas)
    symbol(canvas)
    if frame is _forbids:
        _bar(canvas)
    canvas.restoreState()


def _warns(canvas: Canvas) -> None:
    canvas.setFillColor(YELLOW)
    canvas.setStrokeColor(BLACK)
    canvas.setLineWidth(7)
    _shape(canvas, [(50, 92), (5, 12), (95, 12)], stroke=1)
    canvas.setFillColor(BLACK)
    canvas.setLineWidth(4.5)


def _demands(canvas: Canvas) -> None:
    canvas.setFillColor(BLUE)
    canvas.circle(50, 50, 47, stroke=0, fill=1)
    canvas.setFillColor(WHITE)
    canvas.setStrokeColor(WHITE)
    canvas.setLineWidth(5)


def _forbids(canvas: Canvas) -> None:
    canvas.setFillColor(WHITE)
    canvas.setStrokeColor(RED)
    canvas.setLineWidth(10)
    canvas.circle(50, 50, 42, stroke=1, fill=1)
    canvas.setFillColor(BLACK)
    canvas.setStrokeColor(BLACK)
    canvas.setLineWidth(5)


def _bar(canvas: Canvas) -> None:
    canvas.setStrokeColor(RED)
    canvas.setLineWidth(9)
    canvas.setLineCap(0)
    canvas.line(21, 79, 79, 21)


def _bolt(canvas: Canvas) -> None:
    _shape(canvas, [(55, 70), (36, 42), (48, 42), (44, 18), (66, 48), (53, 48), (61, 70)])


def _exclamation(canvas: Canvas) -> None:
    _shape(canvas, [(44, 68), (56, 68), (53, 36), (47, 36)])
    canvas.circle(50, 26, 5.5, stroke=0, fill=1)


def _heat(canvas: Canvas) -> None:
    canvas.rect(28, 20, 44, 6, stroke=0, fill=1)
    for x in (37.0, 50.0, 63.0):
        canvas.bezier(x, 31, x - 9, 40, x + 9, 46, x, 56)


def _rays(canvas: Canvas) -> None:
    canvas.circle(50, 36, 8, stroke=0, fill=1)
    canvas.setLineWidth(3.6)
    for dx, dy in ((0, 1), (1, 0), (-1, 0), (0, -1), (0.7, 0.7), (-0.7, 0.7), (0.7, -0.7), (-0.7, -0.7)):
        canvas.line(50 + dx * 12, 36 + dy * 12, 50 + dx * 18, 36 + dy * 18)


def _hands(canvas: Canvas) -> None:
    """Two hands below a tap."""
    canvas.setLineWidth(6)
    canvas.line(30, 76, 58, 76)
    canvas.bezier(58, 76, 68, 76, 68, 70, 68, 66)
    canvas.setLineWidth(4)
    for x in (63.0, 68.0, 73.0):
        canvas.line(x, 60, x, 50)
    canvas.setLineWidth(7)
    canvas.bezier(22, 42, 40, 50, 52, 46, 70, 40)
    canvas.bezier(26, 28, 44, 34, 58, 32, 76, 28)


def _book(canvas: Canvas) -> None:
    _shape(canvas, [(20, 68), (47, 62), (47, 28), (20, 34)])
    _shape(canvas, [(80, 68), (53, 62), (53, 28), (80, 34)])


def _plug(canvas: Canvas) -> None:
    canvas.roundRect(22, 38, 26, 24, 4, stroke=0, fill=1)
    canvas.line(12, 50, 22, 50)
    canvas.line(48, 56, 58, 56)
    canvas.line(48, 44, 58, 44)
    canvas.roundRect(66, 36, 20, 28, 4, stroke=1, fill=0)


def _covered_lamp(canvas: Canvas) -> None:
    _shape(canvas, [(40, 60), (60, 60), (70, 40), (30, 40)])
    canvas.circle(50, 38, 7, stroke=0, fill=1)
    canvas.rect(24, 63, 52, 7, stroke=0, fill=1)


def _hand(canvas: Canvas) -> None:
    canvas.setLineWidth(8)
    for x, top in ((38.0, 66.0), (47.0, 72.0), (56.0, 70.0), (65.0, 62.0)):
        canvas.line(x, 44, x, top)
    canvas.roundRect(34, 26, 35, 26, 9, stroke=0, fill=1)
    canvas.line(34, 42, 26, 52)


def _sprout(canvas: Canvas) -> None:
    """A plant set out on open ground."""
    canvas.setLineWidth(5)
    canvas.line(50, 32, 50, 58)
    canvas.line(28, 32, 72, 32)
    for sign in (-1, 1):
        path = canvas.beginPath()
        path.moveTo(50, 48)
        path.curveTo(50 + sign * 6, 66, 50 + sign * 16, 70, 50 + sign * 22, 70)
        path.curveTo(50 + sign * 22, 56, 50 + sign * 14, 48, 50, 48)
        canvas.drawPath(path, stroke=0, fill=1)


def _shape(canvas: Canvas, points: Points, *, stroke: int = 0) -> None:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    path.close()
    canvas.drawPath(path, stroke=stroke, fill=1)


_SIGNS: dict[str, tuple[Callable[[Canvas], None], Callable[[Canvas], None]]] = {
    "general": (_warns, _exclamation),
    "electricity": (_warns, _bolt),
    "hot": (_warns, _heat),
    "radiation": (_warns, _rays),
    "wash": (_demands, _hands),
    "read": (_demands, _book),
    "unplug": (_demands, _plug),
    "cover": (_forbids, _covered_lamp),
    "stop": (_forbids, _hand),
    "release": (_forbids, _sprout),
}
