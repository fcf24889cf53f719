"""The build sheet: what a customer builds and keeps the enclosure by, to scale."""

from dataclasses import replace
from itertools import groupby, islice

from inventory.documents import glyphs, table
from inventory.documents.flow import BODY, Flow
from inventory.documents.paper import sheet_size
from inventory.documents.pen import About, Pen, Style, pdf
from inventory.documents.table import Column, Table
from kits.documents import caution_list, front_page, light_and_climate
from kits.documents.caution_list import Group
from kits.documents.content import BuildSheet, CautionRow, Fact
from kits.documents.front_page import Views
from kits.documents.title_block import title_block
from kits.documents.words import DEFERENCE
from kits.drawings.scene import Scene
from kits.terms.counting import counted
from kits.terms.typesetting import typeset

MOST_PAGES = 4
LARGER_PT = (9.5, 9.0)  # type where the pages have room for more than the usual one
LEAST_PT = 8.0  # type where they have no room for the usual one
FINER = 5  # scales of the drawings that are tried where the pages would be too many
MAP_MORE = 80.0  # points of a column that a larger map takes more; it is not drawn to be thrown away
LEAST_LAST, SLIGHTLY = 0.2, 2  # of a last page with less than this share so many finer scales may do away
ABOVE_COLUMNS = 5.0
BOX = "\u2610"  # an empty box to tick
BULLET = "\u2022"
HANG = 9.0  # what the lines of a list are set in, but for its first words
PARTS = Table(
    (
        Column("no.", 22, callout=True),
        Column("part"),
        Column("item", 130.5, small=True),
        Column("quantity", 62, "right"),
        Column("each", 44, "right"),
        Column("total", 48, "right"),
    )
)


def build_sheet(sheet: BuildSheet, scene: Scene, *, paper: str = "letter") -> bytes:
    """The sheet as a PDF; the same input gives the same bytes. Raises BadInput on the paper."""
    size = sheet_size(paper)
    flow, views = _with_largest_drawings(size, sheet, scene)
    flow = _filled(flow, _with_asides(flow, sheet), views)
    return pdf(size, _about(sheet), lambda pen: _draw(pen, flow, sheet, views.told))


def _with_largest_drawings(size: tuple[float, float], sheet: BuildSheet, scene: Scene) -> tuple[Flow, Views]:
    """The sheet with the largest drawings that make few enough pages, or else the first of fewest pages."""
    tried = []
    for number, views in enumerate(islice(front_page.fitting(Flow(size), sheet, scene), FINER)):
        flow = _laid_out(size, sheet, views)
        tried.append((flow, views))
        if len(flow.pages) <= MOST_PAGES and (flow.share_of_page >= LEAST_LAST or number >= SLIGHTLY):
            break
    return min(tried, key=lambda one: len(one[0].pages))


def _with_asides(flow: Flow, sheet: BuildSheet) -> BuildSheet:
    """The sheet with what its pictures say besides, where it has few enough pages without."""
    if len(flow.pages) > MOST_PAGES or not any(one.aside for one in sheet.pictures):
        return sheet
    told = [
        replace(one, sentences=(*one.sentences, one.aside)) if one.aside else one for one in sheet.pictures
    ]
    return replace(sheet, pictures=tuple(told))


def _filled(flow: Flow, sheet: BuildSheet, views: Views) -> Flow:
    """The sheet with the largest maps and type that take no more pages; in the least type if too many."""
    if len(flow.pages) > MOST_PAGES:
        other = _laid_out(flow.size, sheet, views, type_pt=LEAST_PT)
        return other if len(other.pages) <= MOST_PAGES else flow
    maps = sum(one.larger is not None for one in sheet.pictures)
    larger = _with_larger_maps(sheet) if 0 < maps * MAP_MORE <= flow.left_over else None
    ways = [(larger, type_pt) for type_pt in (*LARGER_PT, BODY.size)] if larger else []
    usual = [(sheet, BODY.size)] if any(one.aside for one in sheet.pictures) else []
    for told, type_pt in (*ways, *((sheet, type_pt) for type_pt in LARGER_PT), *usual):
        other = _laid_out(flow.size, told, views, type_pt=type_pt)
        if len(other.pages) <= len(flow.pages):
            return other
    return flow


def _with_larger_maps(sheet: BuildSheet) -> BuildSheet:
    drawn = [replace(one, drawing=one.larger()) if one.larger else one for one in sheet.pictures]
    return replace(sheet, pictures=tuple(drawn))


def _laid_out(
    size: tuple[float, float], sheet: BuildSheet, views: Views, *, type_pt: float = BODY.size
) -> Flow:
    """The sheet on its pages, the text after the first drawings in this type."""
    flow = Flow(size)
    front_page.draw(flow, sheet, views)
    flow.type_pt = type_pt
    _parts(flow, sheet)
    flow.y -= ABOVE_COLUMNS
    flow.set_columns(2)
    _cautions(flow, sheet.cautions)
    light_and_climate.queue(flow, sheet.pictures)
    _settings(flow, sheet)
    _first_days(flow, sheet)
    _upkeep(flow, sheet)
    _good_to_know(flow, sheet.cautions)
    flow.place_rest()
    return flow


