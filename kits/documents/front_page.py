"""The first page: what is wanted, the section and the views from above to one scale, and the layers."""

from collections.abc import Iterator
from dataclasses import dataclass

from inventory.documents import glyphs, table
from inventory.documents.flow import MARGIN, SMALL, Drawn, Flow
from inventory.documents.pen import HAIR, INK, Pen, Style
from inventory.documents.table import Column, Table
from kits.documents.content import BuildSheet, Fact, LayerRow
from kits.drawings import floor, layout, on_paper, plan_view, section, top
from kits.drawings.laid_out import LaidOut
from kits.drawings.measures import POINTS_PER_MM, SCALES
from kits.drawings.scene import Scene

STRIP, STRIP_LINE, BELOW_STRIP = 23.0, 9.6, 8.0  # points above, of and below the lines of the strip
CELL_PAD, LEAST_CELL = 12.0, 0.15
STRIP_TYPE, BOLD = Style(8), Style(8.5, bold=True)
CAPTION, GAP, AIR = 12.0, 18.0, 2.0
AROUND, AROUND_VIEW, BESIDE = 90.0, 60.0, 90.0  # points that dimensions and scale bars take around a box
LEAST_NOTES = 330.0  # points of height that the callouts beside a section may take
TITLE_ROOM = 19.5  # points that the heading of the layers is higher than its type
LEAST_PARTS = 100.0  # points below the layers in which the list of parts may begin
APART = 6.0
LAYERS = Table(
    (
        Column("layer", 58, bold=True),
        Column("depth", 112),
        Column("in place", 98),
        Column("to pour", 98),
        Column("bags"),
    )
)


@dataclass(frozen=True, slots=True)
class Views:
    """Section and both views from above, all to one scale, and none of them drawn yet."""

    scale: float
    section: LaidOut
    floor: LaidOut
    top: LaidOut

    @property
    def told(self) -> str:
        """The scale in words."""
        return f"1 : {self.scale:g}"

    @property
    def height(self) -> float:
        """The section with the two views side by side below it."""
        return float(self.section.height + max(self.floor.height, self.top.height) + 2 * CAPTION + AIR)

    def fit(self, width: float, height: float) -> bool:
        """Whether they do on the page."""
        below = self.floor.width + self.top.width + GAP
        return self.height <= height and below <= width and self.section.width <= width


def draw(flow: Flow, sheet: BuildSheet, views: Views) -> None:
    """Lay out the first page; what it has left is for parts where they can begin in it, and air where not."""
    left = _room(flow, sheet) - views.height
    _strip(flow, _cells(flow, sheet.wanted))
    _place_all(flow, views, 3 * APART if left >= LEAST_PARTS else max(0.0, left))
    _layers(flow, sheet.layers)


def _room(flow: Flow, sheet: BuildSheet) -> float:
    """Height between strip and layers."""
    strip = _strip_height(_cells(flow, sheet.wanted)) + BELOW_STRIP
    return flow.size[1] - MARGIN - strip - flow.floor - _layers_height(flow, sheet.layers)


def fitting(flow: Flow, sheet: BuildSheet, scene: Scene) -> Iterator[Views]:
    """The views at each scale that the page has room for, the largest first; at least at the smallest one."""
    width, height = flow.width, _room(flow, sheet)
    for n in (n for n in SCALES[:-1] if _may_fit(scene, n, width, height)):
        views = _views(scene, n, width)
        if views.fit(width, height):
            yield views
    yield _views(scene, SCALES[-1], width)


def _may_fit(scene: Scene, n: float, width: float, height: float) -> bool:
    """A first guess without laying out anything: what the box itself takes."""
    inside, point = scene.inside, POINTS_PER_MM / n
    tall = (inside.height_mm + inside.depth_mm) * point + AROUND + AROUND_VIEW
    return tall <= height and (2 * inside.width_mm) * point + BESIDE <= width


