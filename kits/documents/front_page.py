"""The first page: what is wanted, the section and the views from above to one scale, and the layers."""

from reportlab.graphics import renderPDF
from reportlab.graphics.shapes import Drawing

from inventory.documents import glyphs, table
from inventory.documents.flow import BODY, MARGIN, SMALL, Drawn, Flow
from inventory.documents.pen import HAIR, INK, Pen, Style
from inventory.documents.table import Column, Table
from kits.documents.content import BuildSheet, LayerRow
from kits.drawings.measures import POINTS_PER_MM, SCALES
from kits.drawings.scene import Scene
from kits.drawings.section import section

STRIP = 40.0
ROOF_MM = 90.0
AROUND_SECTION, AROUND_VIEW = 74.0, 56.0
BESIDE_VIEW = 62.0
HEADING_ROOM = 28.0
LAYERS = Table(
    (
        Column("layer", 64, bold=True),
        Column("depth", 136),
        Column("in place", 86),
        Column("to pour", 86),
        Column("bags"),
    )
)


def draw(flow: Flow, sheet: BuildSheet, scene: Scene) -> str:
    """Lay out the first page; returns the scale of its drawings as on a title block."""
    _strip(flow, sheet)
    layers = _layers_height(flow, sheet.layers)
    space = flow.y - flow.floor - layers
    n = _scale(scene, flow.width, space)
    top = flow.y
    _section(flow, scene, n, top)
    _layers(flow, sheet.layers, layers)
    return f"1 : {n:g}"


def _scale(scene: Scene, width: float, height: float) -> float:
    """The largest scale at which section and views stand one above the other."""
    inside = scene.inside

    def fits(n: float) -> bool:
        def pt(mm: float) -> float:
            return mm * POINTS_PER_MM / n

        tall = pt(inside.height_mm + ROOF_MM) + AROUND_SECTION + pt(inside.depth_mm) + AROUND_VIEW
        wide = max(2 * (pt(inside.width_mm) + BESIDE_VIEW), pt(inside.depth_mm) + 230)
        return tall <= height and wide <= width

    return next((n for n in SCALES if fits(n)), SCALES[-1])


def _strip(flow: Flow, sheet: BuildSheet) -> None:
    """What was wanted, in cells across the top of the page."""
    top, bottom = flow.size[1] - MARGIN, flow.size[1] - MARGIN - STRIP
    facts = sheet.wanted[:4]
    width = (flow.size[0] - 2 * MARGIN) / len(facts)
    for number, fact in enumerate(facts):
        left = MARGIN + number * width
        flow.text(left + 7, top - 11, fact.name, SMALL)
        lines = glyphs.at_most(2, fact.value, within=width - 12, size=BODY.size - 0.4)
        for index, line in enumerate(lines):
            flow.text(left + 7, top - 21.5 - index * 9.4, line, Style(BODY.size - 0.4))
        if number:
            flow.draw(_line((left, bottom), (left, top)))
    flow.draw(lambda pen: pen.rule(MARGIN, bottom, (flow.size[0] - MARGIN, bottom), width=1.0, ink=INK))
    flow.y = bottom - 8


def _line(start: tuple[float, float], end: tuple[float, float]) -> Drawn:
    return lambda pen: pen.rule(*start, end, width=0.4, ink=HAIR)


def _section(flow: Flow, scene: Scene, n: float, top: float) -> None:
    drawing = section(scene, width=flow.width, height=flow.size[1], scale=n)
    _place(flow, drawing, (flow.left, top - drawing.height))


def _place(flow: Flow, drawing: Drawing, corner: tuple[float, float]) -> None:
    def render(pen: Pen) -> None:
        renderPDF.draw(drawing, pen.canvas, *corner)

    flow.draw(render)


def _layer_rows(layers: tuple[LayerRow, ...]) -> list[table.Row]:
    return [(row.name, row.depth, row.in_place, row.to_pour, "; ".join(row.bags)) for row in layers]


def _layers_height(flow: Flow, layers: tuple[LayerRow, ...]) -> float:
    return HEADING_ROOM + table.height(flow, LAYERS, _layer_rows(layers)) if layers else 0.0


def _layers(flow: Flow, layers: tuple[LayerRow, ...], height: float) -> None:
    if not layers:
        return
    flow.y = flow.floor + height
    flow.heading("Layers, from the floor up", note="in place before hardscape; poured with settling", keep=0)
    table.draw(flow, LAYERS, _layer_rows(layers))
