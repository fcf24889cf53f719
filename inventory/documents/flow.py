"""Content that flows over columns and pages inside a frame.

What is drawn is kept as a list for each page and drawn at the end, because the foot of a page says how many
pages there are.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

from reportlab.lib.colors import Color

from inventory.documents import glyphs
from inventory.documents.pen import HAIR, INK, SOFT, Pen, Style, styled

MARGIN = 18.0
INSIDE = 10.0
BLOCK_HEIGHT = 35.0
GUTTER = 14.0
BODY = Style(8.5)
SMALL = Style(7, ink=SOFT)
UNBROKEN = 3  # lines of a paragraph that are not parted by the end of a column
TITLE_MORE = 1.5  # points that the name of a section is larger than text

Drawn = Callable[[Pen], None]


# Thousands of these are made for a sheet: one object each, where a closure would be six.
@dataclass(slots=True)
class _Line:
    """One line of text in its place."""

    x: float
    y: float
    words: str
    style: Style

    def __call__(self, pen: Pen) -> None:
        pen.text(self.x, self.y, self.words, self.style)


@dataclass(slots=True)
class _Rule:
    """A level line in its place."""

    left: float
    y: float
    right: float
    width: float
    ink: Color

    def __call__(self, pen: Pen) -> None:
        pen.rule(self.left, self.y, (self.right, self.y), width=self.width, ink=self.ink)


@dataclass(frozen=True, slots=True)
class Block:
    """Something of a known height that is not broken; `place` draws it where the flow is."""

    height: float
    place: Callable[[], None]


@dataclass(slots=True)
class Flow:
    """Where the next thing goes."""

    size: tuple[float, float]
    pages: list[list[Drawn]] = field(default_factory=lambda: [[]])
    columns: int = 1
    column: int = 0
    y: float = 0.0
    top: float = 0.0
    type_pt: float = BODY.size
    waiting: list[Block] = field(default_factory=list)  # for the top of a column that has room
    running: str = ""  # the section whose text is named again below what comes between

    def __post_init__(self) -> None:
        self.y = self.top = self.ceiling

    @property
    def ceiling(self) -> float:
        """The highest line of a page."""
        return self.size[1] - MARGIN - INSIDE

    @property
    def floor(self) -> float:
        """The lowest line above the title block."""
        return MARGIN + BLOCK_HEIGHT + 5

    @property
    def body(self) -> Style:
        """How text looks."""
        return styled(self.type_pt)

    @property
    def strong(self) -> Style:
        """How text looks that is not to be missed."""
        return styled(self.type_pt, bold=True)

    @property
    def small(self) -> Style:
        """How sources and the heads of tables look."""
        return styled(self.type_pt - (BODY.size - SMALL.size), ink=SOFT)

    @property
    def width(self) -> float:
        """Width of a column."""
        return self.width_of(self.columns)

    def width_of(self, columns: int) -> float:
        """Width of one of so many columns."""
        return (self.size[0] - 2 * (MARGIN + INSIDE) - (columns - 1) * GUTTER) / columns

    @property
    def left(self) -> float:
        """Left edge of the current column."""
        return MARGIN + INSIDE + self.column * (self.width + GUTTER)

    @property
    def right(self) -> float:
        """Right edge of the current column."""
        return self.left + self.width

    @property
    def share_of_page(self) -> float:
        """How much of the columns of the last page has something in it."""
        return (self.column + (self.top - self.y) / (self.top - self.floor)) / self.columns

    @property
    def left_over(self) -> float:
        """Points of height that the columns of the last page have left, one after another."""
        return (1.0 - self.share_of_page) * self.columns * (self.top - self.floor)

    def draw(self, what: Drawn) -> None:
        """Something on the current page, wherever it goes."""
        self.pages[-1].append(what)

    def need(self, height: float) -> bool:
        """Move on to the next column or page where so much height is not left; whether it moved."""
        if self.y - height >= self.floor or self.y >= self.top:
            return False
        self.move_on()
        again = self.body.leading + 2 if self.running else 0.0
        while self.y < self.top and self.y - height - again < self.floor:
            self.move_on()
        if again and self.y < self.top:
            self._name_again()
        return True

    def _name_again(self) -> None:
        """Say below a picture whose text goes on there."""
        words = styled(self.type_pt, bold=True, ink=SOFT)
        self.text(self.left, self.y - self.type_pt, f"{self.running}, continued", words)
        self.y -= words.leading + 2

    def move_on(self) -> None:
        """Begin the next column, or the next page after the last column."""
        if self.column + 1 < self.columns:
            self.column += 1
        else:
            self.pages.append([])
            self.column = 0
            self.top = self.ceiling
        self.y = self.top
        self._place_waiting()

    def _place_waiting(self) -> None:
        """What waits goes where the flow is while it has room, the tallest that fits first."""
        while fitting := [block for block in self.waiting if self.y - block.height >= self.floor]:
            block = max(fitting, key=lambda one: one.height)
            self.waiting.remove(block)
            block.place()
            self.y -= block.height

    def place_rest(self) -> None:
        """What still waits, here and in as many columns as it takes."""
        self._place_waiting()
        while self.waiting:
            self.move_on()

    def set_columns(self, columns: int) -> None:
        """From here on in so many columns, below everything that is on the page."""
        self.columns, self.column, self.top = columns, 0, self.y

    def text(self, x: float, y: float, text: str, style: Style) -> None:
        """One line on the current page."""
        self.draw(_Line(x, y, text, style))

    def rule(self, y: float, *, width: float = 0.4, strong: bool = False) -> None:
        """A line across the column."""
        left, right, ink = self.left, self.right, INK if strong else HAIR
        self.draw(_Rule(left, y, right, width, ink))

    def heading(self, text: str, *, note: str = "", keep: float = 60.0) -> None:
        """A section's name, kept together with what follows it."""
        self.running = ""
        self.need(keep + 22)
        if self.y < self.top:
            self.y -= 8
        self.titled(text, note=note)
        self.running = text

    def titled(self, text: str, *, note: str = "") -> None:
        """A name over a strong rule, here and now."""
        style, base = styled(self.type_pt + TITLE_MORE, bold=True), self.y - self.type_pt - 0.5
        shown = glyphs.cut(text, within=self.width, size=style.size, font=style.font)
        self.text(self.left, base, shown, style)
        if note:
            wide = glyphs.width(shown, size=style.size, font=style.font)
            beside = glyphs.cut(note, within=max(0.0, self.width - wide - 8), size=self.small.size)
            self.text(self.left + wide + 6, base, beside, self.small)
        self.rule(base - 4, width=0.8, strong=True)
        self.y = base - 7

    def paragraph(
        self, text: str, style: Style | None = None, *, indent: float = 0.0, gap: float = 3.0, lead: str = ""
    ) -> None:
        """Text that runs on in the next column where it has to, but never around a block that waits there.

        `lead` stands in bold before the first line, which begins at the column's edge.
        """
        style = style or self.body
        bold = styled(style.size, bold=True, ink=style.ink)
        first = glyphs.width(f"{lead}  ", size=bold.size, font=bold.font) - indent if lead else 0.0
        lines = glyphs.wrapped(
            text, within=self.width - indent, size=style.size, font=style.font, first_indent=first
        )
        together = len(lines) if self.waiting or len(lines) <= UNBROKEN else 2
        self.need(together * style.leading)
        if lead:
            self.text(self.left, self.y - style.size, lead, bold)
        for number, line in enumerate(lines):
            self.need(style.leading)
            self.text(self.left + indent + (0 if number else first), self.y - style.size, line, style)
            self.y -= style.leading
        self.y -= gap
