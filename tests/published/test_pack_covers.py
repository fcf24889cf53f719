"""Covers computed by two independent solvers on our own numbers, and a classic of number theory."""

import pytest

from inventory.calc.packs import cheapest_cover

SIZES = (("4", 4, "6.49"), ("8", 8, "10.99"), ("20", 20, "22.99"))


def on_offer(stock=(None, None, None)):
    return [
        {"code": code, "litres": litres, "price": price, "stock": n}
        for (code, litres, price), n in zip(SIZES, stock, strict=True)
    ]


@pytest.mark.parametrize(
    ("need", "stock", "cost", "litres", "counts"),
    [
        # Own numbers; a dynamic programme, an integer programme and a constraint programme agree on them.
        (47, (None, None, None), "56.97", 48, [0, 1, 2]),
        (47, (None, None, 1), "62.45", 48, [1, 3, 1]),
        (47, (10, 2, 1), "64.44", 48, [3, 2, 1]),
        (18, (None, None, None), "22.99", 20, [0, 0, 1]),
        (36, (None, None, None), "44.97", 36, [0, 2, 1]),
    ],
)
def test_cheapest_covers_are_those_of_the_independent_solvers(need, stock, cost, litres, counts):
    found = cheapest_cover(need, on_offer(stock))
    assert (found["cost"], found["litres"], list(found["counts"].values())) == (cost, litres, counts)


def leftover(need):
    packs = [{"code": str(size), "litres": size, "price": size} for size in (6, 9, 20)]
    return cheapest_cover(need, packs)["litres"] - need


def test_forty_three_is_the_largest_quantity_that_sizes_six_nine_and_twenty_cannot_form():
    # The Frobenius number of {6, 9, 20} is 43 (textbook number theory). With prices equal to litres the
    # cheapest cover is the smallest volume, so nothing is left over exactly when the need can be formed.
    assert leftover(43) > 0
    assert [need for need in range(44, 200) if leftover(need)] == []
