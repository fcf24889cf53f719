"""Covers by packs against trying every count."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.errors import Impossible
from inventory.calc.packs import Pack, cheapest_cover, cover

CODES = "abcd"
UP_TO_THREE = st.integers(0, 3)


def sizes_on_offer(free=UP_TO_THREE):
    rows = st.tuples(st.integers(1, 12), st.integers(0, 9), free)
    return st.lists(rows, min_size=1, max_size=3)


def every_count(need, sizes, limits):
    ranges = [range(min(limit, -(-need // size)) + 1) for size, limit in zip(sizes, limits, strict=True)]
    for counts in itertools.product(*ranges):
        if sum(size * n for size, n in zip(sizes, counts, strict=True)) >= need:
            yield counts


def total(values, counts):
    return sum(value * n for value, n in zip(values, counts, strict=True))


@given(need=st.integers(0, 20), rows=sizes_on_offer())
def test_cover_uses_what_is_free_then_price_leftover_bags_and_earlier_code(need, rows):
    sizes, prices, free = zip(*rows, strict=True)
    packs = [Pack(code, size, price, n) for code, (size, price, n) in zip(CODES, rows, strict=False)]

    def order(counts):
        from_shelf = total(sizes, [min(n, f) for n, f in zip(counts, free, strict=True)])
        uncovered = max(0, need - from_shelf)
        return uncovered, total(prices, counts), total(sizes, counts), sum(counts), [-n for n in counts]

    best = list(min(every_count(need, sizes, [99] * len(sizes)), key=order))
    for index in sorted(range(len(rows)), key=lambda i: (-prices[i], i)):
        spare = total(sizes, best) - need
        if order(best)[0]:  # bags beyond the free ones can make free bags needless
            best[index] -= min(spare // sizes[index], free[index], best[index])
    found = cover(need, packs)
    assert [found.counts.get(code, 0) for code in CODES[: len(rows)]] == best
    assert (found.price_cents, found.millilitres) == (total(prices, best), total(sizes, best))
    assert found.leftover_millilitres == total(sizes, best) - need


@given(need=st.integers(0, 20), rows=sizes_on_offer(free=st.none() | UP_TO_THREE))
def test_cheapest_cover_agrees_with_trying_every_count(need, rows):
    sizes, prices, stock = zip(*rows, strict=True)
    packs = [
        {"code": code, "litres": size, "price": str(price), "stock": n}
        for code, (size, price, n) in zip(CODES, rows, strict=False)
    ]
    limits = [99 if n is None else n for n in stock]
    covers = list(every_count(need, sizes, limits))
    if not covers:
        with pytest.raises(Impossible, match="packs"):
            cheapest_cover(need, packs)
        return
    best = min(covers, key=lambda c: (total(prices, c), total(sizes, c), sum(c), [-n for n in c]))
    assert list(cheapest_cover(need, packs)["counts"].values()) == list(best)


@given(need=st.integers(1, 40), rows=sizes_on_offer())
def test_the_order_in_which_packs_are_given_does_not_matter(need, rows):
    packs = [Pack(code, *row) for code, row in zip(CODES, rows, strict=False)]
    assert cover(need, packs).counts == cover(need, packs[::-1]).counts
