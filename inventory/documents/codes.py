"""Machine-readable codes in whole printer dots.

A bar of half a dot is printed wider or narrower than its neighbour, and a scanner then misreads it.
"""

from dataclasses import dataclass

import segno
from reportlab.graphics.barcode.code128 import Code128Auto

from inventory.documents.paper import dots, printer_dpi
from inventory.documents.pen import BLACK, WHITE, Pen

QUIET_MODULES = 10  # each side of Code 128: ISO/IEC 15417 as quoted in GS1 General Specifications R18, p. 262
QR_QUIET_MODULES = 4  # each side of QR: ISO/IEC 18004, from memory
LEAST_MODULE_MM = 0.25  # 10 mil for codes read inside the shop: common practice, no source
FNC1 = "\xf1"


@dataclass(frozen=True, slots=True)
class Density:
    """A module in whole printer dots: `Density(203, 2)` is 2 dots of 1/203 inch."""

    dpi: int
    dots: int

    @property
    def module_pt(self) -> float:
        """The narrowest bar in points."""
        return dots(self.dots, dpi=self.dpi)


def least_dots(dpi: int) -> int:
    """The fewest whole dots that make a module a shop's scanner reads.

    >>> least_dots(203), least_dots(300)
    (2, 3)
    """
    found = 1
    while found / printer_dpi(dpi) * 25.4 < LEAST_MODULE_MM:
        found += 1
    return found


def widest(text: str, *, dpi: int, within: float, most: int = 4) -> Density:
    """The largest density, up to `most` dots, at which the code and its quiet zones fit within a width."""
    modules = code_128_modules(text) + 2 * QUIET_MODULES
    fitting = [n for n in range(least_dots(dpi), most + 1) if modules * dots(n, dpi=dpi) <= within]
    return Density(dpi, max(fitting, default=least_dots(dpi)))


def code_128_modules(text: str) -> int:
    """Modules of a Code 128 symbol without its quiet zones.

    >>> code_128_modules("SUB-000123")  # start, 8 data, check: 11 each; stop: 13
    123
    """
    return int(_symbol(text, 1.0, 1.0).width + 0.5)


def code_128_width(text: str, density: Density) -> float:
    """Width of the symbol with its quiet zones in points."""
    return (code_128_modules(text) + 2 * QUIET_MODULES) * density.module_pt


def code_128(pen: Pen, corner: tuple[float, float], text: str, *, height: float, density: Density) -> float:
    """Draw a Code 128 symbol whose left quiet zone begins at the corner; returns its whole width.

    Code128Auto and never Code128: the latter loses a digit after an FNC1 in mid-string (reportlab 5.1.0).
    """
    x, y = corner
    symbol = _symbol(text, density.module_pt, height)
    pen.canvas.saveState()
    symbol.drawOn(pen.canvas, x + QUIET_MODULES * density.module_pt, y)
    pen.canvas.restoreState()
    return code_128_width(text, density)


def qr_width(text: str, density: Density) -> float:
    """Width of a QR symbol with its quiet zone in points."""
    return (_qr(text).symbol_size(border=0)[0] + 2 * QR_QUIET_MODULES) * density.module_pt


def largest_qr(text: str, *, dpi: int, within: float, most: int = 7) -> Density:
    """The largest density, up to `most` dots, at which a QR symbol with its quiet zone fits within a side."""
    sizes = [Density(dpi, n) for n in range(least_dots(dpi) + 1, most + 1)]
    fitting = [density for density in sizes if qr_width(text, density) <= within]
    return max(fitting, key=lambda density: density.dots, default=sizes[0])


def qr(pen: Pen, corner: tuple[float, float], text: str, *, density: Density) -> float:
    """Draw a QR symbol whose quiet zone begins at the corner; returns its whole width."""
    symbol = _qr(text)
    side, module = qr_width(text, density), density.module_pt
    pen.canvas.setFillColor(WHITE)
    pen.canvas.rect(*corner, side, side, stroke=0, fill=1)
    pen.canvas.setFillColor(BLACK)
    top = corner[1] + side - (QR_QUIET_MODULES + 1) * module
    for row, line in enumerate(symbol.matrix):
        for start, run in _runs(line):
            left = corner[0] + (QR_QUIET_MODULES + start) * module
            pen.canvas.rect(left, top - row * module, run * module, module, stroke=0, fill=1)
    return side


def _symbol(text: str, bar_width: float, height: float) -> Code128Auto:
    return Code128Auto(text, barWidth=bar_width, barHeight=height, quiet=0, humanReadable=0)


def _qr(text: str) -> segno.QRCode:
    return segno.make_qr(text, error="m", boost_error=False)


def _runs(line: bytearray | tuple[int, ...]) -> list[tuple[int, int]]:
    """Start and length of every unbroken dark run, so that no hairline shows between modules."""
    runs: list[tuple[int, int]] = []
    for column, dark in enumerate(line):
        if dark and runs and sum(runs[-1]) == column:
            runs[-1] = (runs[-1][0], runs[-1][1] + 1)
        elif dark:
            runs.append((column, 1))
    return runs
