"""What stands in the air of a section: plants, hardscape, perches; one drawn piece for each line."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial

from reportlab.graphics.shapes import Shape

from kits.drawings import botany, things
from kits.drawings.callouts import words as words_of
from kits.drawings.frame import Frame
from kits.drawings.labels import Point
from kits.drawings.measures import length_text
from kits.drawings.notes import Note
from kits.drawings.pen import Marked, Pen
from kits.drawings.scene import Part, Scene
from kits.drawings.stage import on_floor

# Shares of the depth over which the plants of one position are spread in the section.
BANDS = {"front": (0.1, 0.34), "middle": (0.38, 0.64), "back": (0.66, 0.92), "mounted": (0.9, 0.9)}
AIR_SHARE = 0.9  # of the air that a plant is drawn to fill at most
VINE_SHARE = 0.8
MOST_BRANCHES = 2

Draw = Callable[[], Iterable[Shape]]


@dataclass(frozen=True, slots=True)
class Figure:
    """Something drawn for a role or one line, and the point that its callout is led to.

    Its shapes are made when they are asked for: where a callout goes does not depend on them.
    """

    role: str
    anchor: Point
    number: int = 0  # the one line that it shows, 0 for every line of the role
    draw: Draw | None = None  # none for what other figures or the walls show
    depth: str = ""
    play: float = 1.5  # how far the callout may move up or down on the thing
    saying: str = ""  # words without a number

    def notes(self, groups: Iterable[tuple[Part, ...]], *, words: bool) -> Iterator[Note]:
        """Its callout, where the parts list has a line for it; `groups` are the parts by callout place."""
        if self.saying and words:
            yield Note((), self.saying, self.anchor)
        for parts in groups:
            mine = any(part.role == self.role and self.number in (0, part.number) for part in parts)
            if mine:
                numbers = tuple(part.number for part in parts)
                marks = {"data-depth": "substrate_back", "class": "depth"} if self.depth else {}
                yield Note(
                    numbers, words_of(parts) if words else "", self.anchor, self.play, self.depth, marks
                )

    def shape(self) -> Shape:
        """All its shapes as one group that a page can find."""
        return Marked(*self.draw() if self.draw else (), marks={"data-part": str(self.number or self.role)})


def drawn(found: Iterable[Figure]) -> list[Shape]:
    """The groups of all figures that show something themselves."""
    return [figure.shape() for figure in found if figure.draw]


def figures(pen: Pen, scene: Scene, frame: Frame) -> tuple[Figure, ...]:
    """From the back to what must not be hidden: tall plants, branches, hides, low plants, dish, perches."""
    pieces = list(_pieces(pen, scene, frame))
    return (
        *_plants(pen, scene, frame, ("mounted", "back")),
        *_branches(pen, scene, frame),
        *(piece for piece in pieces if piece.role == "hide"),
        *_plants(pen, scene, frame, ("middle", "front")),
        *(piece for piece in pieces if piece.role != "hide"),
        *_seats(pen, scene, frame),
        *_walls(scene, frame),
    )


def _walls(scene: Scene, frame: Frame) -> tuple[Figure, ...]:
    """The enclosure's callout points at the back wall."""
    reach = frame.pt(0.12 * scene.inside.height_mm)
    return (Figure("enclosure", (frame.right, frame.y(0.85 * scene.inside.height_mm)), play=reach),)


def _plants(pen: Pen, scene: Scene, frame: Frame, positions: tuple[str, ...]) -> Iterator[Figure]:
    for position in positions:
        parts = [part for part in scene.with_roles("plant") if _position(part) == position]
        for share, part in zip(_shares(position, len(parts)), parts, strict=True):
            yield _plant(pen, scene, frame, part, share)


def _position(part: Part) -> str:
    return part.position if part.position in BANDS else "middle"


def _shares(position: str, count: int) -> list[float]:
    low, high = BANDS[position]
    return [low + (high - low) * (number + 0.5) / count for number in range(count)]


def _plant(pen: Pen, scene: Scene, frame: Frame, part: Part, share: float) -> Figure:
    depth, across = scene.inside.depth_mm, share * scene.inside.depth_mm
    ground = scene.ground_mm(across)
    air = scene.inside.height_mm - ground
    spread = min(part.length_mm, 2 * min(across, depth - across), 0.5 * depth)
    height = min(part.height_mm, AIR_SHARE * air)
    if part.form == "vine":
        spread = min(part.length_mm, 0.16 * depth)
        across = depth - spread * (0.35 + 0.5 * (part.number % 2))
        height, ground = (
            min(part.height_mm if part.height_mm > 100 else 0.5 * air, VINE_SHARE * air),
            scene.ground_mm(across),
        )
    if part.position == "mounted":
        ground += air * (0.42 + 0.28 * ((part.number * botany.GOLDEN) % 1.0))
        height = min(height, 0.3 * air)
        spread = min(part.length_mm, 0.3 * depth)
        across = depth - spread / 2
    at = frame.at(across, ground)
    tall, wide = frame.pt(height), frame.pt(spread)
    draw = partial(botany.silhouette, pen, part.form, at, tall, wide)
    return Figure("plant", (at[0], at[1] + 0.55 * tall), part.number, draw, play=0.3 * tall)


