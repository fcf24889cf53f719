"""The first page: what is wanted, the section and the views from above to one scale, and the layers."""

from dataclasses import dataclass

from reportlab.graphics import renderPDF
from reportlab.graphics.shapes import STATE_DEFAULTS, Drawing

from inventory.documents import glyphs, table
from inventory.documents.flow import BODY, MARGIN, SMALL, Drawn, Flow
from inventory.documents.pen import HAIR, INK, REGULAR, Pen, Style
from inventory.documents.table import Column, Table
from kits.documents.content import BuildSheet, LayerRow
from kits.drawings.floor import floor
from kits.drawings.measures import POINTS_PER_MM, SCALES
from kits.drawings.scene import Scene
from kits.drawings.section import section
from kits.drawings.top import top

STATE_DEFAULTS["fontName"] = REGULAR  # A drawing otherwise begins in Helvetica, which no page embeds.

STRIP = 42.0
STRIP_TYPE = Style(8)
CAPTION, GAP, AIR = 12.0, 18.0, 2.0
AROUND, AROUND_VIEW, BESIDE = 90.0, 60.0, 90.0  # points that dimensions and scale bars take around a box
LEAST_NOTES = 330.0  # points of height that the callouts beside a section may take
HEADING_ROOM = 28.0
LAYERS = Table(
    (
        Column("layer", 60, bold=True),
        Column("depth", 118),
        Column("in place", 98),
        Column("to pour", 98),
        Column("bags"),
    )
)


def draw(flow: Flow, sheet: BuildSheet, scene: Scene, *, spare: float = 0.0) -> str:
    """Lay out the first page, leaving so many points where it can; returns the scale of its drawings."""
    _strip(flow, sheet)
    layers = _layers_height(flow, sheet.layers)
    space = flow.y - flow.floor - layers
    views = _views(scene, flow.width, space - spare)
    if spare and not views.fit(flow.width, space - spare):
        views, spare = _views(scene, flow.width, space), 0.0
    space -= spare
    _place_all(flow, views, space)
    _layers(flow, sheet.layers, layers + spare)
    return f"1 : {views.scale:g}"


@dataclass(frozen=True, slots=True)
class _Views:
    """Section and both views from above, all to one scale."""

    scale: float
    section: Drawing
    floor: Drawing
    top: Drawing

    @property
    def height(self) -> float:
        """The section with the two views side by side below it."""
        return float(self.section.height + max(self.floor.height, self.top.height) + 2 * CAPTION + AIR)

    def fit(self, width: float, height: float) -> bool:
        """Whether they do on the page."""
        below = self.floor.width + self.top.width + GAP
        return self.height <= height and below <= width and self.section.width <= width


def _views(scene: Scene, width: float, height: float) -> _Views:
    """The views at the largest scale that the page has room for."""
    for n in (n for n in SCALES[:-1] if _may_fit(scene, n, width, height)):
        side = _section(scene, n, width)
        if side.height + _view_height(scene, n) + 2 * CAPTION + AIR > height:
            continue
        views = _with_views_from_above(scene, n, side, width)
        if views.fit(width, height):
            return views
    n = SCALES[-1]
    return _with_views_from_above(scene, n, _section(scene, n, width), width)


def _may_fit(scene: Scene, n: float, width: float, height: float) -> bool:
    """A first guess without drawing anything: what the box itself takes."""
    inside, point = scene.inside, POINTS_PER_MM / n
    tall = inside.height_mm * point + AROUND + _view_height(scene, n)
    return tall <= height and (2 * inside.width_mm) * point + BESIDE <= width


def _view_height(scene: Scene, n: float) -> float:
    """What a view from above takes at least."""
    return scene.inside.depth_mm * POINTS_PER_MM / n + AROUND_VIEW


def _section(scene: Scene, n: float, width: float) -> Drawing:
    return section(scene, width=width, height=LEAST_NOTES, scale=n)


def _with_views_from_above(scene: Scene, n: float, side: Drawing, width: float) -> _Views:
    below = floor(scene, width=width, height=LEAST_NOTES, scale=n)
    above = top(scene, width=width, height=LEAST_NOTES, scale=n)
    return _Views(n, side, below, above)


def _place_all(flow: Flow, views: _Views, space: float) -> None:
    spare = max(0.0, space - views.height) / 3
    y = flow.y - spare / 2
    _place(flow, views.section, "Section from the side, front on the left", (flow.left, y))
    y -= views.section.height + CAPTION + AIR + spare
    _place(flow, views.floor, "Floor from above, front below", (flow.left, y))
    right = flow.right - max(views.top.width, (flow.width - GAP) / 2)
    _place(flow, views.top, "Top from above, front below", (right, y))


def _strip(flow: Flow, sheet: BuildSheet) -> None:
    """What was wanted, in cells across the top of the page."""
    rim, bottom = flow.size[1] - MARGIN, flow.size[1] - MARGIN - STRIP
    facts = sheet.wanted[:4]
    width = (flow.size[0] - 2 * MARGIN) / len(facts)
    for number, fact in enumerate(facts):
        left = MARGIN + number * width
        flow.text(left + 7, rim - 11, fact.name, SMALL)
        lines = glyphs.at_most(2, fact.value, within=width - 12, size=STRIP_TYPE.size)
        for index, line in enumerate(lines):
            flow.text(left + 7, rim - 21.5 - index * 9.6, line, STRIP_TYPE)
        if number:
            flow.draw(_line((left, bottom), (left, rim)))
    flow.draw(lambda pen: pen.rule(MARGIN, bottom, (flow.size[0] - MARGIN, bottom), width=1.0, ink=INK))
    flow.y = bottom - 8


def _line(start: tuple[float, float], end: tuple[float, float]) -> Drawn:
    return lambda pen: pen.rule(*start, end, width=0.4, ink=HAIR)


def _place(flow: Flow, drawing: Drawing, caption: str, corner: tuple[float, float]) -> None:
    """A drawing with its caption above it; `corner` is the upper left one."""
    x, y = corner

    def render(pen: Pen) -> None:
        renderPDF.draw(drawing, pen.canvas, x, y - CAPTION - drawing.height)

    flow.text(x, y - 8, caption, Style(BODY.size, bold=True))
    flow.draw(render)


def _layer_rows(layers: tuple[LayerRow, ...]) -> list[table.Row]:
    return [(row.name, row.depth, row.in_place, row.to_pour, "\n".join(row.bags)) for row in layers]


def _layers_height(flow: Flow, layers: tuple[LayerRow, ...]) -> float:
    return HEADING_ROOM + table.height(flow, LAYERS, _layer_rows(layers)) if layers else 0.0


def _layers(flow: Flow, layers: tuple[LayerRow, ...], height: float) -> None:
    flow.y = flow.floor + height
    if not layers:
        return
    flow.heading("Layers, from the floor up", note="in place before hardscape; poured with settling", keep=0)
    table.draw(flow, LAYERS, _layer_rows(layers))
