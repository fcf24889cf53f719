"""Content that flows over columns and pages inside a frame.

What is drawn is kept as a list for each page and drawn at the end, because the foot of a page says how many
pages there are.
"""

from collections.abc import Callable
from dataclasses import dataclass, field

from inventory.documents import glyphs
from inventory.documents.pen import HAIR, INK, SOFT, Pen, Style

MARGIN = 24.0
INSIDE = 12.0
BLOCK_HEIGHT = 40.0
GUTTER = 18.0
BODY = Style(7.4)
SMALL = Style(6.4, ink=SOFT)
HEADING = Style(9.6, bold=True)

Drawn = Callable[[Pen], None]


@dataclass(slots=True)
class Flow:
    """Where the next thing goes."""

    size: tuple[float, float]
    pages: list[list[Drawn]] = field(default_factory=lambda: [[]])
    columns: int = 1
    column: int = 0
    y: float = 0.0
    top: float = 0.0

    def __post_init__(self) -> None:
        self.y = self.top = self.ceiling

    @property
    def ceiling(self) -> float:
        """The highest line of a page."""
        return self.size[1] - MARGIN - INSIDE

    @property
    def floor(self) -> float:
        """The lowest line above the title block."""
        return MARGIN + BLOCK_HEIGHT + 10

    @property
    def width(self) -> float:
        """Width of a column."""
        return (self.size[0] - 2 * (MARGIN + INSIDE) - (self.columns - 1) * GUTTER) / self.columns

    @property
    def left(self) -> float:
        """Left edge of the current column."""
        return MARGIN + INSIDE + self.column * (self.width + GUTTER)

    @property
    def right(self) -> float:
        """Right edge of the current column."""
        return self.left + self.width

    def draw(self, what: Drawn) -> None:
        """Something on the current page, wherever it goes."""
        self.pages[-1].append(what)

    def need(self, height: float) -> bool:
        """Move on to the next column or page where so much height is not left; whether it moved."""
        if self.y - height >= self.floor or self.y >= self.top:
            return False
        self.move_on()
        return True

    def move_on(self) -> None:
        """Begin the next column, or the next page after the last column."""
        if self.column + 1 < self.columns:
            self.column += 1
        else:
            self.pages.append([])
            self.column = 0
            self.top = self.ceiling
        self.y = self.top

    def set_columns(self, columns: int) -> None:
        """From here on in so many columns, below everything that is on the page."""
        self.columns, self.column, self.top = columns, 0, self.y

    def text(self, x: float, y: float, text: str, style: Style) -> None:
        """One line on the current page."""
        self.draw(lambda pen: _ignore(pen.text(x, y, text, style)))

    def rule(self, y: float, *, width: float = 0.4, strong: bool = False) -> None:
        """A line across the column."""
        left, right, ink = self.left, self.right, INK if strong else HAIR
        self.draw(lambda pen: pen.rule(left, y, (right, y), width=width, ink=ink))

    def heading(self, text: str, *, note: str = "", keep: float = 40.0) -> None:
        """A section's name, kept together with what follows it."""
        self.need(keep + 22)
        if self.y < self.top:
            self.y -= 8
        self.text(self.left, self.y - 9, text, HEADING)
        if note:
            wide = glyphs.width(text, size=HEADING.size, font=HEADING.font)
            shown = glyphs.cut(note, within=self.width - wide - 8, size=SMALL.size)
            self.text(self.left + wide + 6, self.y - 9, shown, SMALL)
        self.rule(self.y - 14, width=0.8, strong=True)
        self.y -= 17

    def paragraph(self, text: str, style: Style = BODY, *, indent: float = 0.0, gap: float = 3.0) -> None:
        """Text that runs on in the next column where it has to."""
        for line in glyphs.wrapped(text, within=self.width - indent, size=style.size, font=style.font):
            self.need(style.leading)
            self.text(self.left + indent, self.y - style.size, line, style)
            self.y -= style.leading
        self.y -= gap


def _ignore(_: object) -> None:
    """A drawn thing answers nothing."""
