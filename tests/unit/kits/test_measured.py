"""Needs measured before are not measured again, for the same shelf and the same way of measuring only."""

import doctest
from concurrent.futures import ThreadPoolExecutor

from kits.planning.measured import measured
from kits.planning.registry import ROLES
from kits.planning.remembered import Remembered
from kits.planning.shelf import Shelf
from kits.planning.substitutes import Swap
from kits.terms import identity
from kits.terms.needs import Fit, Need, Offer, Ware
from tests.full_shelf import CRESTED
from tests.lit_shelf import LIT, build_of


def shelf():
    wares = [Ware(f"ROD-{n}", f"Rod {n}", "piece", 100 + n) for n in range(20)]
    return Shelf.build(wares, [Offer(ware, "climb", {"length_mm": 10 * n}) for n, ware in enumerate(wares)])


def fit(need, figures):
    return Fit() if figures["length_mm"] >= need.wanted["shortest_mm"] else Fit("Too short.")


def need(shortest_mm, **changes):
    return Need("climb", count=1, wanted={"shortest_mm": shortest_mm}, **changes)


def test_an_equal_need_shares_its_field():
    rods = shelf()
    assert measured(need(100), rods, fit) is measured(need(100), rods, fit)


def test_another_need_shelf_or_measure_has_its_own_field():
    rods = shelf()
    first = measured(need(100), rods, fit)
    others = [
        measured(need(110), rods, fit),
        measured(need(100, slot="left"), rods, fit),
        measured(need(100, serves="plant"), rods, fit),
        measured(need(100), shelf(), fit),
        measured(need(100), rods, lambda need, figures: Fit()),
    ]
    assert all(other is not first for other in others)
    assert [len(other.suitable) for other in others] == [9, 10, 10, 10, 20]


def test_a_need_with_a_figure_that_cannot_be_compared_is_measured_each_time():
    rods, whole = shelf(), Need("climb", wanted={"shortest_mm": 100, "build": {"a", "b"}})
    assert measured(whole, rods, fit) is not measured(whole, rods, fit)


def test_what_a_perch_does_not_change_is_not_measured_again_with_another_one():
    low, high = (build_of({**CRESTED, "perches_mm": [{"height": mm, "back": 90}]}) for mm in (300, 400))
    for role in ("plant", "plant_light", "hide"):
        needs = zip(ROLES[role].needs(low), ROLES[role].needs(high), strict=True)
        pairs = [[measured(one, LIT, ROLES[role].fit) for one in pair] for pair in needs]
        assert pairs
        assert all(one is other for one, other in pairs)


def test_a_thing_is_known_by_which_one_it_is():
    assert doctest.testmod(identity).failed == 0
    assert len({identity.Itself(one) for one in ([], [])}) == 2


def test_threads_that_walk_together_see_the_same():
    slow = Remembered(sum(range(number)) for number in range(3000))
    with ThreadPoolExecutor(4) as threads:
        walks = list(threads.map(lambda _: list(slow), range(4)))
    assert walks == [[sum(range(number)) for number in range(3000)]] * 4


def test_what_stands_in_is_kept_under_all_that_it_was_sought_beside():
    asked = [
        Swap((), frozenset(), short=False),
        Swap((), frozenset({"ROD-1"}), short=False),
        Swap((), frozenset(), short=True),
        Swap((), frozenset(), short=False, beside=frozenset({"pilea-cadierei"})),
    ]
    assert len({swap.named() for swap in asked}) == len(asked)
