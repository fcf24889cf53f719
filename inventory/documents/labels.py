"""The shelf label: one item at its place, 57 x 32 mm (2 1/4 x 1 1/4 inch stock)."""

from collections.abc import Iterable
from dataclasses import dataclass

from inventory.documents import codes, glyphs
from inventory.documents.paper import POINTS_PER_INCH, printer_dpi
from inventory.documents.pen import BLACK, About, Pen, Style, one_each

SIZE = (2.25 * POINTS_PER_INCH, 1.25 * POINTS_PER_INCH)
EDGE = 5.0
FOOT = 5.5
BAR_HEIGHT = 34.0
QR_SIDE = 55.0  # What is left below three lines of a name.


@dataclass(frozen=True, slots=True)
class ShelfLabel:
    """What stands on a shelf label; empty fields are left out."""

    code: str
    name: str
    price: str
    unit: str
    shop: str
    content: str = ""
    place: str = ""
    lot: str = ""
    best_before: str = ""


def shelf_label(label: ShelfLabel, *, dpi: int = 203) -> bytes:
    """One label as a page of exactly its size. Raises BadInput on a density no printer here has."""
    return shelf_labels([label], dpi=dpi)


def shelf_labels(labels: Iterable[ShelfLabel], *, dpi: int = 203) -> bytes:
    """Labels, one on each page of exactly their size."""
    wanted = list(labels)
    printer_dpi(dpi)
    title = f"Shelf label {wanted[0].code}" if len(wanted) == 1 else f"{len(wanted)} shelf labels"
    about = About(title=title, author=wanted[0].shop)
    return one_each(SIZE, about, wanted, lambda pen, label: _draw(pen, label, dpi))


def _draw(pen: Pen, label: ShelfLabel, dpi: int) -> None:
    right, top = SIZE[0] - EDGE, SIZE[1] - EDGE
    price = pen.text(right, top - 9, label.price, Style(11.5, bold=True, ink=BLACK, align="right"))
    each = f"{_article(label.unit)} {label.unit}" if label.price else ""
    pen.text(right, top - 16, each, Style(5.2, ink=BLACK, align="right"))
    name = Style(7.0, bold=True, ink=BLACK)
    within = right - EDGE - price - 5
    lines = glyphs.at_most(3, label.name, within=within, size=name.size, font=name.font)
    pen.lines(EDGE, top - 6.5, lines, name)
    pen.text(right, top - 24, label.place, Style(6.4, bold=True, ink=BLACK, align="right"))
    details = " \u00b7 ".join(filter(None, (label.content, _lot(label))))
    if _fits(label.code, dpi):
        _bars(pen, label, details, dpi)
    else:
        _square(pen, label, details, dpi)


def _article(unit: str) -> str:
    return "an" if unit[:1] in set("aeiou") else "a"


def _lot(label: ShelfLabel) -> str:
    until = f", best before {label.best_before}" if label.best_before else ""
    return f"lot {label.lot}{until}" if label.lot else ""


def _fits(code: str, dpi: int) -> bool:
    """Whether bars of whole dots that a scanner reads fit the label."""
    return codes.code_128_width(code, codes.Density(dpi, codes.least_dots(dpi))) <= SIZE[0]


def _bars(pen: Pen, label: ShelfLabel, details: str, dpi: int) -> None:
    density = codes.widest(label.code, dpi=dpi, within=SIZE[0])
    wide = codes.code_128_width(label.code, density)
    left = (SIZE[0] - wide) / 2
    codes.code_128(pen, (left, FOOT + 15), label.code, height=BAR_HEIGHT, density=density)
    pen.text(SIZE[0] / 2, FOOT + 7.6, label.code, Style(6.4, bold=True, ink=BLACK, align="centre"))
    shown = glyphs.cut(details, within=SIZE[0] - 2 * EDGE, size=5.2)
    pen.text(SIZE[0] / 2, FOOT, shown, Style(5.2, ink=BLACK, align="centre"))


def _square(pen: Pen, label: ShelfLabel, details: str, dpi: int) -> None:
    """A code too long for bars of whole dots on this label stands as a square code of the same text."""
    density = codes.largest_qr(label.code, dpi=dpi, within=QR_SIDE)
    left = EDGE + codes.qr(pen, (EDGE - 3, FOOT - 3), label.code, density=density)
    within = SIZE[0] - EDGE - left
    code, small = Style(6.4, bold=True, ink=BLACK), Style(5.2, ink=BLACK)
    lines = glyphs.wrapped(label.code, within=within, size=code.size, font=code.font)
    below = glyphs.at_most(2, details, within=within, size=small.size)
    y = FOOT + small.leading * len(below) + code.leading * (len(lines) - 1) + 1.5
    pen.lines(left, pen.lines(left, y, lines, code) + code.leading - small.leading - 1.5, below, small)
