"""One tax for each rate on the summed base, half up at two decimals; other terms on request."""

import doctest

import pytest

from kits.planning import totals as module
from kits.planning.totals import totals
from kits.terms.plan import PlanLine, Terms


def line(cents, rate="6.25"):
    return PlanLine("litter", "LEAF", "Leaves", 1, "bag", cents, cents, "free", 9, 0, tax_rate_pct=rate)


@pytest.mark.parametrize(
    ("cents", "terms", "expected"),
    [
        ([1000], Terms(), (1000, 63, 1063)),  # 62.5 cents are rounded up
        ([101, 101, 101], Terms(), (303, 19, 322)),  # 18.94 on the sum
        ([101, 101, 101], Terms(tax_basis="line"), (303, 18, 321)),  # 6.31 each
        ([1063], Terms(prices_include_tax=True), (1000, 63, 1063)),
        ([], Terms(), (0, 0, 0)),
    ],
)
def test_tax_follows_the_terms(cents, terms, expected):
    found = totals([line(one) for one in cents], terms)
    assert (found.net_cents, found.tax_cents, found.gross_cents) == expected


def test_each_rate_is_taxed_on_its_own_sum():
    found = totals([line(250, "6.25"), line(250, "20"), line(250, "20")], Terms(currency="EUR"))
    assert (found.tax_cents, found.currency) == (16 + 100, "EUR")


def test_the_example_in_the_docstring_runs():
    assert doctest.testmod(module).attempted > 0
    assert doctest.testmod(module).failed == 0
