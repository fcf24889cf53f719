"""A small drawing of stock over time: changes in, the paths of an SVG out; labels stand beside it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

WIDTH, HEIGHT = 1000, 100
TOP, BOTTOM = 4, 2
MARGIN = 20  # one part in so many of a young item's drawing lies before its first goods
BY_THE_HOUR = timedelta(days=4)  # what spans less is labelled with times, not with days alone
Change = tuple[datetime, int]


@dataclass(frozen=True, slots=True)
class Curve:
    """What the drawing consists of, in its own units, and what it says as a sentence."""

    step: str
    under: str
    held: str  # the area of what is promised; empty when nothing was
    highest: int
    first: datetime
    middle: datetime
    last: datetime
    days: int | None  # None when it begins with the first goods that ever came
    sentence: str
    width: int = WIDTH
    half: int = WIDTH // 2
    height: int = HEIGHT
    top: int = TOP
    base: int = HEIGHT - BOTTOM

    @property
    def is_by_the_hour(self) -> bool:
        """Whether days alone would name both ends alike, or nearly."""
        return self.last - self.first < BY_THE_HOUR


@dataclass(frozen=True, slots=True)
class Amount:
    """How much there is now, and the signed changes that led to it, in any order."""

    now: int
    changes: Sequence[Change] = ()


def curve(stock: Amount, *, held: Amount, now: datetime, days: int, unit: str) -> Curve:
    """Stock and holds over the last `days`, or since the first goods came when they came later.

    Both are drawn backwards from what is there now; changes before the window are left out.

    >>> now = datetime(2026, 11, 25)
    >>> moved = Amount(4, [(now - timedelta(days=1), -2)])
    >>> drawn = curve(moved, held=Amount(1), now=now, days=10, unit="bag")
    >>> drawn.highest, drawn.sentence
    (6, 'Stock over the last 10 days: from 6 to 4 bag, at least 4, at most 6; 1 is held now.')
    """
    levels = _levels(stock, since=now - timedelta(days=days), now=now)
    opening = _opening(levels, now)
    start = opening or now - timedelta(days=days)
    promised = _levels(held, since=start, now=now)
    highest = max(1, *(level for _, level in levels + promised))
    line = _steps(levels, start=start, now=now, highest=highest)
    return Curve(
        step=_path(line),
        under=_area(line),
        held=_area(_steps(promised, start=start, now=now, highest=highest)) if _any(promised) else "",
        highest=highest,
        first=start,
        middle=start + (now - start) / 2,
        last=now,
        days=None if opening else days,
        sentence=_sentence([level for _, level in levels], held.now, None if opening else days, unit),
    )


def _sentence(amounts: Sequence[int], held: int, days: int | None, unit: str) -> str:
    span = "since the first came" if days is None else f"over the last {days} days"
    promised = f"; {held} {'is' if held == 1 else 'are'} held now" if held else ""
    return (
        f"Stock {span}: from {amounts[0]} to {amounts[-1]} {unit}, "
        f"at least {min(amounts)}, at most {max(amounts)}{promised}."
    )


def _opening(levels: Sequence[tuple[datetime | None, int]], now: datetime) -> datetime | None:
    """A little before the first goods ever came, so that a young item's drawing is not one empty line."""
    if len(levels) == 1 or levels[0][1] != 0:
        return None
    first = levels[1][0]
    return None if first is None else first - (now - first) / MARGIN


def _levels(amount: Amount, *, since: datetime, now: datetime) -> list[tuple[datetime | None, int]]:
    """The level that each change led to, oldest first; the first has no time: it was there already."""
    level, found = amount.now, []
    for at, quantity in sorted((one for one in amount.changes if since <= one[0] <= now), reverse=True):
        found.append((at, level))
        level -= quantity
    return [(None, level), *reversed(found)]


def _any(levels: Sequence[tuple[datetime | None, int]]) -> bool:
    return any(level for _, level in levels)


def _steps(
    levels: Sequence[tuple[datetime | None, int]], *, start: datetime, now: datetime, highest: int
) -> list[tuple[float, float]]:
    span = (now - start).total_seconds() or 1.0  # Goods that came at this very moment: a step at the edge.
    points: list[tuple[float, float]] = []
    for at, level in levels:
        share = 0.0 if at is None else (at - start).total_seconds() / span
        x = share * WIDTH
        y = HEIGHT - BOTTOM - level / highest * (HEIGHT - BOTTOM - TOP)
        if points:
            points.append((x, points[-1][1]))
        points.append((x, y))
    return [*points, (float(WIDTH), points[-1][1])]


def _path(points: Sequence[tuple[float, float]]) -> str:
    return " ".join(f"{'M' if place == 0 else 'L'}{x:.1f} {y:.1f}" for place, (x, y) in enumerate(points))


def _area(points: Sequence[tuple[float, float]]) -> str:
    base = HEIGHT - BOTTOM
    return f"{_path(points)} L{points[-1][0]:.1f} {base} L{points[0][0]:.1f} {base} Z"
