"""Sums of money add up to the cent."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.money import shared_out, sums

RATES = st.sampled_from(["0", "4", "8.25", "20"])


@given(st.integers(-(10**9), 10**9), st.lists(st.integers(0, 10**7), min_size=1, max_size=12))
def test_shares_add_up_and_each_is_within_a_cent_of_its_part(total, weights):
    shares = shared_out(total, weights)
    assert sum(shares) == total
    whole = sum(weights)
    if whole:
        assert all(abs(s - Decimal(total) * w / whole) < 1 for s, w in zip(shares, weights, strict=True))


@given(st.lists(st.integers(0, 10**6), min_size=1, max_size=9), st.integers(0, 100))
def test_a_discount_never_takes_more_than_its_line(lines, percent):
    shares = shared_out(sum(lines) * percent // 100, lines)
    assert all(0 <= share <= line for share, line in zip(shares, lines, strict=True))


@given(
    st.lists(st.tuples(st.integers(0, 10**6), RATES), max_size=9),
    st.sampled_from(["total", "line"]),
    st.booleans(),
)
def test_net_and_tax_always_make_gross(lines, basis, inclusive):
    found = sums(lines, basis=basis, inclusive=inclusive)
    assert found.net_cents + found.tax_cents == found.gross_cents
    assert sum(found.tax_by_rate.values()) == found.tax_cents
    given_sum = sum(amount for amount, _ in lines)
    assert given_sum == (found.gross_cents if inclusive else found.net_cents)
