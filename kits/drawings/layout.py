"""How a section is laid out: its scale, its frame, and which callouts stand on which side."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import floor

from kits.drawings import levels
from kits.drawings.callouts import together
from kits.drawings.frame import Frame
from kits.drawings.labels import cross
from kits.drawings.measures import POINTS_PER_MM, scale_for
from kits.drawings.notes import CALLOUT_RADIUS, LEAST_RUN, PITCH, Column, Note, Placed, place, run_needed
from kits.drawings.pen import Pen
from kits.drawings.scene import Scene
from kits.drawings.section_parts import Figure, figures
from kits.drawings.section_roof import roof_figures, roof_mm
from kits.drawings.section_soil import soil_figures

MARGIN = 6.0
HEIGHT_LINE = 20.0  # room for the overall height, left of everything
FOOT = 46.0  # room below the floor: front and back, depth, scale bar
HEAD = 12.0
LEAST_WALL = 1.6
CLEAR = 5.0  # from the middle of words to a leader that passes above them
LEAST_HEIGHT, LEAST_WIDTH = 120.0, 190.0
# So much of the wished width is the box's, however much its callouts want: with their words, or without.
LEAST_SHARE = {True: 0.3, False: 0.5}
ROUNDS = 6  # the room beside the box depends on the scale, and the scale on the room


@dataclass(frozen=True, slots=True)
class Wish:
    """What a caller asks of a section."""

    width: float
    height: float
    scale: float | None
    words: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """A section ready to be drawn."""

    frame: Frame
    wall: float
    width: float
    height: float
    left: tuple[Note, ...]
    right: tuple[Note, ...]
    left_column: Column
    right_column: Column


@dataclass(frozen=True, slots=True)
class _Room:
    """Room that the last round needed beside the box: left of the front wall and right of the back wall."""

    left: float
    right: float
    left_run: float = LEAST_RUN
    right_run: float = LEAST_RUN
    tall: float = LEAST_HEIGHT


def lay_out(scene: Scene, pen: Pen, wish: Wish) -> Sheet:
    """The largest scale at which box, lamps and callouts fit; the sheet grows where that is not enough."""
    room = _Room(HEIGHT_LINE + levels.width_needed(scene), 100.0)
    for number in range(ROUNDS):
        sheet, needed = _try(scene, pen, wish, room)
        grown = _Room(
            left=max(room.left, needed.left),
            right=max(room.right, needed.right),
            left_run=max(room.left_run, needed.left_run),
            right_run=max(room.right_run, needed.right_run),
            tall=needed.tall if number < ROUNDS / 2 else max(room.tall, needed.tall),
        )
        if grown == room:
            return sheet
        room = grown
    return _try(scene, pen, wish, room)[0]


def _try(scene: Scene, pen: Pen, wish: Wish, room: _Room) -> tuple[Sheet, _Room]:
    inside = scene.inside
    above = inside.height_mm + roof_mm(scene)
    beside = 2 * MARGIN + room.left + room.right
    free = max(wish.width - beside, LEAST_SHARE[wish.words] * wish.width), wish.height - FOOT - HEAD
    n = wish.scale or scale_for(inside.depth_mm, above, width=free[0], height=free[1])
    wall = max(LEAST_WALL, inside.wall_mm * POINTS_PER_MM / n)
    frame = Frame(n, MARGIN + room.left + wall, FOOT + wall, inside.depth_mm, inside.height_mm)
    tall = max(frame.y(above) + HEAD, room.tall)
    columns = _columns(scene, frame, wall, room, tall)
    left, right = sides(every_note(pen, scene, frame, words=wish.words), columns, frame)
    needed = _needed(scene, frame, wall, (left, right), columns)
    words = max((note.width for note in right), default=0.0)
    width = max(columns[1].edge + words + MARGIN, LEAST_WIDTH)
    return Sheet(frame, wall, width, tall, left, right, *columns), needed


def _columns(scene: Scene, frame: Frame, wall: float, room: _Room, tall: float) -> tuple[Column, Column]:
    high = tall - CALLOUT_RADIUS - 1.5
    low = levels.highest_words(scene, frame, level_limits(frame, tall)) + PITCH
    return (
        Column(frame.left - wall - room.left_run, low, high, -1, levels.words_end(frame, wall)),
        Column(frame.right + wall + room.right_run, FOOT + CALLOUT_RADIUS, high),
    )


def level_limits(frame: Frame, tall: float) -> tuple[float, float]:
    """Lowest and highest middle of the words beside the front wall."""
    return frame.bottom + 3.5, tall - 8.0


def _needed(
    scene: Scene,
    frame: Frame,
    wall: float,
    sides_: tuple[Sequence[Note], Sequence[Note]],
    columns: tuple[Column, Column],
) -> _Room:
    left, right = sides_
    left_run = run_needed(place(left, columns[0]), frame.left - wall)
    right_run = run_needed(place(right, columns[1]), frame.right + wall)
    words_left = max((note.width for note in left), default=-left_run)
    words_right = max((note.width for note in right), default=0.0)
    column = FOOT + 2 * CALLOUT_RADIUS + 2 + PITCH * max(0, len(right) - 1)
    return _Room(
        HEIGHT_LINE + max(levels.width_needed(scene), left_run + words_left),
        right_run + words_right,
        left_run,
        right_run,
        max(LEAST_HEIGHT, column),
    )


def sides(
    notes: Sequence[Note], columns: tuple[Column, Column], frame: Frame
) -> tuple[tuple[Note, ...], tuple[Note, ...]]:
    """Callouts of the front half go left, as many as find room above the words of the front wall."""
    low, high = columns[0].low, columns[0].high
    middle = (frame.left + frame.right) / 2
    fitting = [note for note in notes if note.anchor[0] <= middle and note.numbers]
    fitting.sort(key=lambda note: (-note.anchor[1], note.anchor[0]))
    left = fitting[: max(0, floor((high - low) / PITCH) + 1)]
    while left:
        right = [note for note in notes if note not in left]
        clash = _clash(left, right, columns)
        if clash is None:
            return tuple(left), tuple(right)
        left.remove(clash)
    return (), tuple(notes)


def _clash(left: Sequence[Note], right: Sequence[Note], columns: tuple[Column, Column]) -> Note | None:
    """A callout on the left whose leader crosses one of the right, or the words beside the front wall."""
    others = place(right, columns[1])
    for mine in place(left, columns[0]):
        crossed = any(cross(mine.note.anchor, mine.slot, p.note.anchor, p.slot) for p in others)
        if crossed or _through_words(mine, columns[0]):
            return next(note for note in left if note.numbers == mine.note.numbers)
    return None


def _through_words(mine: Placed, column: Column) -> bool:
    """Whether a leader is still among the words of the front wall where these end."""
    (x, y), (to_x, to_y) = mine.note.anchor, mine.slot
    ends = column.words_end
    if x <= to_x or not to_x < ends < x:
        return False
    return y + (to_y - y) * (x - ends) / (x - to_x) < column.low - PITCH + CLEAR


def every_note(pen: Pen, scene: Scene, frame: Frame, *, words: bool) -> list[Note]:
    """Each callout once, at the first thing that it can point at."""
    found: dict[tuple[object, ...], Note] = {}
    groups = together(scene)
    for figure in every_figure(pen, scene, frame):
        for note in figure.notes(groups, words=words):
            found.setdefault(note.numbers or (note.words,), note)
    return list(found.values())


def every_figure(pen: Pen, scene: Scene, frame: Frame) -> tuple[Figure, ...]:
    """All that the section shows besides layers and walls."""
    return (
        *figures(pen, scene, frame),
        *roof_figures(pen, scene, frame),
        *soil_figures(pen, scene, frame),
    )