def _branches(pen: Pen, scene: Scene, frame: Frame) -> Iterator[Figure]:
    before = 0
    for part in scene.with_roles("climb"):
        pieces = min(part.quantity, MOST_BRANCHES - before)
        ends = [_branch_ends(scene, part, before + number) for number in range(pieces)]
        before += pieces
        if ends:
            foot, tip = ends[-1]
            anchor = frame.at(foot[0] * 0.25 + tip[0] * 0.75, foot[1] * 0.25 + tip[1] * 0.75)
            draw = partial(_drawn_branches, pen, scene, frame, part, ends)
            yield Figure("climb", anchor, part.number, draw)


def _drawn_branches(
    pen: Pen, scene: Scene, frame: Frame, part: Part, ends: list[tuple[Point, Point]]
) -> Iterator[Shape]:
    thick = max(2.4, frame.pt(min(part.width_mm, 0.15 * scene.inside.depth_mm)))
    for foot, tip in ends:
        yield from things.branch(pen, frame.at(*foot), frame.at(*tip), thick)


def _branch_ends(scene: Scene, part: Part, number: int) -> tuple[Point, Point]:
    """The first branch leads from the front through the highest perch, the second one stands at the back."""
    inside = scene.inside
    start = (0.12 if number == 0 else 0.93) * inside.depth_mm
    foot = start, scene.ground_mm(start) - min(20.0, scene.ground_mm(start))
    through = _target(scene, number)
    dx, dy = through[0] - foot[0], through[1] - foot[1]
    length = max((dx * dx + dy * dy) ** 0.5, 1.0)
    return foot, (foot[0] + dx * _reach(part, length), foot[1] + dy * _reach(part, length))


def _reach(part: Part, length: float) -> float:
    """A branch ends a little beyond what it leads to, or where it ends."""
    return max(0.2, min(1.12, part.length_mm / length))


def _target(scene: Scene, number: int) -> Point:
    inside = scene.inside
    ground = scene.ground_mm(inside.depth_mm / 2)
    air = inside.height_mm - ground
    if number > 0:
        return 0.82 * inside.depth_mm, ground + 0.8 * air
    highest = max(scene.seats, key=lambda seat: seat.height_mm, default=None)
    if highest is not None and 0.25 * inside.depth_mm < highest.back_mm < 0.85 * inside.depth_mm:
        return highest.back_mm, min(highest.height_mm, 0.85 * inside.height_mm)
    return 0.7 * inside.depth_mm, ground + 0.62 * air


def _pieces(pen: Pen, scene: Scene, frame: Frame) -> Iterator[Figure]:
    for staged in on_floor(scene):
        part = staged.part
        if part.role in ("plant", "climb"):
            continue
        wide = frame.pt(min(part.width_mm, 0.96 * scene.inside.depth_mm))
        left = frame.x(staged.spots[0].y_mm) - wide / 2
        yield _piece(pen, scene, frame, part, left, wide)


def _piece(pen: Pen, scene: Scene, frame: Frame, part: Part, left: float, wide: float) -> Figure:
    ends = [
        scene.ground_mm((x - frame.left) * scene.inside.depth_mm / (frame.right - frame.left))
        for x in (left, left + wide)
    ]
    low, rise = frame.y(min(ends)), frame.pt(ends[1] - ends[0])
    tall = frame.pt(min(part.height_mm, scene.inside.height_mm - min(ends)))
    if part.role == "hide":
        draw = partial(things.hide, pen, (left, low), wide, tall, damp=part.form == "damp")
        return Figure("hide", (left + wide * 0.62, low + tall * 0.8), part.number, draw, play=tall * 0.1)
    if part.role == "water_dish":
        draw = partial(things.dish, pen, (left, low), wide, tall)
        return Figure("water_dish", (left + wide * 0.9, low + tall * 0.5), part.number, draw)
    if part.role == "bark":
        thick = max(2.0, frame.pt(14.0))
        draw = partial(things.slab, pen, (left, frame.y(ends[0])), wide, thick, rise)
        at = left + wide * 0.7, frame.y(ends[0]) + rise * 0.7 + thick * 0.5
        return Figure("bark", at, part.number, draw)
    ground = scene.ground_mm(scene.inside.depth_mm)
    y = frame.y(ground + 0.55 * (scene.inside.height_mm - ground))
    draw = partial(things.ledge, pen, (frame.right, y), wide, max(4.0, tall))
    return Figure("feeding_ledge", (frame.right - wide * 0.5, y), part.number, draw)


def _seats(pen: Pen, scene: Scene, frame: Frame) -> Iterator[Figure]:
    for seat in scene.seats:
        at = frame.at(seat.back_mm, seat.height_mm)
        saying = f"perch {length_text(seat.height_mm, scene.units)}"
        yield Figure("perch", at, draw=partial(things.seat, pen, at), saying=saying)
