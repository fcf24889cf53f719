"""A field over the side section: lines of equal value, the wanted band hatched, points with their values.

Used for the UV index and for the warmth below a basking lamp. Lines and patterns end at the ground and at
the height of the lamp.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from reportlab.graphics.shapes import Drawing, Shape

from kits.drawings import notes, things
from kits.drawings.axes import plain
from kits.drawings.dimensions import foot, height_line
from kits.drawings.field_sheet import MapSheet, lay_out
from kits.drawings.fields import Band, Field, bands
from kits.drawings.grounds import ground
from kits.drawings.isolines import Box, Figured, Isoline, figures_on, isolines
from kits.drawings.labels import Point
from kits.drawings.layout import MARGIN
from kits.drawings.legend import draw_legend
from kits.drawings.patterns import Area, filled, pieces, thinned
from kits.drawings.pen import CAP_SHARE, FINE, PLAIN, TEXT_SIZE, Marked, Pen
from kits.drawings.scene import Scene
from kits.drawings.section import shell
from kits.drawings.section_parts import drawn
from kits.drawings.section_roof import roof_figures
from kits.drawings.section_soil import strips
from kits.drawings.theme import PAPER, Theme

__all__ = ["Field", "field_map"]

STRONG = 1.5
HEADING = 8.4
TARGET = 2.8  # radius of the ring around a marked point
LEADER_ROOM = 2.0  # kept free of figures beside a leader
CLEAR = 1.5  # between a figure and wall or ground


def field_map(
    scene: Scene,
    field: Field,
    *,
    width: float = 480.0,
    height: float = 330.0,
    scale: float | None = None,
    theme: Theme = PAPER,
) -> Drawing:
    """The section in about so many points with the lines of a field, its bands and its marked points.

    `scale` fixes n of 1 : n. A level that the field does not cross has no line; where none is crossed, the
    key says what the field is everywhere. The drawing is narrower than `width` for a tall box, and taller
    than `height` where key and marks need it.
    """
    pen, sheet = Pen(theme), lay_out(scene, field, (width, height), scale)
    drawing = Drawing(sheet.width, sheet.height)
    for shape in _contents(pen, scene, field, sheet):
        drawing.add(shape)
    return drawing


def _contents(pen: Pen, scene: Scene, field: Field, sheet: MapSheet) -> list[Shape]:
    air = _air(scene, field, sheet)
    lined = [line for level, strong in field.lines() for line in air.lines(level, strong=strong)]
    figured = figures_on([line for _, line in lined], air.has_room, air.taken())
    return [
        *_ground(pen, scene, sheet),
        *_bands(pen, field, air, figured),
        *_lines(pen, air, lined, figured),
        *(_figure(pen, one) for one in figured),
        *shell(pen, scene, sheet.frame, sheet.wall),
        *_lamps(pen, scene, field, sheet),
        *height_line(pen, scene, sheet.frame, MARGIN + 8.0),
        *foot(pen, scene, sheet.frame, sheet.wall, sheet.width - MARGIN),
        *_marks(pen, sheet),
        *_head(pen, field, sheet),
    ]


@dataclass(frozen=True, slots=True)
class _Air:
    """Where lines, patterns and figures may lie: inside the box and above the ground.

    Thousands of points are asked about, so what is the same for all of them is worked out once.
    """

    field: Field
    sheet: MapSheet
    left: float
    right: float
    front: float  # height of the ground at the front
    slope: float  # of the ground, to the back
    top: float  # the rim, or the lamp below it: above a lamp its field says nothing

    def values(self) -> Callable[[Point], float | None]:
        """The value of the field at a point of the sheet, None in the ground."""
        frame, at, left, front, slope = self.sheet.frame, self.field.at, self.left, self.front, self.slope
        bottom, per_mm = frame.bottom, frame.pt(1.0)

        def value(point: Point) -> float | None:
            x, y = point
            if y < front + slope * (x - left):
                return None
            return at(((x - left) / per_mm, (y - bottom) / per_mm))

        return value

    def ground(self, x: float) -> float:
        """Height of the ground on the sheet."""
        return self.front + self.slope * (x - self.left)

    def has(self, point: Point) -> bool:
        """Whether a point lies in the air."""
        (x, y), slack = point, 1e-6
        return self.left - slack <= x <= self.right + slack and self.ground(x) <= y <= self.top + slack

    def has_room(self, point: Point) -> bool:
        """Whether a corner of a figure may stand at a point."""
        x, y = point
        if not self.left + CLEAR <= x <= self.right - CLEAR:
            return False
        return self.ground(x) + CLEAR <= y <= self.top - CLEAR - self.sheet.hanging

    def taken(self) -> list[Box]:
        """The lamp, marked points and the leaders to their words."""
        found = [self.sheet.lamp] if self.sheet.lamp else []
        for placed in self.sheet.placed():
            (x, y), (x2, y2) = placed.note.anchor, placed.slot
            found.append(Box(x, y, x, y).grown(TARGET + 1.0))
            steps = max(1, int((x2 - x) / LEADER_ROOM))
            found += [
                Box(x + (x2 - x) * n / steps, y + (y2 - y) * n / steps, x + (x2 - x) * n / steps,
                    y + (y2 - y) * n / steps).grown(LEADER_ROOM)
                for n in range(steps + 1)
            ]  # fmt: skip
        return found

    def lines(self, level: float, *, strong: bool) -> Iterator[tuple[float, Isoline]]:
        """The lines of one level on the sheet, cut at the ground."""
        field, frame = self.field, self.sheet.frame
        for line in isolines(field.along_mm, field.up_mm, field.values, level):
            for piece in pieces([frame.at(*place) for place in line], self.has):
                yield level, Isoline(tuple(thinned(piece)), plain(level), strong)


def _air(scene: Scene, field: Field, sheet: MapSheet) -> _Air:
    frame = sheet.frame
    front, back = (frame.y(scene.ground_mm(mm)) for mm in (0.0, scene.inside.depth_mm))
    top = min(frame.top, sheet.lamp.low) if sheet.lamp else frame.top
    slope = (back - front) / (frame.right - frame.left)
    return _Air(field, sheet, frame.left, frame.right, front, slope, top)


def _lamps(pen: Pen, scene: Scene, field: Field, sheet: MapSheet) -> list[Shape]:
    """The lamp that the field is of, or all lamps as the section has them."""
    if field.lamp is None or sheet.lamp is None:
        return drawn(roof_figures(pen, scene, sheet.frame))
    box = sheet.lamp
    corner, wide, tall = (box.left, box.low), box.right - box.left, box.high - box.low
    if field.lamp[0] == "tube":
        shapes = things.reflector(pen, corner, wide, tall)
    else:
        shapes = things.dome(pen, corner, wide, tall, lamp=True)
    return [Marked(*shapes, marks={"class": "lamp"})]


def _ground(pen: Pen, scene: Scene, sheet: MapSheet) -> Iterator[Shape]:
    """Tone and upper edge of each layer, without the pattern that the section has."""
    for bed, strip in strips(scene, sheet.frame):
        tone, _, edge = ground(pen, bed.name, strip)
        yield from (tone, edge)


def _bands(pen: Pen, field: Field, air: _Air, figured: Sequence[Figured]) -> Iterator[Shape]:
    low = min(air.front, air.ground(air.right))
    free, value_at = [one.box for one in figured], air.values()

    def holds(band: Band, point: Point) -> bool:
        value = value_at(point)
        if value is None or not band.low <= value < band.high:
            return False
        return not any(box.has(point) for box in free)

    for band in bands(field):
        if band.pattern:
            area = Area(air.left, low, air.right, max(low, air.top), partial(holds, band))
            shapes = filled(pen, band.pattern, area)
            yield from (Marked(shape, marks={"class": f"band {band.pattern}"}) for shape in shapes)


def _lines(
    pen: Pen, air: _Air, lined: Sequence[tuple[float, Isoline]], figured: Sequence[Figured]
) -> Iterator[Shape]:
    free = [one.box for one in figured]
    for level, line in lined:
        runs = pieces(line.points, lambda point: not any(box.has(point) for box in free))
        if runs:
            path = pen.strokes(runs, ink="ink", width=STRONG if line.strong else PLAIN)
            yield Marked(path, marks={"class": "isoline", "data-level": plain(level)})


def _figure(pen: Pen, one: Figured) -> Shape:
    y = (one.box.low + one.box.high) / 2 - TEXT_SIZE * CAP_SHARE / 2
    text = pen.text((one.middle, y), one.words, anchor="middle", bold=one.strong)
    return Marked(text, marks={"class": "level"})


def _marks(pen: Pen, sheet: MapSheet) -> Iterator[Shape]:
    """Rings at the marked points, and leaders with a halo to their words."""
    for placed in sheet.placed():
        (x, y), (x2, y2) = placed.note.anchor, placed.slot
        share = (sheet.frame.right - x) / (x2 - x)
        yield pen.line((x, y), (sheet.frame.right, y + (y2 - y) * share), ink="paper", width=2.4)
    for placed in sheet.placed():
        yield pen.circle(placed.note.anchor, TARGET, fill="paper", ink="ink", width=PLAIN)
    yield from notes.draw_notes(pen, sheet.notes, sheet.column)


def _head(pen: Pen, field: Field, sheet: MapSheet) -> list[Shape]:
    """Name and unit, and below them what the patterns mean."""
    top = sheet.height - MARGIN
    heading = pen.text((MARGIN, top - HEADING * CAP_SHARE), field.heading, size=HEADING, bold=True)
    rule = pen.line((MARGIN, top - HEADING - 2.4), (sheet.width - MARGIN, top - HEADING - 2.4), width=FINE)
    legend = draw_legend(pen, sheet.key, (MARGIN, top - HEADING - 4.4), sheet.width - 2 * MARGIN)
    return [heading, rule, *legend]
