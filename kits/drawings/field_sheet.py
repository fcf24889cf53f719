"""How a field map is laid out: key above, the box to scale, marked points with their words at the right."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import inf

from kits.drawings import notes
from kits.drawings.axes import figure
from kits.drawings.fields import Field, key
from kits.drawings.frame import Frame
from kits.drawings.isolines import Box
from kits.drawings.layout import FOOT, HEIGHT_LINE, LEAST_HEIGHT, LEAST_WALL, LEAST_WIDTH, MARGIN
from kits.drawings.legend import Entry, height_of
from kits.drawings.measures import POINTS_PER_MM, length_text, scale_for
from kits.drawings.notes import CALLOUT_RADIUS, LEAST_RUN, PITCH, Column, Note, Placed
from kits.drawings.pen import width_of
from kits.drawings.scene import Scene
from kits.drawings.section_roof import roof_mm
from kits.drawings.stage import OPEN_TOPS, carriers, on_top

HEADING_ROOM = 18.0
ABOVE = 5.0  # between the key and the lamps
ROUNDS = 4  # key and leaders depend on the scale, and the scale on their room
LEAST_KEY = 220.0
LAMP_MM = 80.0  # each way, of the one lamp of a field: a sign, not a size


@dataclass(frozen=True, slots=True)
class MapSheet:
    """A field map ready to be drawn."""

    frame: Frame
    wall: float
    width: float
    height: float
    hanging: float  # points below the rim that lamps take below a closed top
    lamp: Box | None  # the one lamp that the field is of
    key: tuple[Entry, ...]
    notes: tuple[Note, ...]
    column: Column

    def placed(self) -> list[Placed]:
        """The marked points with the places of their words."""
        return notes.place(self.notes, self.column)


@dataclass(frozen=True, slots=True)
class _Room:
    """Room that the last round needed: for heading and key, and for leaders."""

    head: float
    run: float


def lay_out(scene: Scene, field: Field, size: tuple[float, float], scale: float | None) -> MapSheet:
    """The largest scale at which box, key and words fit; the sheet grows where that is not enough."""
    entries = tuple(key(field, *_extremes(scene, field)))
    room = _Room(HEADING_ROOM + height_of(entries, size[0] - 2 * MARGIN), LEAST_RUN)
    for _ in range(ROUNDS):
        sheet = _try(scene, field, entries, size, scale, room)
        needed = _needed(sheet)
        if needed == room:
            break
        room = _Room(needed.head, max(room.run, needed.run))
    return _try(scene, field, entries, size, scale, room)


def _try(
    scene: Scene, field: Field, entries: tuple[Entry, ...], size: tuple[float, float],
    scale: float | None, room: _Room,
) -> MapSheet:  # fmt: skip
    inside, above = scene.inside, scene.inside.height_mm + _roof_mm(scene, field)
    words = max((width_of(_words(field, mark)) for mark in field.marks), default=0.0)
    beside = 2 * MARGIN + HEIGHT_LINE + room.run + words + CALLOUT_RADIUS
    n = scale or scale_for(
        inside.depth_mm, above, width=size[0] - beside, height=size[1] - FOOT - ABOVE - room.head
    )
    wall = max(LEAST_WALL, inside.wall_mm * POINTS_PER_MM / n)
    over_front, over_back = _overhangs(scene, n) if field.lamp is None else (0.0, 0.0)
    left = max(HEIGHT_LINE, over_front)
    frame = Frame(n, MARGIN + left + wall, FOOT + wall, inside.depth_mm, inside.height_mm)
    many = FOOT + PITCH * len(field.marks) + CALLOUT_RADIUS
    measure = frame.bottom + width_of(length_text(inside.height_mm, scene.units)) + ABOVE
    tall = max(frame.y(above) + wall + ABOVE, LEAST_HEIGHT - room.head, many, measure) + room.head
    edge = frame.right + wall + max(room.run, over_back + 2.0)
    column = Column(edge, FOOT + CALLOUT_RADIUS, tall - room.head - CALLOUT_RADIUS)
    found = tuple(_note(field, mark, frame, above) for mark in field.marks)
    wide = max(
        edge + words + (CALLOUT_RADIUS if words else 0.0) + MARGIN, LEAST_WIDTH, _key_width(field, entries)
    )
    return MapSheet(
        frame,
        wall,
        wide,
        tall,
        _hanging(scene, field, frame),
        _lamp_box(field, frame, wall),
        entries,
        found,
        column,
    )


def _needed(sheet: MapSheet) -> _Room:
    head = HEADING_ROOM + height_of(sheet.key, sheet.width - 2 * MARGIN)
    return _Room(head, notes.run_needed(sheet.placed(), sheet.frame.right + sheet.wall))


def _key_width(field: Field, entries: Sequence[Entry]) -> float:
    """What the heading and the longest words of the key take at least."""
    longest = max((entry.width for entry in entries), default=0.0)
    return 2 * MARGIN + max(longest, width_of(field.heading, 8.4, bold=True), LEAST_KEY)


def _extremes(scene: Scene, field: Field) -> tuple[float, float]:
    """Least and largest value from the ground to the lamp; of all values where nothing lies between."""
    top_mm = field.lamp[2] if field.lamp else inf
    ground_mm = [scene.ground_mm(x) for x in field.along_mm]
    every = [
        (value, ground <= y <= top_mm)
        for y, row in zip(field.up_mm, field.values, strict=True)
        for value, ground in zip(row, ground_mm, strict=True)
    ]
    found = [value for value, in_air in every if in_air] or [value for value, _ in every]
    return min(found), max(found)


def _words(field: Field, mark: tuple[float, float, str]) -> str:
    """Words of a mark with the value there; words alone where the field does not reach."""
    x, y, words = mark
    return f"{words} {figure(field.at((x, y)))}{field.sign}" if field.covers((x, y)) else words


def _note(field: Field, mark: tuple[float, float, str], frame: Frame, above_mm: float) -> Note:
    x, y, _ = mark
    at = frame.at(min(max(x, 0.0), frame.across_mm), min(max(y, 0.0), above_mm))
    return Note((), _words(field, mark), at)


def _overhangs(scene: Scene, n: float) -> tuple[float, float]:
    """How far lamps reach over the front and over the back, in points."""
    ends = [
        (s.y_mm - row.part.width_mm / 2, s.y_mm + row.part.width_mm / 2)
        for row in on_top(scene)
        for s in row.spots
    ]
    front = max((-low for low, _ in ends), default=0.0)
    back = max((high - scene.inside.depth_mm for _, high in ends), default=0.0)
    return max(0.0, front * POINTS_PER_MM / n), max(0.0, back * POINTS_PER_MM / n)


def _lamp_box(field: Field, frame: Frame, wall: float) -> Box | None:
    """Where the one lamp of a field is drawn: on the rim where it stands above it."""
    if field.lamp is None:
        return None
    _, back_mm, low_mm = field.lamp
    wide, tall = min(max(10.0, frame.pt(LAMP_MM)), frame.right - frame.left), max(8.0, frame.pt(LAMP_MM))
    low = frame.top + 1.2 if low_mm >= frame.up_mm else frame.y(max(low_mm, 0.0))
    left = min(max(frame.x(back_mm) - wide / 2, frame.left - wall), frame.right + wall - wide)
    return Box(left, low, left + wide, low + tall)


def _roof_mm(scene: Scene, field: Field) -> float:
    """How far lamps stand above the rim."""
    if field.lamp is None:
        return roof_mm(scene)
    return LAMP_MM if field.lamp[2] + LAMP_MM > scene.inside.height_mm else 0.0


def _hanging(scene: Scene, field: Field, frame: Frame) -> float:
    """What lamps below the top take of the air."""
    if field.lamp is not None or scene.inside.top_kind in OPEN_TOPS:
        return 0.0
    return max((max(4.0, frame.pt(part.height_mm or 40.0)) + 2.0 for part in carriers(scene)), default=0.0)
