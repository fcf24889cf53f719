"""The few marks that all drawings are made of: lines, areas, words and callouts in the inks of a theme."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from reportlab.graphics.shapes import Circle, Group, Line, Path, Polygon, Rect, Shape, String

from inventory.documents.typeface import SANS, SANS_BOLD, register, text_width
from kits.drawings.labels import Point
from kits.drawings.theme import Theme, colour

HAIR, FINE, PLAIN, HEAVY = 0.35, 0.5, 0.8, 1.4
TEXT_SIZE, SMALL_SIZE = 7.2, 6.4
CALLOUT_RADIUS = 5.6
CAP_SHARE = 0.73  # height of a DejaVu capital over the type size


class Marked(Group):
    """A group that carries attributes for a page: data-part, data-callout, data-depth, class."""

    def __init__(self, *elements: Shape, marks: Mapping[str, str]) -> None:
        super().__init__(*elements)
        self._marks = dict(marks)

    @property
    def marks(self) -> Mapping[str, str]:
        """Names and values of the attributes."""
        return self._marks


@dataclass(frozen=True, slots=True)
class Pen:
    """Makes shapes in the inks of one theme; an ink is named by its field in the theme."""

    theme: Theme

    def _ink(self, name: str) -> object:
        return colour(getattr(self.theme, name)) if name else None

    def line(
        self, start: Point, end: Point, *, ink: str = "ink", width: float = FINE, dash: Sequence[float] = ()
    ) -> Line:
        """A straight line."""
        return Line(
            *start, *end, strokeColor=self._ink(ink), strokeWidth=width, strokeDashArray=list(dash) or None,
            strokeLineCap=0,
        )  # fmt: skip

    def rect(
        self, corner: Point, size: Point, *, fill: str = "", ink: str = "ink", width: float = FINE
    ) -> Rect:
        """An upright rectangle."""
        return Rect(
            *corner,
            *size,
            fillColor=self._ink(fill),
            strokeColor=self._ink(ink),
            strokeWidth=width if ink else 0,
        )

    def cut(self, corner: Point, size: Point) -> Rect:
        """A wall that the drawing cuts through."""
        return self.rect(corner, size, fill="wall", width=HAIR)

    def polygon(
        self, points: Iterable[Point], *, fill: str = "", ink: str = "ink", width: float = FINE
    ) -> Polygon:
        """A closed outline."""
        flat = [value for point in points for value in point]
        return Polygon(
            flat, fillColor=self._ink(fill), strokeColor=self._ink(ink), strokeWidth=width if ink else 0,
            strokeLineJoin=1,
        )  # fmt: skip

    def circle(
        self, centre: Point, radius: float, *, fill: str = "", ink: str = "ink", width: float = FINE
    ) -> Circle:
        """A circle."""
        return Circle(
            *centre,
            radius,
            fillColor=self._ink(fill),
            strokeColor=self._ink(ink),
            strokeWidth=width if ink else 0,
        )

    def path(
        self, *, fill: str = "", ink: str = "ink", width: float = FINE, dash: Sequence[float] = ()
    ) -> Path:
        """An empty path with round ends and corners."""
        return Path(
            fillColor=self._ink(fill), strokeColor=self._ink(ink), strokeWidth=width if ink else 0,
            strokeLineCap=1, strokeLineJoin=1, strokeDashArray=list(dash) or None,
        )  # fmt: skip

    def strokes(self, runs: Iterable[Sequence[Point]], *, ink: str, width: float) -> Path:
        """Many open lines as one path."""
        path = self.path(ink=ink, width=width)
        for run in runs:
            path.moveTo(*run[0])
            for point in run[1:]:
                path.lineTo(*point)
        return path

    def text(
        self, at: Point, words: str, *, anchor: str = "start", size: float = TEXT_SIZE, ink: str = "ink",
        bold: bool = False,
    ) -> String:  # fmt: skip
        """One line of text on its base line."""
        register()
        return String(
            *at, words, fontName=SANS_BOLD if bold else SANS, fontSize=size, fillColor=self._ink(ink),
            textAnchor=anchor,
        )  # fmt: skip

    def upright(self, at: Point, words: str, *, size: float = TEXT_SIZE, ink: str = "ink") -> Group:
        """Text that reads upwards, centred on a point at its base line."""
        group = Group(self.text((0, 0), words, anchor="middle", size=size, ink=ink))
        group.translate(*at)
        group.rotate(90)
        return group

    def callout(self, centre: Point, number: int, *, radius: float = CALLOUT_RADIUS) -> Marked:
        """A number in a circle."""
        size = TEXT_SIZE * radius / CALLOUT_RADIUS * (1.0 if number < 100 else 0.8)
        x, y = centre
        return Marked(
            self.circle(centre, radius, fill="paper", ink="ink", width=FINE),
            self.text((x, y - size * CAP_SHARE / 2), str(number), anchor="middle", size=size),
            marks={"data-callout": str(number), "class": "callout"},
        )


def width_of(words: str, size: float = TEXT_SIZE, *, bold: bool = False) -> float:
    """Width of a line of text in points."""
    return text_width(words, size, SANS_BOLD if bold else SANS)
