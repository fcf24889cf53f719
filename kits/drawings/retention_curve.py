"""Water and air of a drained soil against the height of the layer, with the bounds and the built depth."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import isfinite

from reportlab.graphics.shapes import Drawing, Shape

from inventory.calc.errors import Impossible
from kits.drawings import axes
from kits.drawings.axes import Panel, Span, plain, round_span, ticks
from kits.drawings.labels import Point, spread
from kits.drawings.layout import MARGIN
from kits.drawings.legend import SOLID, Entry, Stroke, draw_legend, height_of, line_of
from kits.drawings.measures import length_text
from kits.drawings.patterns import Area, filled, thinned
from kits.drawings.pen import CAP_SHARE, FINE, HEAVY, TEXT_SIZE, Marked, Pen, width_of
from kits.drawings.theme import PAPER, Theme
from kits.terms.rounding import rounded

HEADING = "share of the volume, %"
HEADING_SIZE, HEAD, AXIS = 8.4, 18.0, 26.0
LEAST_WIDTH, LEAST_PANEL = 240.0, 110.0
SHARES = (0.0, 20.0, 40.0, 60.0, 80.0, 100.0)
BRACKET, BESIDE = 4.0, 7.0  # ticks of a bracket; from the built depth to a bracket
APART = 6.0  # from a bracket to the figures
PITCH = 10.5
Bounds = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class SoilPicture:
    """Mean water of a drained layer at ascending heights, as shares of its volume in per cent.

    `pore_pct` is all that is not solid. Bounds are those that the mix was chosen by, from least to most.
    Raises Impossible where heights do not ascend or shares do not fit into the pores.
    """

    name: str
    heights_mm: Sequence[float]
    water_pct: Sequence[float]
    pore_pct: float
    built_mm: float
    water_bounds: Bounds | None = None
    air_bounds: Bounds | None = None
    units: str = "metric"

    def __post_init__(self) -> None:
        if len(self.heights_mm) < 2 or not all(a < b for a, b in pairwise(self.heights_mm)):
            raise Impossible("heights_mm", "must ascend over at least two heights")
        if not isfinite(self.built_mm) or self.built_mm <= 0:
            raise Impossible("built_mm", "must be above 0")
        if not 0 < self.pore_pct <= 100:
            raise Impossible("pore_pct", "must be above 0 and at most 100")
        if len(self.water_pct) != len(self.heights_mm):
            raise Impossible("water_pct", "must have a value for each height")
        if not all(0 <= water <= self.pore_pct + 1e-6 for water in self.water_pct):
            raise Impossible("water_pct", "must lie between 0 and the pores")

    @property
    def solid_pct(self) -> float:
        """What is solid."""
        return 100 - self.pore_pct

    def water_at(self, height_mm: float) -> float:
        """Water at a height, linear between the given ones, beyond them as at the nearest."""
        if height_mm <= self.heights_mm[0]:
            return self.water_pct[0]
        for (a, b), (x, y) in zip(pairwise(self.heights_mm), pairwise(self.water_pct), strict=True):
            if height_mm <= b:
                return x + (y - x) * (height_mm - a) / (b - a)
        return self.water_pct[-1]


def retention_curve(
    soil: SoilPicture, *, width: float = 480.0, height: float = 330.0, theme: Theme = PAPER
) -> Drawing:
    """Solids, water and air stacked over the height of the layer, a line at the depth that is built.

    At that line one bracket spans the bounds of water, the other those of air: the mix does where the border
    between water and air passes through both. At least 240 points wide; it grows in height where it must.
    """
    pen, sheet = Pen(theme), _lay_out(soil, max(width, LEAST_WIDTH), height)
    drawing = Drawing(sheet.width, sheet.height)
    for shape in _contents(pen, soil, sheet):
        drawing.add(shape)
    return drawing


@dataclass(frozen=True, slots=True)
class _Sheet:
    width: float
    height: float
    panel: Panel
    step: float
    key: tuple[Entry, ...]
    stops: tuple[tuple[float, str], ...]  # share and words at the built depth


def _lay_out(soil: SoilPicture, width: float, height: float) -> _Sheet:
    across, step = round_span([0.0, soil.heights_mm[-1], soil.built_mm * 1.05], least=20.0)
    key, stops = tuple(_key(soil)), tuple(_stops(soil))
    left, right = MARGIN + 24.0, MARGIN + 10.0
    low = MARGIN + AXIS
    head = MARGIN + HEAD + height_of(key, width - 2 * MARGIN) + 14.0
    tall = max(height - low - head, LEAST_PANEL)
    panel = Panel(left, low, width - left - right, tall, across, Span(0.0, 100.0))
    return _Sheet(width, low + tall + head, panel, step, key, stops)


def _key(soil: SoilPicture) -> Iterator[Entry]:
    yield Entry("air", empty=True)
    yield Entry("water", pattern="levels", tone="water")
    yield Entry("solid", pattern="checks", tone="stone")
    for side, name, bounds in (("left", "water", soil.water_bounds), ("right", "air", soil.air_bounds)):
        if bounds:
            yield Entry(f"{side} bracket: {name} wanted {plain(bounds[0])} to {plain(bounds[1])} %")


def _stops(soil: SoilPicture) -> Iterator[tuple[float, str]]:
    """Middle of each share at the built depth, with its figure."""
    water = soil.water_at(soil.built_mm)
    wet = soil.solid_pct + water
    yield soil.solid_pct / 2, f"solid {rounded(soil.solid_pct)} %"
    yield soil.solid_pct + water / 2, f"water {rounded(water)} %"
    yield (100 + wet) / 2, f"air {rounded(100 - wet)} %"


def _contents(pen: Pen, soil: SoilPicture, sheet: _Sheet) -> Iterator[Shape]:
    panel = sheet.panel
    yield from _stack(pen, soil, panel)
    yield from axes.frame_of(pen, panel)
    yield from axes.words_left(pen, panel, [(share, plain(share)) for share in SHARES])
    heights = ticks(panel.across, sheet.step)
    yield from axes.words_below(pen, panel, [(mm, plain(mm)) for mm in heights])
    middle = panel.left + panel.width / 2
    yield pen.text((middle, MARGIN + 2.0), "height of the soil layer, mm", anchor="middle")
    yield from _built(pen, soil, panel)
    yield from _brackets(pen, soil, panel)
    yield from _figures(pen, soil, sheet)
    yield from _head(pen, soil, sheet)


def _stack(pen: Pen, soil: SoilPicture, panel: Panel) -> Iterator[Shape]:
    """Solids and water as tone and pattern, air left blank, and the border between water and air."""
    heights = [panel.across.low, *(mm for mm in soil.heights_mm if mm > 0), panel.across.high]
    border = thinned([panel.at(mm, soil.solid_pct + soil.water_at(mm)) for mm in heights])
    solid = panel.y(soil.solid_pct)
    wet = [(panel.left, solid), *border, (panel.right, solid)]
    yield pen.polygon(wet, fill="water", ink="")
    yield pen.rect((panel.left, panel.low), (panel.width, solid - panel.low), fill="stone", ink="")
    yield from _marked(filled(pen, "checks", Area(panel.left, panel.low, panel.right, solid)), "solid")

    def holds(point: Point) -> bool:
        mm = panel.across.low + (point[0] - panel.left) / panel.width * (panel.across.high - panel.across.low)
        return point[1] <= panel.y(soil.solid_pct + soil.water_at(mm))

    yield from _marked(
        filled(pen, "levels", Area(panel.left, solid, panel.right, panel.high, holds)), "water"
    )
    yield pen.line((panel.left, solid), (panel.right, solid), width=FINE)
    yield Marked(line_of(pen, border, SOLID), marks={"class": "curve border"})


def _marked(shapes: Sequence[Shape], name: str) -> Iterator[Shape]:
    return (Marked(shape, marks={"class": f"share {name}"}) for shape in shapes)


def _built(pen: Pen, soil: SoilPicture, panel: Panel) -> list[Shape]:
    """The line at the built depth with its words above the panel."""
    x, words = panel.x(soil.built_mm), f"built {length_text(soil.built_mm, soil.units)}"
    half = width_of(words, bold=True) / 2
    at = min(max(x, panel.left + half), panel.right - half)
    return [
        pen.line((x, panel.low), (x, panel.high + 4.0), ink="paper", width=HEAVY + 2.4),
        pen.line((x, panel.low), (x, panel.high + 4.0), width=HEAVY),
        pen.text((at, panel.high + 6.0), words, anchor="middle", bold=True),
    ]


def _brackets(pen: Pen, soil: SoilPicture, panel: Panel) -> Iterator[Shape]:
    """Where the border between water and air may lie: by the water at the left, by the air at the right."""
    x = panel.x(soil.built_mm)
    if soil.water_bounds:
        low, high = (min(100.0, soil.solid_pct + bound) for bound in soil.water_bounds)
        yield _bracket(pen, panel, max(x - BESIDE, panel.left + 2.0), (low, high), 1)
    if soil.air_bounds:
        high, low = (100.0 - bound for bound in soil.air_bounds)
        yield _bracket(pen, panel, min(x + BESIDE, panel.right - 2.0), (low, high), -1)


def _bracket(pen: Pen, panel: Panel, x: float, shares: Bounds, towards: int) -> Shape:
    low, high = (panel.y(share) for share in shares)
    tip = x + towards * BRACKET
    points = [(tip, low), (x, low), (x, high), (tip, high)]
    halo = line_of(pen, points, Stroke("paper", 4.2))
    name = "water" if towards > 0 else "air"
    return Marked(halo, line_of(pen, points, Stroke("ink", 1.8)), marks={"class": f"bound {name}"})


def _figures(pen: Pen, soil: SoilPicture, sheet: _Sheet) -> Iterator[Shape]:
    """What is solid, water and air at the built depth, on paper beside its line."""
    panel, widest = sheet.panel, max(width_of(words, bold=True) for _, words in sheet.stops)
    x = panel.x(soil.built_mm) + BESIDE + APART
    if x + widest + APART > panel.right:
        x = panel.x(soil.built_mm) - BESIDE - APART - widest
    wanted = [panel.y(share) for share, _ in sheet.stops]
    for (_, words), y in zip(sheet.stops, spread(wanted, PITCH, panel.low + 7, panel.high - 7), strict=True):
        low = y - TEXT_SIZE * CAP_SHARE / 2
        size = width_of(words, bold=True) + 5.0, TEXT_SIZE + 2.6
        yield pen.rect((x - 2.5, low - 2.4), size, fill="paper", ink="")
        yield pen.text((x, low), words, bold=True)


def _head(pen: Pen, soil: SoilPicture, sheet: _Sheet) -> list[Shape]:
    top = sheet.height - MARGIN
    heading = f"{soil.name}: {HEADING}" if soil.name else HEADING
    fits = width_of(heading, HEADING_SIZE, bold=True) <= sheet.width - 2 * MARGIN
    shown = heading if fits else HEADING
    return [
        pen.text((MARGIN, top - HEADING_SIZE * CAP_SHARE), shown, size=HEADING_SIZE, bold=True),
        *draw_legend(pen, sheet.key, (MARGIN, top - 12.0), sheet.width - 2 * MARGIN),
    ]
