"""The build sheet: what a customer builds and keeps the enclosure by, to scale."""

from inventory.documents import glyphs, table
from inventory.documents.flow import BODY, SMALL, Flow
from inventory.documents.paper import sheet_size
from inventory.documents.pen import About, Pen, Style, pdf
from inventory.documents.table import Column, Table
from kits.documents import front_page, light_and_climate, signs
from kits.documents.content import BuildSheet, CautionRow, Fact
from kits.documents.title_block import title_block
from kits.documents.words import DEFERENCE
from kits.drawings.scene import Scene

MOST_PAGES = 4
SIGN_SIDE = 18.0
BOX = "\u2610"  # an empty box to tick
LEVEL_WORDS = {"stop": "STOP", "warning": "WARNING", "note": "Note"}
PARTS = Table(
    (
        Column("no.", 22, callout=True),
        Column("part"),
        Column("item", 148),
        Column("quantity", 62, "right"),
        Column("each", 50, "right"),
        Column("total", 54, "right"),
    )
)


def build_sheet(sheet: BuildSheet, scene: Scene, *, paper: str = "letter") -> bytes:
    """The sheet as a PDF; the same input gives the same bytes. Raises BadInput on the paper."""
    size = sheet_size(paper)
    flow, scale = _laid_out(size, sheet, scene)
    if len(flow.pages) > MOST_PAGES:
        flow, scale = min(((flow, scale), _laid_out(size, sheet, scene, pictures_last=True)), key=_pages)
    return pdf(size, _about(sheet), lambda pen: _draw(pen, flow, sheet, scale))


def _laid_out(
    size: tuple[float, float], sheet: BuildSheet, scene: Scene, *, pictures_last: bool = False
) -> tuple[Flow, str]:
    """The sheet on its pages, and the scale of its drawings; pictures leave less empty first or last."""
    flow = Flow(size)
    scale = front_page.draw(flow, sheet, scene)
    _parts(flow, sheet)
    flow.set_columns(2)
    _settings(flow, sheet)
    _first_days(flow, sheet)
    _cautions(flow, sheet.cautions)
    _deference(flow)
    if not pictures_last:
        light_and_climate.draw(flow, sheet.pictures)
    _upkeep(flow, sheet)
    if pictures_last:
        light_and_climate.draw(flow, sheet.pictures)
    return flow, scale


def _pages(laid_out: tuple[Flow, str]) -> int:
    return len(laid_out[0].pages)


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
    flow.move_on()
    flow.heading("Parts", note="numbers as in the drawings")
    rows = [(str(p.number), p.name, p.item, f"{p.quantity} {p.unit}", p.each, p.total) for p in sheet.parts]
    table.draw(flow, PARTS, rows)
    for unmet in sheet.unmet:
        flow.paragraph(f"Not in the kit, {unmet}", Style(BODY.size, bold=True))
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
        size, flow.y = (9.5, flow.y - 2) if is_last else (BODY.size, flow.y)
        flow.text(flow.right - 70, flow.y - 9, name, Style(size, bold=is_last, align="right"))
        flow.text(flow.right - table.PAD, flow.y - 9, amount, Style(size, bold=is_last, align="right"))
        flow.y -= 12
    flow.y -= 4


def _settings(flow: Flow, sheet: BuildSheet) -> None:
    flow.heading("Settings", note="estimates: check with instruments")
    for fact in (*sheet.settings, *sheet.weights):
        _fact(flow, fact)


def _fact(flow: Flow, fact: Fact) -> None:
    flow.need(22)
    flow.text(flow.left, flow.y - BODY.size, fact.name, BODY)
    flow.text(flow.right, flow.y - BODY.size, fact.value, Style(BODY.size, bold=True, align="right"))
    flow.y -= BODY.leading
    if fact.source:
        flow.text(flow.left, flow.y - SMALL.size + 1, fact.source, SMALL)
        flow.y -= SMALL.leading
    flow.y -= 1.5
    flow.rule(flow.y)
    flow.y -= 1.5


def _first_days(flow: Flow, sheet: BuildSheet) -> None:
    flow.heading("The first 30 days", note="common practice, no source")
    shown = ""
    for step in sheet.steps:
        flow.need(2 * BODY.leading)
        if step.when != shown:
            flow.text(flow.left, flow.y - BODY.size, step.when, Style(BODY.size, bold=True))
            shown = step.when
        flow.paragraph(step.text, indent=58, gap=2)


def _cautions(flow: Flow, cautions: tuple[CautionRow, ...]) -> None:
    flow.heading("Cautions", note="read them before you begin", keep=70)
    for caution in cautions:
        sign = signs.sign_for(caution.level, caution.about)
        if sign:
            _signed(flow, caution, sign)
    notes = [caution for caution in cautions if caution.level == "note"]
    if notes:
        flow.heading("Good to know")
    for note in notes:
        flow.paragraph(note.text, gap=2)


def _signed(flow: Flow, caution: CautionRow, sign: str) -> None:
    word = signs.WORDS[sign]
    head = f"{LEVEL_WORDS[caution.level]}: {word.lower()}" if word else LEVEL_WORDS[caution.level]
    _beside_sign(flow, sign, caution.text, head=head)


def _beside_sign(flow: Flow, sign: str, text: str, *, head: str = "") -> None:
    """Text to the right of a sign; both stand in the same column."""
    indent = SIGN_SIDE + 8
    lines = glyphs.wrapped(text, within=flow.width - indent, size=BODY.size)
    flow.need(max(SIGN_SIDE, (len(lines) + bool(head)) * BODY.leading) + 5)
    x, y = flow.left, flow.y - SIGN_SIDE
    flow.draw(lambda pen: signs.draw(pen.canvas, sign, (x, y), side=SIGN_SIDE))
    if head:
        flow.text(x + indent, flow.y - BODY.size, head, Style(BODY.size, bold=True))
        flow.y -= BODY.leading
    flow.paragraph(text, indent=indent, gap=3)
    flow.y = min(flow.y, y - 3)


def _upkeep(flow: Flow, sheet: BuildSheet) -> None:
    """What to do how often; the boxes of one row are ticked one after another."""
    if not sheet.upkeep:
        return
    flow.heading("Upkeep", note="the calendar file of this kit holds the same")
    for row in sheet.upkeep:
        flow.need(2 * BODY.leading)
        flow.text(flow.left, flow.y - BODY.size, row.every, Style(BODY.size, bold=True))
        flow.paragraph("   ".join(f"{BOX}{task}" for task in row.tasks), indent=70, gap=1.5)
        flow.rule(flow.y)
        flow.y -= 2


def _deference(flow: Flow) -> None:
    flow.heading("Before everything else", keep=60)
    for sign, sentence in DEFERENCE:
        _beside_sign(flow, sign, sentence)
