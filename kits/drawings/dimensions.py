"""Overall dimensions, the words front and back, and the scale bar."""

from reportlab.graphics.shapes import Shape

from kits.drawings.frame import Frame
from kits.drawings.labels import Point
from kits.drawings.measures import POINTS_PER_MM, bar_mm, length_text, scale_text
from kits.drawings.pen import FINE, HAIR, SMALL_SIZE, Marked, Pen, width_of
from kits.drawings.scene import Scene

TICK = 2.4
WORDS = 8.5  # from the floor down to the words front and back
LINE = 13.5  # from the floor down to the dimension line
UNDER = 8.0  # from a dimension line down to its words
BAR_ROW = 8.0  # scale bar above the lower edge
BAR_HEIGHT = 2.2


def height_line(pen: Pen, scene: Scene, frame: Frame, x: float) -> list[Shape]:
    """The inside height, read upwards."""
    text = length_text(scene.inside.height_mm, scene.units)
    middle = max((frame.bottom + frame.top) / 2, frame.bottom + width_of(text) / 2)
    return [
        *_line(pen, (x, frame.bottom), (x, frame.top)),
        Marked(pen.upright((x - 2.5, middle), text), marks={"class": "size"}),
    ]


def depth_line(pen: Pen, frame: Frame, x: float, text: str) -> list[Shape]:
    """The inside depth beside a view from above, read upwards."""
    middle = max((frame.bottom + frame.top) / 2, width_of(text) / 2 + 14.0)
    words = Marked(pen.upright((x - 2.5, middle), text), marks={"class": "size"})
    return [*_line(pen, (x, frame.bottom), (x, frame.top)), words]


def foot(pen: Pen, scene: Scene, frame: Frame, wall: float, right: float) -> list[Shape]:
    """Below the floor: front and back, the inside depth and the scale."""
    floor = frame.bottom - wall
    return [
        *_ends(pen, frame, floor - WORDS),
        *width_line(pen, frame, floor - LINE, length_text(scene.inside.depth_mm, scene.units)),
        *scale_row(pen, scene.units, frame.scale, right),
    ]


def width_line(pen: Pen, frame: Frame, y: float, text: str) -> list[Shape]:
    """A dimension across the whole frame with its words below."""
    middle = max((frame.left + frame.right) / 2, width_of(text) / 2 + 4)
    words = Marked(pen.text((middle, y - UNDER), text, anchor="middle"), marks={"class": "size"})
    return [*_line(pen, (frame.left, y), (frame.right, y)), words]


def _ends(pen: Pen, frame: Frame, y: float) -> list[Shape]:
    """Front and back, within the walls where there is room and else to both sides of the middle."""
    middle = (frame.left + frame.right) / 2
    half = max((frame.right - frame.left) / 2, width_of("front", SMALL_SIZE) + 3)
    return [
        pen.text((middle - half, y), "front", size=SMALL_SIZE, ink="quiet"),
        pen.text((middle + half, y), "back", anchor="end", size=SMALL_SIZE, ink="quiet"),
    ]


def _line(pen: Pen, start: Point, end: Point) -> list[Shape]:
    ticks = [[(x - TICK, y - TICK), (x + TICK, y + TICK)] for x, y in (start, end)]
    return [pen.line(start, end, ink="hair", width=FINE), pen.strokes(ticks, ink="ink", width=FINE)]


def scale_row(pen: Pen, units: str, scale: float, right: float) -> list[Shape]:
    """The scale in words at the right, its bar at the left; for US units a second bar in inches below."""
    mm, inches = bar_mm(scale)
    bars = [(mm * POINTS_PER_MM / scale, f"{mm:.0f} mm", BAR_ROW)]
    if units == "us":
        bars.append((inches * 72 / scale, f"{inches} in", BAR_ROW - 3.6))
    words_at = 8.0 + max(length for length, _, _ in bars) + 4.0
    shapes = [
        shape for number, (length, _, y) in enumerate(bars) for shape in _bar(pen, (8.0, y), length, number)
    ]
    both = " · ".join(words for _, words, _ in bars)
    return [
        *shapes,
        pen.text((words_at, BAR_ROW - 2.5), both, size=SMALL_SIZE, ink="quiet"),
        pen.text((right, BAR_ROW - 2.5), scale_text(scale), anchor="end", size=SMALL_SIZE, ink="quiet"),
    ]


def _bar(pen: Pen, left: Point, length: float, start: int) -> list[Shape]:
    """Four fields, every other one filled."""
    quarter = length / 4
    return [
        pen.rect(
            (left[0] + quarter * n, left[1]),
            (quarter, BAR_HEIGHT),
            fill="paper" if (n + start) % 2 else "ink",
            width=HAIR,
        )
        for n in range(4)
    ]
