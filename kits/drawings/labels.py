"""Placing labels: pushed apart without changing their order, joined by leaders that do not cross."""

from collections.abc import Sequence

Point = tuple[float, float]


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Places as near to the wanted ones as a gap between neighbours and two limits allow.

    `wanted` ascends. The pool-adjacent-violators method gives the least sum of squared shifts.

    Example:
        >>> spread([0.0, 1.0, 50.0], 10.0, -20.0, 100.0)
        [-4.5, 5.5, 50.0]
    """
    if not wanted:
        return []
    gap = min(gap, (high - low) / max(1, len(wanted) - 1)) if len(wanted) > 1 else gap
    pools: list[tuple[float, int]] = []  # mean of (wanted - number x gap) and how many share it
    for number, place in enumerate(wanted):
        mean, count = place - number * gap, 1
        while pools and pools[-1][0] > mean:
            before, size = pools.pop()
            mean, count = (before * size + mean * count) / (size + count), size + count
        pools.append((mean, count))
    flat = [mean for mean, count in pools for _ in range(count)]
    top = high - (len(wanted) - 1) * gap
    return [min(max(mean, low), top) + number * gap for number, mean in enumerate(flat)]


def untangle(anchors: Sequence[Point], slots: Sequence[Point]) -> list[int]:
    """For each anchor the slot that it is led to, so that no two leaders cross.

    Exchanging two crossing leaders always makes their sum shorter, so this ends.
    """
    to = list(range(len(anchors)))
    again = True
    while again:
        again = False
        for a in range(len(anchors)):
            for b in range(a + 1, len(anchors)):
                if cross(anchors[a], slots[to[a]], anchors[b], slots[to[b]]):
                    to[a], to[b] = to[b], to[a]
                    again = True
    return to


def cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the segments ab and cd cross within both."""
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
