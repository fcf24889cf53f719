"""What lies in the ground of a section: layers, barrier, water, and what their callouts point at."""

from collections.abc import Iterator
from functools import partial

from reportlab.graphics.shapes import Shape

from kits.drawings import things
from kits.drawings.frame import Frame
from kits.drawings.grounds import Strip
from kits.drawings.labels import Point
from kits.drawings.measures import length_text
from kits.drawings.pen import FINE, PLAIN, Pen
from kits.drawings.scene import Bed, Scene
from kits.drawings.section_parts import Figure

FROM_WALL = 7.0  # callouts point into a layer so far from the back wall
MOSS_SHARES = (0.3, 0.34, 0.38, 0.42, 0.46)
CREW_SHARES = (0.44, 0.5, 0.57)


def strips(scene: Scene, frame: Frame) -> Iterator[tuple[Bed, Strip]]:
    """The layers from the floor up."""
    low = (0.0, 0.0)
    for bed in scene.beds:
        high = (low[0] + bed.front_mm, low[1] + bed.back_mm)
        ends = (frame.y(low[0]), frame.y(low[1])), (frame.y(high[0]), frame.y(high[1]))
        yield bed, Strip(frame.left, frame.right, *ends)
        low = high


def barrier_line(pen: Pen, scene: Scene, frame: Frame) -> list[Shape]:
    """The mesh between drainage and soil, as a broken line."""
    at = _interface(scene)
    if at is None or not scene.with_roles("barrier"):
        return []
    return [
        pen.line(frame.at(0, at), frame.at(frame.across_mm, at), ink="accent", width=1.2, dash=(3.2, 1.6))
    ]


def water_sign(pen: Pen, scene: Scene, frame: Frame) -> list[Shape]:
    """The drafting sign of a water level: a triangle on its line."""
    if scene.water_mm <= 0:
        return []
    y, x = frame.y(scene.water_mm), frame.left + 0.3 * (frame.right - frame.left)
    return [
        pen.line((frame.left, y), (frame.right, y), ink="accent", width=PLAIN, dash=(5, 2)),
        pen.polygon([(x, y), (x - 2.6, y + 4.4), (x + 2.6, y + 4.4)], fill="paper", ink="accent", width=FINE),
        pen.strokes(
            [[(x - 2.2, y - 1.5), (x + 2.2, y - 1.5)], [(x - 1.2, y - 2.8), (x + 1.2, y - 2.8)]],
            ink="accent",
            width=FINE,
        ),
    ]


def _interface(scene: Scene) -> float | None:
    return next((bed.front_mm for bed in scene.beds if bed.name == "drainage"), None)


def soil_figures(pen: Pen, scene: Scene, frame: Frame) -> tuple[Figure, ...]:
    """Layers, barrier, moss and crew with the points that their callouts are led to."""
    found: list[Figure] = []
    for bed, strip in strips(scene, frame):
        x = frame.right - min(FROM_WALL, (frame.right - frame.left) / 3)
        at = x, (strip.edge(strip.low, x) + strip.edge(strip.high, x)) / 2
        play = max(0.0, (strip.edge(strip.high, x) - strip.edge(strip.low, x)) / 2 - 1.2)
        found.append(Figure(bed.name, at, depth=_back_depth(bed, scene), play=play))
    at_mm = _interface(scene)
    if at_mm is not None:
        x = frame.right - min(16.0, (frame.right - frame.left) / 2)
        found.append(Figure("barrier", (x, frame.y(at_mm)), play=0.0))
    return (*found, *_moss(pen, scene, frame), *_crew(pen, scene, frame), *_inside_ground(pen, scene, frame))


def _back_depth(bed: Bed, scene: Scene) -> str:
    """The depth at the back, where it is another one than at the front."""
    return length_text(bed.back_mm, scene.units) if bed.name == "substrate" else ""


def _on_ground(scene: Scene, frame: Frame, share: float) -> Point:
    across = share * frame.across_mm
    return frame.at(across, scene.ground_mm(across))


def _moss(pen: Pen, scene: Scene, frame: Frame) -> tuple[Figure, ...]:
    if not scene.with_roles("moss"):
        return ()
    points = [_on_ground(scene, frame, share) for share in MOSS_SHARES]
    size = min(7.0, max(3.0, frame.pt(18)))
    anchor = points[2][0], points[2][1] + size / 2
    return (Figure("moss", anchor, draw=partial(things.tufts, pen, points, size)),)


def _crew(pen: Pen, scene: Scene, frame: Frame) -> tuple[Figure, ...]:
    if not scene.with_roles("cleanup_crew") or not scene.beds:
        return ()
    points = [_on_ground(scene, frame, share) for share in CREW_SHARES]
    anchor = points[-1][0], points[-1][1] + 1.2
    return (Figure("cleanup_crew", anchor, draw=partial(things.crew, pen, points)),)


def _inside_ground(pen: Pen, scene: Scene, frame: Frame) -> tuple[Figure, ...]:
    """The drain tube, from the floor to just above the ground at the front."""
    tubes = scene.with_roles("drain_tube")
    if not tubes:
        return ()
    across = 0.06 * frame.across_mm
    height = frame.pt(min(scene.ground_mm(across) + 20.0, scene.inside.height_mm * 0.96))
    foot = frame.at(across, 0)
    draw = partial(things.tube, pen, foot, height, frame.pt(tubes[0].width_mm))
    return (Figure("drain_tube", (foot[0], foot[1] + height), draw=draw),)
