"""The top from above: where each fixture lies, how far it reaches over, where the holder stands."""

from collections.abc import Iterator
from functools import partial

from reportlab.graphics.shapes import Drawing, Shape

from kits.drawings import above
from kits.drawings.frame import Frame
from kits.drawings.labels import Point
from kits.drawings.laid_out import LaidOut
from kits.drawings.pen import HAIR, Marked, Pen
from kits.drawings.plan_view import Mark, Wish, numbers, plan_frame, plan_laid_out, walls
from kits.drawings.scene import Scene
from kits.drawings.stage import ROUND_ROLES, Staged, on_top
from kits.drawings.theme import PAPER, Theme

MESH = 4.2  # points between the wires that are drawn; not the mesh's own opening
HELD = {"uvb_fixture": ("uvb_lamp",), "lamp_holder": ("basking_lamp", "night_heat")}


def top(
    scene: Scene,
    *,
    width: float = 480.0,
    height: float = 330.0,
    scale: float | None = None,
    theme: Theme = PAPER,
) -> Drawing:
    """The top in at most so many points, back at the top; a closed top lets one see the lamps below it."""
    return laid_out(scene, Wish(width, height, scale), theme=theme).drawn()


def laid_out(scene: Scene, wish: Wish, *, theme: Theme = PAPER) -> LaidOut:
    """The same view with its size, before it is drawn."""
    pen, over = Pen(theme), _over_mm(scene)
    frame = plan_frame(scene, wish, over)
    return plan_laid_out(pen, scene, frame, partial(_inside, pen, scene, frame), over)


def _inside(pen: Pen, scene: Scene, frame: Frame) -> list[Shape]:
    staged = on_top(scene)
    shapes: list[Shape] = [*_field(pen, scene, frame), *walls(pen, scene, frame)]
    shapes += [_lamp(pen, frame, one) for one in staged]
    marks = [mark for one in staged for mark in _marks(scene, frame, one)]
    return [*shapes, *numbers(pen, marks, frame)]


def _over_mm(scene: Scene) -> tuple[float, float]:
    """How far the longest fixture reaches over each side, and the deepest over front and back."""
    across = deep = 0.0
    for staged in on_top(scene):
        for spot in staged.spots:
            half, half_deep = staged.part.length_mm / 2, staged.part.width_mm / 2
            across = max(across, half - spot.x_mm, spot.x_mm + half - scene.inside.width_mm)
            deep = max(deep, half_deep - spot.y_mm, spot.y_mm + half_deep - scene.inside.depth_mm)
    return across, deep


def _field(pen: Pen, scene: Scene, frame: Frame) -> list[Shape]:
    """The mesh as wires, a closed top as a plain field."""
    size = frame.right - frame.left, frame.top - frame.bottom
    if scene.inside.top_kind != "mesh":
        fill = "stone" if scene.inside.top_kind == "solid" else "paper"
        return [pen.rect((frame.left, frame.bottom), size, fill=fill, ink="")]
    xs = [frame.left + n * MESH for n in range(1, int(size[0] / MESH) + 1)]
    ys = [frame.bottom + n * MESH for n in range(1, int(size[1] / MESH) + 1)]
    wires: list[list[Point]] = [[(x, frame.bottom), (x, frame.top)] for x in xs]
    wires += [[(frame.left, y), (frame.right, y)] for y in ys]
    return [pen.strokes(wires, ink="stone", width=HAIR)] if wires else []


def _lamp(pen: Pen, frame: Frame, staged: Staged) -> Shape:
    part = staged.part
    size = frame.pt(part.length_mm), frame.pt(part.width_mm)
    draw = above.dome if part.role in ROUND_ROLES and part.form != "panel" else above.strip_light
    shapes = []
    for spot in staged.spots:
        x, y = frame.at(spot.x_mm, spot.y_mm)
        shapes.extend(draw(pen, (x - size[0] / 2, y - size[1] / 2), size))
    return Marked(*shapes, marks={"data-part": str(part.number or part.role)})


def _marks(scene: Scene, frame: Frame, staged: Staged) -> Iterator[Mark]:
    """The number of the fixture and beside it the number of what it holds."""
    part = staged.part
    held = [p.number for p in scene.with_roles(*HELD.get(part.role, ())) if p.number and p.form != "panel"]
    for piece, spot in enumerate(staged.spots):
        found = sorted(number for number in (part.number, *held) if number)
        for n, number in enumerate(found):
            x, y = frame.at(spot.x_mm, spot.y_mm)
            yield Mark(number, (x + 10.4 * (n - (len(found) - 1) / 2), y), needed=piece == 0)
