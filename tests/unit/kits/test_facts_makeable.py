"""How many of one kit today's free stock makes."""

import pytest

from kits.planning.makeable import makeable
from kits.terms.plan import Plan, PlanLine, Totals, Unmet


def line(item, quantity, role="substrate"):
    return PlanLine(role, item, item, quantity, "bag", 100, 100 * quantity, "free", 0, 0)


def plan(*lines, unmet=()):
    return Plan({}, lines, unmet, {}, (), (), Totals(0, 0, 0, "USD"), ())


@pytest.mark.parametrize(
    ("lines", "free", "count", "limited_by"),
    [
        ([line("A", 2)], {"A": 7}, 3, ("A",)),
        ([line("A", 2), line("B", 1)], {"A": 7, "B": 1}, 1, ("B",)),
        ([line("A", 2), line("A", 1, "litter")], {"A": 7}, 2, ("A",)),
        ([line("A", 1), line("B", 1)], {"A": 4, "B": 4}, 4, ("A", "B")),
        ([line("A", 1)], {}, 0, ("A",)),
        ([], {"A": 9}, 0, ()),
    ],
)
def test_the_scarcest_item_decides_and_shared_items_count_together(lines, free, count, limited_by):
    made = makeable(plan(*lines), free=free)
    assert (made.count, made.limited_by) == (count, limited_by)


def test_a_kit_with_an_unmet_role_cannot_be_made():
    assert makeable(plan(line("A", 1), unmet=(Unmet("timer", "none"),)), free={"A": 9}).count == 0
