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
        for a, anchor in enumerate(anchors):
            slot = slots[to[a]]
            for b in range(a + 1, len(anchors)):
                if cross(anchor, slot, anchors[b], slots[to[b]]):
                    to[a], to[b] = to[b], to[a]
                    slot, again = slots[to[a]], True
    return to


def cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the segments ab and cd cross within both: each has the ends of the other on two sides."""
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = a, b, c, d
    x, y = bx - ax, by - ay
    if (x * (cy - ay) - y * (cx - ax)) * (x * (dy - ay) - y * (dx - ax)) >= 0:
        return False
    x, y = dx - cx, dy - cy
    return (x * (ay - cy) - y * (ax - cx)) * (x * (by - cy) - y * (bx - cx)) < 0


def first_crossing(anchors: Sequence[Point], slots: Sequence[Point]) -> tuple[int, int] | None:
    """The first two leaders that `cross`; two that are not level with each other anywhere cannot."""
    spans = [(min(a[1], s[1]), max(a[1], s[1])) for a, s in zip(anchors, slots, strict=True)]
    for a in range(len(anchors)):
        anchor, slot, (low, high) = anchors[a], slots[a], spans[a]
        for b in range(a + 1, len(anchors)):
            if spans[b][0] < high and spans[b][1] > low and cross(anchor, slot, anchors[b], slots[b]):
                return a, b
    return None
