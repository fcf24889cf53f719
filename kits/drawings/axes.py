"""Axes of a diagram: round ticks, a panel from figures to points, and its frame with words."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, log10

from reportlab.graphics.shapes import Shape

from kits.drawings.labels import Point
from kits.drawings.pen import CAP_SHARE, FINE, HAIR, TEXT_SIZE, Pen, width_of

TICK = 3.0
WORDS_GAP = 2.0
STEPS = (1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, slots=True)
class Span:
    """The figures that an axis runs over."""

    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangle of the sheet and the figures along its sides."""

    left: float
    low: float
    width: float
    height: float
    across: Span
    up: Span

    def x(self, value: float) -> float:
        """Place across, kept between the sides."""
        return self.left + self.width * _share(value, self.across)

    def y(self, value: float) -> float:
        """Height, kept between the sides."""
        return self.low + self.height * _share(value, self.up)

    def at(self, across: float, up: float) -> Point:
        """A point."""
        return self.x(across), self.y(up)

    @property
    def right(self) -> float:
        """The right side."""
        return self.left + self.width

    @property
    def high(self) -> float:
        """The upper side."""
        return self.low + self.height


def _share(value: float, span: Span) -> float:
    return min(1.0, max(0.0, (value - span.low) / (span.high - span.low)))


def round_step(length: float, most: int) -> float:
    """The least round step of which at most so many make up a length.

    Example:
        >>> round_step(17, 6), round_step(0.9, 4)
        (5.0, 0.25)
    """
    raw = length / max(1, most)
    unit = 10.0 ** floor(log10(raw)) if raw > 0 else 1.0
    return next((unit * step for step in STEPS if unit * step >= raw * (1 - 1e-9)), unit * 10)


def round_span(values: Sequence[float], *, least: float, most: int = 6) -> tuple[Span, float]:
    """A span with round ends around all values, at least so long, and the step of its ticks.

    Example:
        >>> round_span([19.2, 31.7], least=5)
        (Span(low=17.5, high=32.5), 2.5)
    """
    low, high = min(values), max(values)
    if high - low < least:
        middle = (low + high) / 2
        low, high = middle - least / 2, middle + least / 2
    step = round_step(high - low, most)
    return Span(step * floor(low / step + 1e-9), step * ceil(high / step - 1e-9)), step


def ticks(span: Span, step: float) -> list[float]:
    """Multiples of a step within a span.

    Example:
        >>> ticks(Span(0, 24), 6)
        [0, 6, 12, 18, 24]
    """
    first = ceil(span.low / step - 1e-9)
    return [number * step for number in range(first, floor(span.high / step + 1e-9) + 1)]


def figure(value: float) -> str:
    """A value for a person, without digits that nobody reads.

    Example:
        >>> figure(0.637), figure(3.96), figure(33.4), figure(120.2)
        ('0.64', '4.0', '33', '120')
    """
    if abs(value) >= 9.95:
        return f"{value:.0f}"
    return f"{value:.1f}" if abs(value) >= 0.995 or value == 0 else f"{value:.2f}"


def plain(value: float) -> str:
    """A chosen value as it was chosen.

    Example:
        >>> plain(2.0), plain(0.25), plain(1500.0)
        ('2', '0.25', '1500')
    """
    return f"{round(value, 4) + 0.0:.10g}"


def frame_of(pen: Pen, panel: Panel) -> list[Shape]:
    """The outline of a panel."""
    return [pen.rect((panel.left, panel.low), (panel.width, panel.height), width=FINE)]


def grid_of(pen: Pen, panel: Panel, across: Sequence[float], up: Sequence[float]) -> list[Shape]:
    """Hairlines at the ticks, below everything."""
    runs = [[(panel.x(v), panel.low), (panel.x(v), panel.high)] for v in across]
    runs += [[(panel.left, panel.y(v)), (panel.right, panel.y(v))] for v in up]
    return [pen.strokes(runs, ink="drainage", width=HAIR)] if runs else []


def words_left(pen: Pen, panel: Panel, at: Sequence[tuple[float, str]]) -> Iterator[Shape]:
    """Ticks and words along the left side."""
    for value, words in at:
        y = panel.y(value)
        yield pen.line((panel.left - TICK, y), (panel.left, y), width=HAIR)
        yield pen.text((panel.left - TICK - WORDS_GAP, y - TEXT_SIZE * CAP_SHARE / 2), words, anchor="end")


def words_right(pen: Pen, panel: Panel, at: Sequence[tuple[float, str]]) -> Iterator[Shape]:
    """Ticks and words along the right side."""
    for value, words in at:
        y = panel.y(value)
        yield pen.line((panel.right, y), (panel.right + TICK, y), width=HAIR)
        yield pen.text((panel.right + TICK + WORDS_GAP, y - TEXT_SIZE * CAP_SHARE / 2), words)


def words_below(pen: Pen, panel: Panel, at: Sequence[tuple[float, str]]) -> Iterator[Shape]:
    """Ticks and words along the lower side."""
    for value, words in at:
        x = panel.x(value)
        yield pen.line((x, panel.low - TICK), (x, panel.low), width=HAIR)
        yield pen.text((x, panel.low - TICK - WORDS_GAP - TEXT_SIZE * CAP_SHARE), words, anchor="middle")


def widest(words: Sequence[str]) -> float:
    """Width of the longest of some words."""
    return max((width_of(one) for one in words), default=0.0)
