"""The quote as the customer takes it home: lines, sums, how long it is good, and what must be known."""

from dataclasses import dataclass

from inventory.documents import glyphs, table
from inventory.documents.flow import BLOCK_HEIGHT, BODY, INSIDE, MARGIN, SMALL, Flow
from inventory.documents.paper import sheet_size
from inventory.documents.pen import ACCENT, INK, About, Pen, Style, pdf
from inventory.documents.table import Column, Table
from kits.documents import caution_list
from kits.documents.caution_list import Group
from kits.documents.content import CautionRow
from kits.terms.counting import counted

Groups = tuple[Group, ...]

SUM_LEADING = 11.0
TERMS_ROOM, ABOVE_TERMS = 115.0, 8.0
HEADING_ROOM = 26.0
LINES = Table(
    (
        Column("no.", 22, callout=True),
        Column("item"),
        Column("code", 130.5, small=True),
        Column("quantity", 62, "right"),
        Column("each", 44, "right"),
        Column("total", 48, "right"),
    )
)
TERMS = (
    "Figures of a kit are estimates for planning, to be checked with instruments; makers' instructions and "
    "local codes come first."
)


@dataclass(frozen=True, slots=True)
class QuoteLine:
    """One line at its price before any discount."""

    number: int
    item: str
    name: str
    quantity: int
    unit: str
    each: str
    total: str


@dataclass(frozen=True, slots=True)
class TaxRow:
    """The tax of one rate and what it is taken on."""

    rate_pct: str
    base: str
    tax: str


@dataclass(frozen=True, slots=True)
class QuoteSheet:
    """Everything that stands on a quote; empty fields are left out."""

    shop: str
    town: str
    number: str
    version: int
    date: str
    title: str
    valid_until: str
    lines: tuple[QuoteLine, ...]
    sum_before: str
    discount: str
    net: str
    taxes: tuple[TaxRow, ...]
    gross: str
    currency: str
    prices_include_tax: bool
    customer: str = ""
    note: str = ""
    hold_until: str = ""
    held: bool = False
    state: str = "open"
    cautions: tuple[CautionRow, ...] = ()
    missing: tuple[str, ...] = ()
    kit: str = ""  # The standard kit whose fixed price counts, and what that adds to the sum.
    kit_change: str = ""


def quote(sheet: QuoteSheet, *, paper: str = "letter") -> bytes:
    """The quote as a PDF; the same sheet and paper give the same bytes. Raises BadInput on the paper."""
    size = sheet_size(paper)
    flow = Flow(size)
    _head(flow, sheet)
    table.draw(flow, LINES, [_cells(line) for line in sheet.lines])
    _sums_and_terms(flow, sheet)
    _cautions(flow, sheet)
    about = About(title=f"Quote {sheet.number}: {sheet.title}", author=sheet.shop)
    return pdf(size, about, lambda pen: _draw(pen, flow, sheet))


def _draw(pen: Pen, flow: Flow, sheet: QuoteSheet) -> None:
    for number, page in enumerate(flow.pages, start=1):
        if number > 1:
            pen.next_page()
        _frame(pen, sheet, f"{number} of {len(flow.pages)}")
        for drawn in page:
            drawn(pen)


def _frame(pen: Pen, sheet: QuoteSheet, place: str) -> None:
    wide, high = pen.size
    pen.box(MARGIN, MARGIN, (wide - 2 * MARGIN, high - 2 * MARGIN), width=1.0)
    right, top = wide - MARGIN, MARGIN + BLOCK_HEIGHT
    pen.rule(MARGIN, top, (right, top), width=1.0, ink=INK)
    cells = (
        ("quote", sheet.number, 66.0), ("version", str(sheet.version), 40.0), ("date", sheet.date, 72.0),
        (f"total {sheet.currency}", sheet.gross, 74.0), ("page", place, 50.0),
    )  # fmt: skip
    left = right - sum(width for _, _, width in cells)
    shop = f"{sheet.shop}, {sheet.town}" if sheet.town else sheet.shop
    within = left - MARGIN - INSIDE - 6
    pen.text(
        MARGIN + INSIDE,
        top - 21,
        glyphs.cut(shop, within=within, size=9, font="Sans-Bold"),
        Style(9, bold=True),
    )
    for name, value, width in cells:
        pen.rule(left, MARGIN, (left, top), width=0.4, ink=INK)
        pen.text(left + 6, top - 11, name, SMALL)
        ink = ACCENT if name == "quote" else INK
        pen.text(left + 6, top - 25, value, Style(9, bold=True, ink=ink))
        left += width


