"""Leaders beside a drawing: which of them cross."""

from itertools import combinations
from random import Random

from kits.drawings.labels import cross, first_crossing, untangle


def leaders(seed, count=14):
    draw = Random(seed)
    anchors = [(draw.uniform(0, 100), draw.uniform(0, 200)) for _ in range(count)]
    return anchors, [(120.0, n * 13.0) for n in range(count)]


def test_the_first_crossing_is_the_first_of_all_pairs_that_cross():
    for seed in range(60):
        anchors, slots = leaders(seed)
        pairs = combinations(range(len(anchors)), 2)
        crossing = [(a, b) for a, b in pairs if cross(anchors[a], slots[a], anchors[b], slots[b])]
        assert first_crossing(anchors, slots) == next(iter(crossing), None)


def test_untangled_leaders_do_not_cross_and_share_no_slot():
    for seed in range(60):
        anchors, slots = leaders(seed)
        to = untangle(anchors, slots)
        assert sorted(to) == list(range(len(slots)))
        assert first_crossing(anchors, [slots[n] for n in to]) is None
