"""The side section, to scale: front on the left, so that slope shows."""

from dataclasses import dataclass

from reportlab.graphics.shapes import Drawing, Shape

from kits.drawings import levels, notes
from kits.drawings.dimensions import foot, height_line
from kits.drawings.frame import Frame
from kits.drawings.grounds import ground
from kits.drawings.measures import POINTS_PER_MM, scale_for
from kits.drawings.pen import FINE, HAIR, HEAVY, Pen
from kits.drawings.scene import Scene
from kits.drawings.section_parts import Figure, figures
from kits.drawings.section_roof import roof_figures, roof_mm
from kits.drawings.section_soil import barrier_line, soil_figures, strips, water_sign
from kits.drawings.theme import PAPER, Theme

MARGIN = 6.0
HEIGHT_LINE = 20.0  # room for the overall height, left of everything
FOOT = 46.0  # room below the floor: front and back, depth, scale bar
HEAD = 14.0
LEAST_WALL = 1.6
ASSUMED_RUN = 40.0


@dataclass(frozen=True, slots=True)
class _Sheet:
    scene: Scene
    pen: Pen
    frame: Frame
    wall: float
    width: float
    height: float
    column: notes.Column


def section(
    scene: Scene, *, width: float = 480.0, height: float = 330.0, scale: float | None = None,
    words: bool = True, theme: Theme = PAPER,
) -> Drawing:  # fmt: skip
    """The section in at most so many points; `scale` fixes n of 1 : n, `words=False` leaves numbers alone."""
    pen = Pen(theme)
    beside = levels.width_needed(scene) + HEIGHT_LINE
    labels = max((note.width for note in _notes(scene, _probe(scene), words)), default=0.0)
    sheet = _sheet(scene, pen, (width, height), (beside, labels), scale, words)
    drawing = Drawing(sheet.width, sheet.height)
    for shape in _contents(sheet, words):
        drawing.add(shape)
    return drawing


def _probe(scene: Scene) -> Frame:
    """A frame of no importance, to learn the words before the scale is known."""
    return Frame(10.0, 0.0, 0.0, scene.inside.depth_mm, scene.inside.height_mm)


def _sheet(
    scene: Scene,
    pen: Pen,
    most: tuple[float, float],
    sides: tuple[float, float],
    scale: float | None,
    words: bool,
) -> _Sheet:
    inside, (beside, labels) = scene.inside, sides
    run = ASSUMED_RUN
    for _ in range(3):  # the run of the leaders depends on the scale, and the scale on the run
        free = most[0] - 2 * MARGIN - beside - run - labels - 8, most[1] - FOOT - HEAD
        n = scale or scale_for(
            inside.depth_mm, inside.height_mm + roof_mm(scene), width=free[0], height=free[1]
        )
        wall = max(LEAST_WALL, inside.wall_mm * POINTS_PER_MM / n)
        frame = Frame(n, MARGIN + beside + wall, FOOT + wall, inside.depth_mm, inside.height_mm)
        found = _notes(scene, frame, words)
        tall = max(frame.y(inside.height_mm + roof_mm(scene)) + HEAD, FOOT + 12 + notes.PITCH * len(found))
        tall = min(max(tall, 120.0), max(most[1], frame.top + HEAD))
        low, high = FOOT + notes.CALLOUT_RADIUS, tall - notes.CALLOUT_RADIUS - 1.5
        needed = notes.run_needed(found, low, high)
        if needed <= run:
            break
        run = needed
    left = frame.right + wall + min(run, max(needed, notes.LEAST_RUN))
    column = notes.Column(left, low, high)
    return _Sheet(scene, pen, frame, wall, max(left + labels + MARGIN, 170.0), tall, column)


def _notes(scene: Scene, frame: Frame, words: bool) -> list[notes.Note]:
    pen = Pen(PAPER)
    every = (*figures(pen, scene, frame), *roof_figures(pen, scene, frame), *soil_figures(pen, scene, frame))
    return _once(every, scene, words)


def _once(every: tuple[Figure, ...], scene: Scene, words: bool) -> list[notes.Note]:
    """Each callout once, at the first thing that it can point at."""
    found: dict[tuple[int, ...], notes.Note] = {}
    for figure in every:
        for note in figure.notes(scene, words=words):
            found.setdefault(note.numbers, note)
    return list(found.values())


def _contents(sheet: _Sheet, words: bool) -> list[Shape]:
    scene, pen, frame = sheet.scene, sheet.pen, sheet.frame
    standing = figures(pen, scene, frame)
    above = roof_figures(pen, scene, frame)
    found = _once((*standing, *above, *soil_figures(pen, scene, frame)), scene, words)
    limits = (frame.bottom + 3.5, sheet.height - 8.0)
    return [
        *_flat(standing),
        *_soil(sheet),
        *_flat(soil_figures(pen, scene, frame)),
        *_shell(sheet),
        *_flat(above),
        *levels.draw_levels(pen, scene, frame, sheet.wall, limits),
        *height_line(pen, scene, frame, MARGIN + 8.0),
        *foot(pen, scene, frame, sheet.wall, sheet.width - MARGIN),
        *notes.draw_notes(pen, found, sheet.column),
    ]


def _flat(found: tuple[Figure, ...]) -> list[Shape]:
    return [figure.shape() for figure in found if figure.shapes]


def _soil(sheet: _Sheet) -> list[Shape]:
    shapes: list[Shape] = []
    for bed, strip in strips(sheet.scene, sheet.frame):
        shapes.extend(ground(sheet.pen, bed.name, strip))
    return [
        *shapes,
        *barrier_line(sheet.pen, sheet.scene, sheet.frame),
        *water_sign(sheet.pen, sheet.scene, sheet.frame),
    ]


def _shell(sheet: _Sheet) -> list[Shape]:
    """Floor and back wall cut through; the front is the fixed pane up to the sill and the door above it."""
    pen, frame, wall = sheet.pen, sheet.frame, sheet.wall
    sill = frame.pt(min(sheet.scene.inside.sill_mm, sheet.scene.inside.height_mm))
    across, tall = frame.right - frame.left, frame.top - frame.bottom
    shapes: list[Shape] = [
        pen.rect((frame.left, frame.bottom), (across, tall), ink="ink", width=HAIR),
        pen.rect(
            (frame.left - wall, frame.bottom - wall),
            (across + 2 * wall, wall),
            fill="wall",
            ink="ink",
            width=HAIR,
        ),
        pen.rect((frame.right, frame.bottom), (wall, tall), fill="wall", ink="ink", width=HAIR),
        pen.rect((frame.left - wall, frame.bottom), (wall, sill), fill="wall", ink="ink", width=HAIR),
        pen.rect(
            (frame.left - wall, frame.bottom + sill), (wall, tall - sill), fill="paper", ink="ink", width=FINE
        ),
    ]
    return [*shapes, *_top(sheet)]


def _top(sheet: _Sheet) -> list[Shape]:
    pen, frame, wall, kind = sheet.pen, sheet.frame, sheet.wall, sheet.scene.inside.top_kind
    left, right, y = frame.left - wall, frame.right + wall, frame.top
    if kind == "open":
        return []
    if kind == "mesh":
        return [pen.line((left, y), (right, y), ink="ink", width=HEAVY, dash=(1.6, 1.3))]
    fill = "wall" if kind == "solid" else "paper"
    return [pen.rect((left, y), (right - left, wall), fill=fill, ink="ink", width=FINE)]
