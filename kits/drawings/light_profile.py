"""Light for plants by height: what reaches the ground, the middle and the top, against what plants want."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Protocol

from reportlab.graphics.shapes import Drawing, Shape

from inventory.calc.checks import finite
from inventory.calc.errors import Impossible
from kits.drawings import axes
from kits.drawings.axes import Panel, Span, figure, plain, round_step, ticks
from kits.drawings.labels import Point, spread
from kits.drawings.layout import MARGIN
from kits.drawings.legend import DASHED, SOLID, Entry, draw_legend, haloed, height_of
from kits.drawings.measures import length_text
from kits.drawings.patterns import Area, filled, pieces, thinned
from kits.drawings.pen import CAP_SHARE, FINE, HAIR, SMALL_SIZE, TEXT_SIZE, Marked, Pen, width_of
from kits.drawings.scene import Scene
from kits.drawings.theme import PAPER, Theme

HEADING = "daily light, mol/m² a day"
STRIPS = "daily light that plants want, by class"
MIDDLE, EDGE = "in the middle of the box", "at its edge"
CLASS_PATTERNS = ("thick dots", "levels", "falling", "checks", "uprights", "thin dots")
HEAD, AXIS, UPPER_AXIS = 18.0, 22.0, 14.0
BAR, BAR_PITCH, STRIPS_HEAD = 8.0, 12.5, 8.0
LEAST_WIDTH, LEAST_PANEL = 240.0, 80.0
BEYOND = 1.6  # of the highest wish, where the axis ends at the latest
PITCH = 10.5
SECONDS_AN_HOUR, MICRO = 3600.0, 1e6


class ByHeight(Protocol):
    """Daily light by height above the floor, in the middle of the box and at its edge [mol/m2/d]."""

    @property
    def heights_mm(self) -> Sequence[float]:
        """Heights, ascending."""

    @property
    def middle(self) -> Sequence[float]:
        """Light in the middle at each height."""

    @property
    def edge(self) -> Sequence[float]:
        """Light at the edge at each height."""


@dataclass(frozen=True, slots=True)
class PlantClass:
    """A class of plants with the daily light that it wants, in mol/m2/d."""

    name: str
    least: float
    most: float


def light_profile(
    scene: Scene,
    profile: ByHeight,
    classes: Sequence[PlantClass] = (),
    *,
    width: float = 480.0,
    height: float = 330.0,
    hours: float | None = None,
    theme: Theme = PAPER,
) -> Drawing:
    """Height against daily light, with a patterned strip for each class of plants below the same axis.

    `hours` of light a day add the photon flux as a second axis. Light far above all classes leaves the panel
    at its right side. The drawing is as wide as asked for, at least 240 points, and grows in height where the
    strips need it. Raises Impossible where the profile has fewer than two heights or is not finite.
    """
    _check(profile, hours)
    pen, wide = Pen(theme), max(width, LEAST_WIDTH)
    sheet = _lay_out(scene, profile, classes, (wide, height), hours)
    drawing = Drawing(wide, sheet.height)
    for shape in _contents(pen, scene, profile, classes, sheet, hours):
        drawing.add(shape)
    return drawing


def _check(profile: ByHeight, hours: float | None) -> None:
    axis = profile.heights_mm
    if len(axis) < 2 or not all(a < b for a, b in pairwise(axis)):
        raise Impossible("heights_mm", "must ascend over at least two heights")
    for name in ("middle", "edge"):
        values = getattr(profile, name)
        if len(values) != len(axis):
            raise Impossible(name, "must have a value for each height")
        finite(**{f"{name}_{number}": value for number, value in enumerate(values)})
    if hours is not None and not 0 < hours <= 24:
        raise Impossible("hours", "must be above 0 and at most 24")


@dataclass(frozen=True, slots=True)
class _Sheet:
    panel: Panel
    height: float
    step: float
    key: tuple[Entry, ...]


def _lay_out(
    scene: Scene, profile: ByHeight, classes: Sequence[PlantClass], size: tuple[float, float],
    hours: float | None,
) -> _Sheet:  # fmt: skip
    span, step = _light_span(profile, classes)
    up = Span(0.0, max(scene.inside.height_mm, profile.heights_mm[-1]))
    key = Entry(MIDDLE, stroke=SOLID), Entry(EDGE, stroke=DASHED)
    left = MARGIN + max(axes.widest([one.name for one in classes]), 40.0) + 6.0
    right = MARGIN + axes.widest([words for _, words in _stops(scene, profile)]) + 8.0
    low = MARGIN + BAR_PITCH * len(classes) + AXIS + (STRIPS_HEAD if classes else 0.0)
    head = HEAD + height_of(key, size[0] - 2 * MARGIN) + (UPPER_AXIS if hours else 4.0) + MARGIN
    tall = max(size[1] - low - head, LEAST_PANEL)
    panel = Panel(left, low, size[0] - left - right, tall, span, up)
    return _Sheet(panel, low + tall + head, step, key)


def _light_span(profile: ByHeight, classes: Sequence[PlantClass]) -> tuple[Span, float]:
    brightest = max(*profile.middle, *profile.edge, 1.0)
    wished = max((one.most for one in classes), default=brightest)
    step = round_step(min(max(brightest, wished), BEYOND * wished), 6)
    return Span(0.0, step * -(-min(max(brightest, wished), BEYOND * wished) // step)), step


def _stops(scene: Scene, profile: ByHeight) -> list[tuple[float, str]]:
    """Ground, middle and top of the profile with what arrives there."""
    heights = profile.heights_mm
    low, high = heights[0], heights[-1]
    named = (("ground", low), ("halfway", (low + high) / 2), ("top", high))
    light = [(_at(profile, at, profile.middle), _at(profile, at, profile.edge)) for _, at in named]
    return [
        (at, f"{name} {figure(middle)}, edge {figure(edge)}")
        for (name, at), (middle, edge) in zip(named, light, strict=True)
    ]


def _at(profile: ByHeight, height_mm: float, values: Sequence[float]) -> float:
    for (a, b), (x, y) in zip(pairwise(profile.heights_mm), pairwise(values), strict=True):
        if a <= height_mm <= b:
            return x + (y - x) * (height_mm - a) / (b - a)
    return values[-1]


def _contents(
    pen: Pen, scene: Scene, profile: ByHeight, classes: Sequence[PlantClass], sheet: _Sheet,
    hours: float | None,
) -> Iterator[Shape]:  # fmt: skip
    panel = sheet.panel
    across = ticks(panel.across, sheet.step)
    yield from axes.grid_of(pen, panel, across, ())
    yield from _ground(pen, scene, panel)
    yield from _curves(pen, profile, panel)
    yield from axes.frame_of(pen, panel)
    yield from axes.words_below(pen, panel, [(value, plain(value)) for value in across])
    yield from _heights(pen, scene, panel)
    yield from _stop_lines(pen, scene, profile, panel)
    yield from _strips(pen, classes, panel, across)
    if hours:
        yield from _flux(pen, panel, hours)
    yield from _head(pen, sheet)


def _head(pen: Pen, sheet: _Sheet) -> list[Shape]:
    top, right = sheet.height - MARGIN, sheet.panel.right
    wide = max(right - MARGIN, 200.0)
    return [
        pen.text((MARGIN, top - 8.4 * CAP_SHARE), HEADING, size=8.4, bold=True),
        *draw_legend(pen, sheet.key, (MARGIN, top - 12.0), wide),
    ]


def _ground(pen: Pen, scene: Scene, panel: Panel) -> list[Shape]:
    """Soil up to the middle of the ground, as tone and line."""
    ground = scene.ground_mm(scene.inside.depth_mm / 2)
    if ground <= 0:
        return []
    top = panel.y(ground)
    soil = pen.rect((panel.left, panel.low), (panel.width, top - panel.low), fill="soil", ink="")
    return [soil, pen.line((panel.left, top), (panel.right, top), ink="soil_mark", width=FINE)]


def _curves(pen: Pen, profile: ByHeight, panel: Panel) -> Iterator[Shape]:
    for name, values, stroke in (("edge", profile.edge, DASHED), ("middle", profile.middle, SOLID)):
        for run in _runs(profile.heights_mm, values, panel):
            yield Marked(*haloed(pen, thinned(run), stroke), marks={"class": f"curve {name}"})


def _runs(heights: Sequence[float], values: Sequence[float], panel: Panel) -> list[list[Point]]:
    """A curve without what lies beyond the right side."""
    per_unit = panel.width / (panel.across.high - panel.across.low)
    points = [(panel.left + value * per_unit, panel.y(at)) for at, value in zip(heights, values, strict=True)]
    return pieces(points, lambda point: point[0] <= panel.right + 1e-6)


def _heights(pen: Pen, scene: Scene, panel: Panel) -> Iterator[Shape]:
    """Floor and rim at the left side."""
    half = panel.low + panel.height / 2
    words = length_text(scene.inside.height_mm, scene.units)
    fits = width_of(words) <= panel.height
    x = panel.left - 5.0
    if fits:
        yield pen.upright((x - 9.0, half), words)
    low, high = panel.at(0, 0)[1], panel.y(scene.inside.height_mm)
    yield pen.line((x, low), (x, high), ink="hair", width=FINE)
    yield pen.strokes([[(x - 2, y - 2), (x + 2, y + 2)] for y in (low, high)], ink="ink", width=FINE)


def _stop_lines(pen: Pen, scene: Scene, profile: ByHeight, panel: Panel) -> Iterator[Shape]:
    """Hairlines at ground, middle and top, dots where they meet the curves, and the figures beside them."""
    stops = _stops(scene, profile)
    ys = spread([panel.y(at) for at, _ in stops], PITCH, panel.low + 4, panel.high - 4)
    for (at, words), y in zip(stops, ys, strict=True):
        line = panel.y(at)
        yield pen.line((panel.left, line), (panel.right, line), ink="hair", width=HAIR, dash=(2, 2))
        yield pen.line((panel.right, line), (panel.right + 5, y), ink="hair", width=HAIR)
        yield pen.text((panel.right + 7, y - TEXT_SIZE * CAP_SHARE / 2), words)
        for values in (profile.middle, profile.edge):
            light = _at(profile, at, values)
            if light <= panel.across.high:
                yield pen.circle(panel.at(light, at), 1.9, fill="paper", width=FINE)


def _strips(
    pen: Pen, classes: Sequence[PlantClass], panel: Panel, across: Sequence[float]
) -> Iterator[Shape]:
    """One bar for each class of plants below the axis, from its least to its most light."""
    if not classes:
        return
    top = panel.low - AXIS
    yield pen.text((panel.left, top - 4.5), STRIPS, size=SMALL_SIZE, ink="quiet")
    foot = top - BAR_PITCH * len(classes) - STRIPS_HEAD
    yield pen.strokes(
        [[(panel.x(v), top - 8), (panel.x(v), foot)] for v in across], ink="drainage", width=HAIR
    )
    for number, one in enumerate(classes):
        y = top - STRIPS_HEAD - BAR_PITCH * (number + 1)
        left, right = panel.x(one.least), panel.x(one.most)
        area = Area(left, y, right, y + BAR)
        pattern = CLASS_PATTERNS[number % len(CLASS_PATTERNS)]
        yield pen.line((panel.left, y + BAR / 2), (panel.right, y + BAR / 2), ink="drainage", width=HAIR)
        yield pen.rect((left, y), (right - left, BAR), fill="paper", ink="")
        yield from (Marked(s, marks={"class": f"strip {one.name}"}) for s in filled(pen, pattern, area))
        yield pen.rect((left, y), (right - left, BAR), width=FINE)
        yield pen.text((panel.left - 5, y + BAR / 2 - TEXT_SIZE * CAP_SHARE / 2), one.name, anchor="end")


def _flux(pen: Pen, panel: Panel, hours: float) -> Iterator[Shape]:
    """The photon flux that gives this daily light in so many hours, along the upper side."""
    per_mol = MICRO / (SECONDS_AN_HOUR * hours)
    span = Span(panel.across.low * per_mol, panel.across.high * per_mol)
    step = round_step(span.high, 6)
    for value in ticks(span, step):
        x = panel.x(value / per_mol)
        yield pen.line((x, panel.high), (x, panel.high + 3), width=HAIR)
        yield pen.text((x, panel.high + 5), plain(value), anchor="middle", size=SMALL_SIZE, ink="quiet")
    words = f"µmol/m²s in {plain(hours)} h"
    yield pen.text((panel.right + 10, panel.high + 5), words, size=SMALL_SIZE, ink="quiet")
