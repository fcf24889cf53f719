"""A pen for one document: text, rules and boxes on a page, and the document's own particulars."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from io import BytesIO
from typing import BinaryIO, Literal, TypeVar

from reportlab import rl_config
from reportlab.lib.colors import Color, HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfgen.canvas import Canvas

from inventory.documents import glyphs, typeface

rl_config.useA85 = 0  # Bytes as they are: the text form is a quarter larger and takes a tenth of the time.

INK = HexColor("#1f2a26")
SOFT = HexColor("#59655e")
HAIR = HexColor("#b9b7ab")
ACCENT = HexColor("#0f5c55")
BLACK = HexColor("#000000")
WHITE = HexColor("#ffffff")
REGULAR, BOLD = "Sans", "Sans-Bold"

_ESCAPED = str.maketrans({sign: f"\\{sign}" for sign in "()\\"})

Align = Literal["left", "right", "centre"]


Thing = TypeVar("Thing")


@dataclass(frozen=True, slots=True)
class About:
    """What a document says of itself to whoever opens it."""

    title: str
    author: str
    subject: str = ""
    language: str = "en-US"


@dataclass(frozen=True, slots=True)
class Style:
    """How text looks."""

    size: float = 8.0
    bold: bool = False
    ink: Color = INK
    align: Align = "left"

    @property
    def font(self) -> str:
        """The name of the typeface."""
        return BOLD if self.bold else REGULAR

    @property
    def leading(self) -> float:
        """From line to line."""
        return self.size * 1.2


@lru_cache(maxsize=64)
def styled(size: float, *, bold: bool = False, ink: Color = INK, align: Align = "left") -> Style:
    """A style that is made once and shared by all that looks so."""
    return Style(size, bold=bold, ink=ink, align=align)


class _Canvas(Canvas):
    """A canvas with a short way for plain text, which is nearly all text of a document.

    The library maps text to the codes of a part of the typeface sign by sign. Its first part has every ASCII
    sign under its own code, so a line of nothing else is written as it is.
    """

    def plain(self, x: float, y: float, text: str, style: Style) -> None:
        """One line of ASCII with its base at y."""
        font = pdfmetrics.getFont(style.font).getSubsetInternalName(0, self._doc)
        words = text.translate(_ESCAPED)
        self.addLiteral(
            f"BT {_rgb(style.ink)} rg {font} {style.size:.3f} Tf 1 0 0 1 {x:.4f} {y:.4f} Tm ({words}) Tj ET"
        )


@lru_cache(maxsize=64)
def _rgb(ink: Color) -> str:
    return " ".join(f"{part:.5f}" for part in ink.rgb())


class Pen:
    """Draws on the current page, from its lower left corner, in points."""

    def __init__(self, out: BinaryIO, size: tuple[float, float], about: About) -> None:
        typeface.register()
        self.size = size
        self.page = 1
        self.canvas = _Canvas(
            out, pagesize=size, invariant=1, pageCompression=1, lang=about.language, initialFontName=REGULAR
        )
        self.canvas.setTitle(about.title)
        self.canvas.setAuthor(about.author)
        self.canvas.setSubject(about.subject or about.title)
        self.canvas.setCreator("Kitwright")
        self.canvas.setProducer("Kitwright")
        self.canvas.setViewerPreference("DisplayDocTitle", "true")

    def text(self, x: float, y: float, text: str, style: Style = Style()) -> float:
        """One line with its base at y; returns its width."""
        shown = glyphs.in_reading_order(glyphs.printable(text, style.font))
        wide = glyphs.width(shown, size=style.size, font=style.font)
        at = x - {"left": 0.0, "right": wide, "centre": wide / 2}[style.align]
        if shown.isascii():
            self.canvas.plain(at, y, shown, style)
        else:
            self.canvas.setFillColor(style.ink)
            self.canvas.setFont(style.font, style.size)
            self.canvas.drawString(at, y, shown)
        return wide

    def lines(self, x: float, y: float, lines: list[str], style: Style) -> float:
        """Lines below each other, the first with its base at y; returns the base of the line after."""
        for line in lines:
            self.text(x, y, line, style)
            y -= style.leading
        return y

    def rule(
        self, x: float, y: float, to: tuple[float, float], *, width: float = 0.4, ink: Color = HAIR
    ) -> None:
        """A straight line."""
        self.canvas.setStrokeColor(ink)
        self.canvas.setLineWidth(width)
        self.canvas.line(x, y, *to)

    def box(
        self, x: float, y: float, size: tuple[float, float], *, width: float = 0.8, ink: Color = INK
    ) -> None:
        """An empty frame with its lower left corner at x, y."""
        self.canvas.setStrokeColor(ink)
        self.canvas.setLineWidth(width)
        self.canvas.rect(x, y, *size, stroke=1, fill=0)

    def next_page(self) -> None:
        """Put the page away and begin another."""
        self.canvas.showPage()
        self.page += 1

    def finish(self) -> None:
        """Write the document."""
        self.canvas.showPage()
        self.canvas.save()


def one_each(
    size: tuple[float, float], about: About, things: Sequence[Thing], draw: Callable[[Pen, Thing], None]
) -> bytes:
    """The bytes of a document with a page for each thing."""

    def draw_all(pen: Pen) -> None:
        for index, thing in enumerate(things):
            if index:
                pen.next_page()
            draw(pen, thing)

    return pdf(size, about, draw_all)


def pdf(size: tuple[float, float], about: About, draw: Callable[[Pen], None]) -> bytes:
    """The bytes of a document that `draw` draws."""
    out = BytesIO()
    pen = Pen(out, size, about)
    draw(pen)
    pen.finish()
    return out.getvalue()
