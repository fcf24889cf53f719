"""The left edge of a section: depths at the front, sill and water, pushed apart beside the wall."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reportlab.graphics.shapes import Shape

from kits.drawings.frame import Frame
from kits.drawings.labels import spread
from kits.drawings.measures import length_text
from kits.drawings.pen import CAP_SHARE, FINE, HAIR, PLAIN, TEXT_SIZE, Marked, Pen, width_of
from kits.drawings.scene import Scene

CHAIN = 9.0  # from the wall to the dimension chain
LEAD = 9.0  # from the chain to the words
PITCH = 9.6
TICK = 2.2
DEPTH_KEY = {"drainage": "drainage", "substrate": "substrate_front", "litter": "litter"}


@dataclass(frozen=True, slots=True)
class Level:
    """Words that belong to a height above the floor."""

    at_mm: float
    words: str
    key: str = ""  # the depth of the spec that may be edited here
    kind: str = "depth"  # depth, sill or water


def levels(scene: Scene) -> list[Level]:
    """Everything that is measured along the front wall, from the floor up."""
    return sorted(_levels(scene), key=lambda level: level.at_mm)


def _levels(scene: Scene) -> Iterator[Level]:
    low, units = 0.0, scene.units
    for bed in scene.beds:
        yield Level(low + bed.front_mm / 2, length_text(bed.front_mm, units), DEPTH_KEY.get(bed.name, ""))
        low += bed.front_mm
    if scene.inside.sill_mm > 0:
        yield Level(scene.inside.sill_mm, f"sill {length_text(scene.inside.sill_mm, units)}", kind="sill")
    if scene.water_mm > 0:
        yield Level(scene.water_mm, f"water {length_text(scene.water_mm, units)}", kind="water")


def width_needed(scene: Scene) -> float:
    """Room for chain, leaders and words left of the wall."""
    widest = max((width_of(level.words) for level in levels(scene)), default=0.0)
    return CHAIN + LEAD + widest


def words_end(frame: Frame, wall: float) -> float:
    """The right edge of the words."""
    return frame.left - wall - CHAIN - LEAD


def highest_words(scene: Scene, frame: Frame, limits: tuple[float, float]) -> float:
    """Middle of the highest words, the floor where there are none."""
    return max(_heights(levels(scene), frame, limits), default=frame.bottom)


def _heights(found: Sequence[Level], frame: Frame, limits: tuple[float, float]) -> list[float]:
    return spread([frame.y(level.at_mm) for level in found], PITCH, *limits)


def draw_levels(
    pen: Pen, scene: Scene, frame: Frame, wall: float, limits: tuple[float, float]
) -> list[Shape]:
    """The chain of front depths with its ticks, and the words of every level."""
    chain = frame.left - wall - CHAIN
    found = levels(scene)
    ys = _heights(found, frame, limits)
    size = TEXT_SIZE * min(1.0, _pitch(found, limits) / PITCH)
    shapes = _chain(pen, scene, frame, chain)
    for level, y in zip(found, ys, strict=True):
        start = frame.y(level.at_mm)
        shapes.extend(_tick(pen, level, chain, start, frame.left - wall))
        shapes.append(pen.line((chain - 1.0, start), (chain - LEAD + 1.5, y), ink="hair", width=HAIR))
        text = pen.text((chain - LEAD, y - size * CAP_SHARE / 2), level.words, anchor="end", size=size)
        marks = {"data-depth": level.key, "class": "depth"} if level.key else {"class": level.kind}
        shapes.append(Marked(text, marks=marks))
    return shapes


def _pitch(found: Sequence[Level], limits: tuple[float, float]) -> float:
    return PITCH if len(found) < 2 else min(PITCH, (limits[1] - limits[0]) / (len(found) - 1))


def _chain(pen: Pen, scene: Scene, frame: Frame, x: float) -> list[Shape]:
    edges, low = [frame.y(0)], 0.0
    for bed in scene.beds:
        low += bed.front_mm
        edges.append(frame.y(low))
    ticks = [[(x - TICK, y - TICK), (x + TICK, y + TICK)] for y in edges]
    return [
        pen.line((x, edges[0]), (x, edges[-1]), ink="hair", width=FINE),
        pen.strokes(ticks, ink="ink", width=FINE),
    ]


def _tick(pen: Pen, level: Level, chain: float, y: float, wall: float) -> list[Shape]:
    """How a height is shown: the sill as a bar at the wall, water as a broken line."""
    if level.kind == "sill":
        return [pen.line((chain - 1.0, y), (wall, y), ink="ink", width=PLAIN)]
    if level.kind == "water":
        return [pen.line((chain - 1.0, y), (wall, y), ink="accent", width=FINE, dash=(2, 1.4))]
    return []
