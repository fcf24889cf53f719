"""The frame of a drawing sheet and the title block at its foot."""

from inventory.documents import glyphs
from inventory.documents.flow import BLOCK_HEIGHT, INSIDE, MARGIN, SMALL
from inventory.documents.pen import ACCENT, INK, Pen, Style
from kits.documents.content import BuildSheet


def title_block(pen: Pen, sheet: BuildSheet, place: tuple[int, int], scale: str) -> None:
    """Frame and title block of a page; `place` is its number and the number of pages."""
    wide, high = pen.size
    pen.box(MARGIN, MARGIN, (wide - 2 * MARGIN, high - 2 * MARGIN), width=1.0)
    right, top = wide - MARGIN, MARGIN + BLOCK_HEIGHT
    head = sheet.heading
    cells = (
        ("quote" if head.number else "plan", head.number or "not quoted", 74.0),
        ("version", str(head.version) if head.number else "-", 42.0),
        ("scale", scale, 46.0),
        ("date", head.date, 72.0),
        ("page", f"{place[0]} of {place[1]}", 52.0),
    )
    left = right - sum(cell[2] for cell in cells)
    pen.rule(MARGIN, top, (right, top), width=1.0, ink=INK)
    for name, value, width in cells:
        pen.rule(left, MARGIN, (left, top), width=0.4, ink=INK)
        pen.text(left + 6, top - 11, name, SMALL)
        pen.text(
            left + 6, top - 25, value, Style(9, bold=True, ink=ACCENT if name in {"quote", "plan"} else INK)
        )
        left += width
    _whose(pen, sheet, right - sum(cell[2] for cell in cells) - MARGIN)


def _whose(pen: Pen, sheet: BuildSheet, width: float) -> None:
    head, top, x = sheet.heading, MARGIN + BLOCK_HEIGHT, MARGIN + INSIDE
    shop = f"{head.shop}, {head.town}" if head.town else head.shop
    within = width - INSIDE - 6
    pen.text(x, top - 10, glyphs.cut(shop, within=within, size=SMALL.size), SMALL)
    name = Style(9, bold=True)
    pen.text(x, top - 20.5, glyphs.cut(sheet.title, within=within, size=name.size, font=name.font), name)
    if head.customer:
        pen.text(x, top - 30, glyphs.cut(f"for {head.customer}", within=within, size=SMALL.size), SMALL)
