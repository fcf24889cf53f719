"""A small drawing of stock over time: changes in, the paths of an SVG out; labels stand beside it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

WIDTH, HEIGHT = 1000, 100
TOP, BOTTOM = 4, 2


@dataclass(frozen=True, slots=True)
class Curve:
    """What the drawing consists of, in its own units, and what it says as a sentence."""

    step: str
    under: str
    highest: int
    first_day: datetime
    last_day: datetime
    sentence: str
    width: int = WIDTH
    height: int = HEIGHT
    top: int = TOP
    base: int = HEIGHT - BOTTOM


def curve(
    on_hand: int, moves: Sequence[tuple[datetime, int]], *, now: datetime, days: int, unit: str
) -> Curve:
    """Stock over the last `days`, drawn backwards from what is there now.

    `moves` are signed changes of what is on hand, in any order; those before the window are left out.

    >>> now = datetime(2026, 11, 25)
    >>> drawn = curve(4, [(now - timedelta(days=1), -2)], now=now, days=10, unit="bag")
    >>> drawn.highest, drawn.sentence
    (6, 'Stock over the last 10 days: from 6 to 4 bag, at least 4, at most 6.')
    """
    start = now - timedelta(days=days)
    levels = _levels(on_hand, [move for move in moves if start <= move[0] <= now])
    start = max(start, _opening(levels, now) or start)
    amounts = [level for _, level in levels]
    highest = max(*amounts, 1)
    points = _steps(levels, start=start, now=now, highest=highest)
    line = " ".join(f"{'M' if place == 0 else 'L'}{x:.1f} {y:.1f}" for place, (x, y) in enumerate(points))
    base = HEIGHT - BOTTOM
    return Curve(
        step=line,
        under=f"{line} L{points[-1][0]:.1f} {base} L{points[0][0]:.1f} {base} Z",
        highest=highest,
        first_day=start,
        last_day=now,
        sentence=(
            f"Stock over the last {days} days: from {amounts[0]} to {amounts[-1]} {unit}, "
            f"at least {min(amounts)}, at most {max(amounts)}."
        ),
    )


def _opening(levels: Sequence[tuple[datetime | None, int]], now: datetime) -> datetime | None:
    """A little before the first goods ever came, so that a young item's drawing is not one empty line."""
    if len(levels) == 1 or levels[0][1] != 0:
        return None
    first = levels[1][0]
    return None if first is None else first - (now - first) / 20


def _levels(on_hand: int, moves: Sequence[tuple[datetime, int]]) -> list[tuple[datetime | None, int]]:
    """The level that each change led to, oldest first; the first has no time: it was there already."""
    level, found = on_hand, []
    for at, quantity in sorted(moves, reverse=True):
        found.append((at, level))
        level -= quantity
    return [(None, level), *reversed(found)]


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