def _views(scene: Scene, n: float, width: float) -> Views:
    side = section.laid_out(scene, layout.Wish(width, LEAST_NOTES, n, words=True))
    wish = plan_view.Wish(width, LEAST_NOTES, n)
    return Views(n, side, floor.laid_out(scene, wish), top.laid_out(scene, wish))


def _place_all(flow: Flow, views: Views, air: float) -> None:
    """The section above the two other views, with so much air above, between and below."""
    spare = air / 3
    y = flow.y - spare / 2
    _place(flow, views.section, "Section from the side, front on the left", (flow.left, y))
    y -= views.section.height + CAPTION + AIR + spare
    _place(flow, views.floor, "Floor from above, front below", (flow.left, y))
    right = flow.right - max(views.top.width, (flow.width - GAP) / 2)
    _place(flow, views.top, "Top from above, front below", (right, y))
    flow.y -= views.height + air


@dataclass(frozen=True, slots=True)
class _Cell:
    """One thing that was wanted, in its place of the strip."""

    name: str
    lines: list[str]
    left: float


def _cells(flow: Flow, wanted: tuple[Fact, ...]) -> list[_Cell]:
    """What was wanted side by side, more room for what has more words."""
    whole = flow.size[0] - 2 * MARGIN
    words = [glyphs.width(fact.value, size=STRIP_TYPE.size) for fact in wanted]
    shares = [max(LEAST_CELL, width / (sum(words) or 1.0)) for width in words]
    cells, left = [], MARGIN
    for fact, share in zip(wanted, shares, strict=True):
        width = whole * share / sum(shares)
        lines = glyphs.at_most(3, fact.value, within=width - CELL_PAD, size=STRIP_TYPE.size)
        cells.append(_Cell(fact.name, lines, left))
        left += width
    return cells


def _strip_height(cells: list[_Cell]) -> float:
    return STRIP + STRIP_LINE * max(len(cell.lines) for cell in cells)


def _strip(flow: Flow, cells: list[_Cell]) -> None:
    """What was wanted, in cells across the top of the page."""
    rim, bottom = flow.size[1] - MARGIN, flow.size[1] - MARGIN - _strip_height(cells)
    for cell in cells:
        flow.text(cell.left + 7, rim - 11, cell.name, SMALL)
        for index, line in enumerate(cell.lines):
            flow.text(cell.left + 7, rim - 21.5 - index * STRIP_LINE, line, STRIP_TYPE)
        if cell is not cells[0]:
            flow.draw(_line((cell.left, bottom), (cell.left, rim)))
    flow.draw(lambda pen: pen.rule(MARGIN, bottom, (flow.size[0] - MARGIN, bottom), width=1.0, ink=INK))
    flow.y = bottom - BELOW_STRIP


def _line(start: tuple[float, float], end: tuple[float, float]) -> Drawn:
    return lambda pen: pen.rule(*start, end, width=0.4, ink=HAIR)


def _place(flow: Flow, laid_out: LaidOut, caption: str, corner: tuple[float, float]) -> None:
    """A drawing with its caption above it; `corner` is the upper left one."""
    x, y = corner

    def render(pen: Pen) -> None:
        on_paper.draw(laid_out.drawn(), pen.canvas, x, y - CAPTION - laid_out.height)

    flow.text(x, y - 8, caption, BOLD)
    flow.draw(render)


def _layer_rows(layers: tuple[LayerRow, ...]) -> list[table.Row]:
    return [(row.name, row.depth, row.in_place, row.to_pour, "\n".join(row.bags)) for row in layers]


def _layers_height(flow: Flow, layers: tuple[LayerRow, ...]) -> float:
    rows = _layer_rows(layers)
    return flow.type_pt + TITLE_ROOM + table.height(flow, LAYERS, rows) if layers else 0.0


def _layers(flow: Flow, layers: tuple[LayerRow, ...]) -> None:
    if not layers:
        return
    flow.heading("Layers, from the floor up", note="in place before hardscape; poured with settling", keep=0)
    table.draw(flow, LAYERS, _layer_rows(layers))