def _about(sheet: BuildSheet) -> About:
    number = f" {sheet.heading.number}" if sheet.heading.number else ""
    return About(title=f"Build sheet{number}: {sheet.title}", author=sheet.heading.shop)


def _draw(pen: Pen, flow: Flow, sheet: BuildSheet, scale: str) -> None:
    for number, page in enumerate(flow.pages, start=1):
        if number > 1:
            pen.next_page()
        title_block(pen, sheet, (number, len(flow.pages)), scale if number == 1 else "-")
        for drawn in page:
            drawn(pen)


def _parts(flow: Flow, sheet: BuildSheet) -> None:
    flow.heading("Parts", note="numbers as in the drawings")
    rows = [
        (str(p.number), p.name, p.item, counted(p.quantity, p.unit), p.each, p.total) for p in sheet.parts
    ]
    table.draw(flow, PARTS, rows)
    for unmet in sheet.unmet:
        flow.paragraph(f"Not in the kit, {unmet}", flow.strong)
    _sums(flow, sheet)
    if sheet.heading.note:
        flow.heading("Note", keep=20)
        flow.paragraph(sheet.heading.note)


def _sums(flow: Flow, sheet: BuildSheet) -> None:
    sums = sheet.sums
    rows = [("net", sums.net), ("tax", sums.tax), (f"total {sums.currency}", sums.gross)]
    if sums.discount:
        rows.insert(0, ("discount taken off", sums.discount))
    flow.need(len(rows) * 12 + 4)
    flow.y -= 3
    for name, amount in rows:
        is_last = name.startswith("total")
        size, flow.y = (flow.type_pt + 1, flow.y - 2) if is_last else (flow.type_pt, flow.y)
        flow.text(flow.right - 70, flow.y - 9, name, Style(size, bold=is_last, align="right"))
        flow.text(flow.right - table.PAD, flow.y - 9, amount, Style(size, bold=is_last, align="right"))
        flow.y -= 12
    flow.y -= 4


def _settings(flow: Flow, sheet: BuildSheet) -> None:
    flow.heading("Settings", note="estimates: check with instruments")
    for source, facts in groupby((*sheet.settings, *sheet.weights), key=lambda fact: fact.source):
        _of_one_source(flow, tuple(facts), source)


def _of_one_source(flow: Flow, facts: tuple[Fact, ...], source: str) -> None:
    """Figures below each other, and once below them where they come from."""
    flow.need(len(facts) * flow.body.leading + flow.small.leading)
    for fact in facts:
        _fact(flow, fact)
    if source:
        for line in glyphs.wrapped(source, within=flow.width, size=flow.small.size):
            flow.text(flow.left, flow.y - flow.small.size + 0.5, line, flow.small)
            flow.y -= flow.small.leading
    flow.y -= 1
    flow.rule(flow.y)
    flow.y -= 1.5


def _fact(flow: Flow, fact: Fact) -> None:
    """Name and figure at the two ends of a line, or of two where one is too short."""
    figure = Style(flow.type_pt, bold=True, align="right")
    name = glyphs.width(fact.name, size=flow.type_pt)
    flow.text(flow.left, flow.y - flow.type_pt, fact.name, flow.body)
    if name + glyphs.width(fact.value, size=figure.size, font=figure.font) + 6 > flow.width:
        flow.y -= flow.body.leading
    flow.text(flow.right, flow.y - flow.type_pt, fact.value, figure)
    flow.y -= flow.body.leading


def _first_days(flow: Flow, sheet: BuildSheet) -> None:
    flow.heading("The first 30 days", note="common practice, no source")
    shown = ""
    for step in sheet.steps:
        lead = step.when if step.when != shown else ""
        flow.paragraph(f"{BOX} {step.text}", indent=HANG, gap=1.5, lead=lead)
        shown = step.when


def _cautions(flow: Flow, cautions: tuple[CautionRow, ...]) -> None:
    """Stops and warnings, then what stands on every sheet."""
    flow.heading("Cautions", note="read them before you begin", keep=70)
    caution_list.draw(flow, caution_list.grouped(cautions))
    caution_list.draw(flow, (Group(sign, "", (sentence,)) for sign, sentence in DEFERENCE))


def _good_to_know(flow: Flow, cautions: tuple[CautionRow, ...]) -> None:
    notes = [typeset(caution.text) for caution in cautions if caution.level == "note"]
    if notes:
        flow.heading("Good to know")
    for note in notes:
        flow.paragraph(note, indent=HANG, gap=1.5, lead=BULLET)


def _upkeep(flow: Flow, sheet: BuildSheet) -> None:
    """What to do how often; the boxes of one row are ticked one after another."""
    if not sheet.upkeep:
        return
    flow.heading("Upkeep", note="the calendar file of this kit holds the same")
    for row in sheet.upkeep:
        tasks = "    ".join(f"{BOX} {task}" for task in row.tasks)
        flow.paragraph(tasks, indent=HANG, gap=1.5, lead=row.every)