def _head(flow: Flow, sheet: QuoteSheet) -> None:
    flow.text(flow.left, flow.y - 15, f"Quote {sheet.number}", Style(16, bold=True))
    flow.text(flow.right, flow.y - 9, f"good until {sheet.valid_until}", Style(9, bold=True, align="right"))
    held = f"held for you until {sheet.hold_until}" if sheet.hold_until else _not_held(sheet)
    flow.text(flow.right, flow.y - 20, held, Style(BODY.size, align="right"))
    flow.y -= 22
    flow.paragraph(sheet.title, Style(9), gap=1)
    if sheet.customer:
        flow.paragraph(f"for {sheet.customer}", Style(9), gap=1)
    if sheet.note:
        flow.paragraph(sheet.note, BODY, gap=1)
    flow.y -= 8


def _not_held(sheet: QuoteSheet) -> str:
    return "nothing is held yet" if sheet.state == "open" else f"this quote is {sheet.state}"


def _cells(line: QuoteLine) -> tuple[str, ...]:
    return (str(line.number), line.name, line.item, counted(line.quantity, line.unit), line.each, line.total)


def _sums_and_terms(flow: Flow, sheet: QuoteSheet) -> None:
    """The sums at the right, the terms beside them, and below what is missing."""
    rows = _sum_rows(sheet)
    flow.need(max(len(rows) * SUM_LEADING + 28, TERMS_ROOM) + ABOVE_TERMS)
    flow.y -= ABOVE_TERMS
    begins = flow.y
    flow.set_columns(2)
    _terms(flow, sheet)
    ends, flow.y = flow.y, begins
    flow.set_columns(1)
    _sums(flow, rows, sheet)
    flow.y = min(flow.y, ends)
    for missing in sheet.missing:
        flow.paragraph(missing, Style(BODY.size, bold=True))


def _sum_rows(sheet: QuoteSheet) -> list[tuple[str, str]]:
    rows = [(f"standard kit {sheet.kit}", sheet.kit_change)] if sheet.kit_change else []
    rows += [("discount", f"-{sheet.discount}")] if sheet.discount else []
    rows = [("sum", sheet.sum_before), *rows] if rows else []
    taxes = [(f"tax {tax.rate_pct} % on {tax.base}", tax.tax) for tax in sheet.taxes]
    return [*rows, ("net", sheet.net), *taxes]


def _sums(flow: Flow, rows: list[tuple[str, str]], sheet: QuoteSheet) -> None:
    flow.y -= 4
    for name, amount in rows:
        flow.text(flow.right - 76, flow.y - BODY.size, name, Style(BODY.size, align="right"))
        flow.text(flow.right - table.PAD, flow.y - BODY.size, amount, Style(BODY.size, align="right"))
        flow.y -= SUM_LEADING
    total = Style(11, bold=True, align="right")
    flow.text(flow.right - 76, flow.y - 12, f"total {sheet.currency}", total)
    flow.text(flow.right - table.PAD, flow.y - 12, sheet.gross, total)
    flow.y -= 20


def _terms(flow: Flow, sheet: QuoteSheet) -> None:
    taxed = (
        "Prices of the lines include tax."
        if sheet.prices_include_tax
        else "Prices of the lines are before tax."
    )
    held = (
        f"The goods are held until {sheet.hold_until}." if sheet.hold_until else
        "Nothing is held: stock can change until you accept."
    )  # fmt: skip
    flow.heading("Terms", keep=30)
    text = (
        f"Good until the end of {sheet.valid_until}. {held if sheet.state == 'open' else ''} {taxed} {TERMS}"
    )
    flow.paragraph(" ".join(text.split()))


def _cautions(flow: Flow, sheet: QuoteSheet) -> None:
    """All on one page where they can be: in one column, or in two, or on a page of their own."""
    if not sheet.cautions:
        return
    groups = tuple(caution_list.grouped(sheet.cautions))
    parted = _parted(flow, groups)
    if not parted:
        flow.move_on()
        parted = (groups,)
    flow.heading("Cautions that matter", note="the build sheet has them all")
    flow.set_columns(len(parted))
    for number, column in enumerate(parted):
        if number:
            flow.move_on()
        caution_list.draw(flow, column)


def _parted(flow: Flow, groups: Groups) -> tuple[Groups, ...]:
    """The groups in one column or in two that end close to each other; nothing where neither has room."""
    room = flow.y - flow.floor - HEADING_ROOM
    if caution_list.height(flow, groups, columns=1) <= room:
        return (groups,)
    ways = [caution_list.parted(groups, n) for n in range(1, sum(len(group.texts) for group in groups))]
    heights = [max(caution_list.height(flow, part, columns=2) for part in way) for way in ways]
    lowest = min(heights, default=room + 1)
    return ways[heights.index(lowest)] if lowest <= room else ()
