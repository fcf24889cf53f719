"""The floor from above: where hides, dish, bark and branches lie and where each plant goes."""

from collections.abc import Iterator
from functools import partial

from reportlab.graphics.shapes import Drawing, Shape

from kits.drawings import above
from kits.drawings.botany import crown
from kits.drawings.frame import Frame
from kits.drawings.laid_out import LaidOut
from kits.drawings.pen import Marked, Pen
from kits.drawings.plan_view import Mark, Wish, numbers, plan_frame, plan_laid_out, walls
from kits.drawings.scene import Part, Scene
from kits.drawings.stage import Spot, Staged, on_floor
from kits.drawings.theme import PAPER, Theme

CROWN_SHARE = 0.3  # of the shorter side that a plant's spread is drawn at most
LEAST_CROWN = 5.2
ORDER = ("bark", "water_dish", "hide", "feeding_ledge", "plant", "climb")


def floor(
    scene: Scene,
    *,
    width: float = 480.0,
    height: float = 330.0,
    scale: float | None = None,
    theme: Theme = PAPER,
) -> Drawing:
    """The floor plan in at most so many points, back at the top; plants as circles of their spread."""
    return laid_out(scene, Wish(width, height, scale), theme=theme).drawn()


def laid_out(scene: Scene, wish: Wish, *, theme: Theme = PAPER) -> LaidOut:
    """The same plan with its size, before it is drawn."""
    pen, frame = Pen(theme), plan_frame(scene, wish)
    return plan_laid_out(pen, scene, frame, partial(_inside, pen, scene, frame))


def _inside(pen: Pen, scene: Scene, frame: Frame) -> list[Shape]:
    staged = sorted(on_floor(scene), key=lambda staged: ORDER.index(staged.part.role))
    shapes: list[Shape] = [_ground(pen, frame)]
    for one in staged:
        drawn = [shape for spot in one.spots for shape in _drawn(pen, scene, frame, one.part, spot)]
        shapes.append(Marked(*drawn, marks={"data-part": str(one.part.number or one.part.role)}))
    marks = [mark for one in staged for mark in _marks(frame, one)]
    return [*shapes, *walls(pen, scene, frame), *numbers(pen, marks, frame)]


def _ground(pen: Pen, frame: Frame) -> Shape:
    return pen.rect(
        (frame.left, frame.bottom),
        (frame.right - frame.left, frame.top - frame.bottom),
        fill="paper",
        ink="",
    )


def _marks(frame: Frame, staged: Staged) -> Iterator[Mark]:
    if not staged.part.number:
        return
    for number, spot in enumerate(staged.spots):
        yield Mark(staged.part.number, frame.at(spot.x_mm, spot.y_mm), needed=number == 0)


def _drawn(pen: Pen, scene: Scene, frame: Frame, part: Part, spot: Spot) -> list[Shape]:
    at = frame.at(spot.x_mm, spot.y_mm)
    size = (
        frame.pt(min(part.length_mm, scene.inside.width_mm)),
        frame.pt(min(part.width_mm, scene.inside.depth_mm)),
    )
    if part.role == "plant":
        return list(crown(pen, part.form, at, _crown_radius(scene, frame, part, spot)))
    if part.role == "climb":
        return above.branch_from_above(pen, scene, frame, part, spot)
    return above.FROM_ABOVE[part.role](pen, (at[0] - size[0] / 2, at[1] - size[1] / 2), size)


def _crown_radius(scene: Scene, frame: Frame, part: Part, spot: Spot) -> float:
    """Half the spread, within the walls and never so small that its number hides it."""
    inside = scene.inside
    to_wall = min(spot.x_mm, inside.width_mm - spot.x_mm, spot.y_mm, inside.depth_mm - spot.y_mm)
    most = min(CROWN_SHARE * min(inside.width_mm, inside.depth_mm) / 2, max(to_wall, 0.0))
    room = min(frame.pt(to_wall), LEAST_CROWN + 1.5)
    return max(frame.pt(min(part.length_mm / 2, most)), room)
