"""Lamps of a section, seen from their ends: on a mesh or open top, below a closed one."""

from collections.abc import Iterator
from functools import partial

from reportlab.graphics.shapes import Shape

from kits.drawings import things
from kits.drawings.frame import Frame
from kits.drawings.labels import Point
from kits.drawings.pen import Pen
from kits.drawings.scene import Part, Scene
from kits.drawings.section_parts import Figure
from kits.drawings.stage import OPEN_TOPS, carriers, on_top


def roof_mm(scene: Scene) -> float:
    """How far the lamps stand above the rim."""
    if scene.inside.top_kind not in OPEN_TOPS:
        return 0.0
    return max((_height_mm(part) for part in carriers(scene)), default=0.0)


def roof_figures(pen: Pen, scene: Scene, frame: Frame) -> tuple[Figure, ...]:
    """Lamps, heater panel and mesh cover."""
    return (*_lamps(pen, scene, frame), *_panels(pen, scene, frame), *_cover(pen, scene, frame))


def _height_mm(part: Part) -> float:
    return part.height_mm or 40.0


def _lamps(pen: Pen, scene: Scene, frame: Frame) -> Iterator[Figure]:
    above = scene.inside.top_kind in OPEN_TOPS
    for staged in on_top(scene):
        part = staged.part
        wide, tall = frame.pt(part.width_mm), max(4.0, frame.pt(_height_mm(part)))
        y = frame.top + 1.2 if above else frame.top - tall - 1.0
        rows = sorted({spot.y_mm for spot in staged.spots})
        corners = [(frame.x(row) - wide / 2, y) for row in rows]
        at = min(frame.x(rows[-1]) + wide * 0.36, frame.right)  # a lamp may be wider than the box is deep
        anchor = at, y + tall * 0.62
        yield Figure(part.role, anchor, part.number, partial(_row, pen, scene, part, corners, (wide, tall)))


def _row(pen: Pen, scene: Scene, part: Part, corners: list[Point], size: Point) -> list[Shape]:
    """The lamps of one part, one behind the other."""
    return [shape for corner in corners for shape in _lamp(pen, scene, part, corner, *size)]


def _lamp(pen: Pen, scene: Scene, part: Part, left: Point, wide: float, tall: float) -> list[Shape]:
    if part.role in ("uvb_fixture", "uvb_lamp"):
        return things.reflector(pen, left, wide, tall)
    if part.form == "panel" and part.role == "night_heat":
        return things.plate(pen, left, wide, tall)
    if part.role == "plant_light":
        return things.light_bar(pen, left, wide, tall)
    return things.dome(pen, left, wide, tall, lamp=bool(scene.with_roles("basking_lamp", "uvb_lamp")))


def _panels(pen: Pen, scene: Scene, frame: Frame) -> Iterator[Figure]:
    """A heater without a place of its own on the top: a panel below it, or a heater in one of the holders."""
    drawn = {staged.part for staged in on_top(scene)}
    for part in scene.with_roles("night_heat"):
        if part in drawn:
            continue
        wide = frame.pt(min(part.width_mm, 0.4 * scene.inside.depth_mm))
        tall = max(2.6, frame.pt(part.height_mm if part.form == "panel" else 40.0))
        left = frame.right - wide - frame.pt(0.06 * scene.inside.depth_mm)
        y = frame.top - tall - 1.2
        draw = partial(things.plate, pen, (left, y), wide, tall) if part.form == "panel" else None
        if part.form != "panel":
            left = (
                frame.x(next((s.spots[0].y_mm for s in on_top(scene) if s.part.role == "lamp_holder"), 0.0))
                - wide / 2
            )
            y = frame.top + 1.2 + tall
        at = min(left + wide * 0.7, frame.right), y + tall / 2
        yield Figure("night_heat", at, part.number, draw)


def _cover(pen: Pen, scene: Scene, frame: Frame) -> Iterator[Figure]:
    if scene.with_roles("mesh_cover"):
        at = frame.right - min(9.0, (frame.right - frame.left) / 4), frame.top
        yield Figure("mesh_cover", at, play=0.0)
