"""The one typeface of paper and drawings, from files of our own, so that no system font is needed."""

from functools import cache, lru_cache
from pathlib import Path

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

SANS, SANS_BOLD = "Sans", "Sans-Bold"
FONTS = Path(__file__).parent / "fonts"
FILES = {SANS: "DejaVuSans.ttf", SANS_BOLD: "DejaVuSans-Bold.ttf"}


@cache
def register() -> None:
    """Make "Sans" and "Sans-Bold" known to reportlab; only the first call works, later ones are free."""
    for name, file in FILES.items():
        pdfmetrics.registerFont(TTFont(name, str(FONTS / file)))
    pdfmetrics.registerFontFamily(SANS, normal=SANS, bold=SANS_BOLD, italic=SANS, boldItalic=SANS_BOLD)


def text_width(text: str, size: float, font: str = SANS) -> float:
    """Width of one line of text in points: nothing is kerned, so it is that at one point times the size."""
    return _width_at_1(text, font) * size


@lru_cache(maxsize=8192)
def _width_at_1(text: str, font: str) -> float:
    register()
    return float(pdfmetrics.stringWidth(text, font, 1.0))
