"""The kit label on the packed box: 102 x 152 mm (4 x 6 inch stock)."""

from collections.abc import Iterable
from dataclasses import dataclass

from inventory.documents import codes, glyphs, marks
from inventory.documents.marks import CareMark
from inventory.documents.paper import POINTS_PER_INCH, printer_dpi
from inventory.documents.pen import BLACK, About, Pen, Style, one_each

SIZE = (4 * POINTS_PER_INCH, 6 * POINTS_PER_INCH)
EDGE = 12.0
BAR_HEIGHT = 54.0
MARK_SIDE = 40.0
BETWEEN = 8.0
HANGS = 10.0  # how far a second line stands in
MOST_BAR_DOTS = {203: 5, 300: 7}
QR_DOTS = {203: 5, 300: 7}


@dataclass(frozen=True, slots=True)
class KitLabel:
    """What stands on a kit label; empty fields are left out."""

    number: str
    kit: str
    enclosure: str
    shop: str
    town: str
    date: str
    customer: str = ""
    mass: str = ""
    lot: str = ""
    address: str = ""  # the customer's page, only where the shop has a public HTTPS address
    contents: tuple[str, ...] = ()
    marks: tuple[CareMark, ...] = ()


def kit_label(label: KitLabel, *, dpi: int = 203) -> bytes:
    """One label as a page of exactly its size. Raises BadInput on a density no printer here has."""
    return kit_labels([label], dpi=dpi)


def kit_labels(labels: Iterable[KitLabel], *, dpi: int = 203) -> bytes:
    """Labels, one on each page of exactly their size."""
    wanted = list(labels)
    printer_dpi(dpi)
    title = f"Kit label {wanted[0].number}" if len(wanted) == 1 else f"{len(wanted)} kit labels"
    about = About(title=title, author=wanted[0].shop)
    return one_each(SIZE, about, wanted, lambda pen, label: _draw(pen, label, dpi))


def _draw(pen: Pen, label: KitLabel, dpi: int) -> None:
    y = _head(pen, label)
    y = _code(pen, label, y, dpi)
    floor = _care(pen, label)
    _contents(pen, label, (y, floor), _page_code(pen, label, floor, dpi))


def _head(pen: Pen, label: KitLabel) -> float:
    right, y = SIZE[0] - EDGE, SIZE[1] - EDGE
    shop = f"{label.shop}, {label.town}" if label.town else label.shop
    pen.text(EDGE, y - 8, glyphs.cut(shop, within=right - EDGE - 70, size=8), Style(8, ink=BLACK))
    pen.text(right, y - 8, label.date, Style(8, ink=BLACK, align="right"))
    pen.rule(EDGE, y - 13, (right, y - 13), width=1.2, ink=BLACK)
    title = Style(14, bold=True, ink=BLACK)
    lines = glyphs.at_most(2, label.kit, within=right - EDGE, size=title.size, font=title.font)
    y = pen.lines(EDGE, y - 30, lines, title)
    plain = Style(9, ink=BLACK)
    facts = [label.enclosure, _known("for", label.customer), _known("lot", label.lot), label.mass]
    for fact in filter(None, facts):
        for line in glyphs.at_most(2, fact, within=right - EDGE, size=plain.size):
            pen.text(EDGE, y + 3, line, plain)
            y -= plain.leading
    return y


def _code(pen: Pen, label: KitLabel, y: float, dpi: int) -> float:
    density = codes.widest(label.number, dpi=dpi, within=SIZE[0], most=MOST_BAR_DOTS[dpi])
    wide = codes.code_128_width(label.number, density)
    foot = y - 4 - BAR_HEIGHT
    codes.code_128(pen, ((SIZE[0] - wide) / 2, foot), label.number, height=BAR_HEIGHT, density=density)
    pen.text(SIZE[0] / 2, foot - 17, label.number, Style(17, bold=True, ink=BLACK, align="centre"))
    return foot - 26


def _care(pen: Pen, label: KitLabel) -> float:
    if not label.marks:
        return EDGE
    step = (SIZE[0] - 2 * EDGE - MARK_SIDE) / max(4, len(label.marks) - 1)
    for index, mark in enumerate(label.marks):
        marks.draw(pen, mark, (EDGE + index * step, EDGE + 8), side=MARK_SIDE)
    return EDGE + MARK_SIDE + 14


def _page_code(pen: Pen, label: KitLabel, floor: float, dpi: int) -> float:
    """The square code at the lower right, where there is one; returns the width it takes."""
    if not label.address:
        return 0.0
    density = codes.Density(dpi, QR_DOTS[dpi])
    side = codes.qr_width(label.address, density)
    codes.qr(pen, (SIZE[0] - EDGE - side + 8, floor), label.address, density=density)
    return side


def _contents(pen: Pen, label: KitLabel, span: tuple[float, float], taken: float) -> None:
    """What is in the box, in two columns where one has no room for all of it.

    A name goes on to a second line as long as lines are left; only then is one shortened.
    """
    style, (top, floor) = Style(6.6, ink=BLACK), span
    pen.rule(EDGE, top, (SIZE[0] - EDGE, top), width=0.6, ink=BLACK)
    rows = max(1, int((top - 9 - floor) // style.leading) + 1)
    columns = 1 if len(label.contents) <= rows else 2
    within = (SIZE[0] - 2 * EDGE - taken - (columns - 1) * BETWEEN) / columns
    told = _that_fit(label.contents, rows * columns)
    column, row = 0, 0
    for lines in _in_lines(told, within, style, spare=rows * columns - len(told) - (columns - 1)):
        if row + len(lines) > rows:
            column, row = column + 1, 0
        for n, line in enumerate(lines):
            x, y = EDGE + column * (within + BETWEEN) + (HANGS if n else 0), top - 9 - row * style.leading
            pen.text(x, y, line, style)
            row += 1


def _in_lines(names: Iterable[str], within: float, style: Style, *, spare: int) -> Iterable[list[str]]:
    """Each name on one line, or on more of them as long as there are lines to spare."""
    for name in names:
        lines = [glyphs.shortened(name, within=within, size=style.size)]
        if lines != [glyphs.printable(name)]:
            whole = glyphs.wrapped(name, within=within - HANGS, size=style.size)
            lines = whole if len(whole) - 1 <= spare else lines
        spare -= len(lines) - 1
        yield lines


def _that_fit(contents: tuple[str, ...], most: int) -> tuple[str, ...]:
    """All of them, or so many that the last line can say how many more there are."""
    if len(contents) <= most:
        return contents
    return (*contents[: most - 1], f"and {len(contents) - most + 1} more: see the build sheet")


def _known(word: str, value: str) -> str:
    return f"{word} {value}" if value else ""
