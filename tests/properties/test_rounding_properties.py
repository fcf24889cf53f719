"""Whole numbers are rounded as all others are."""

from hypothesis import given
from hypothesis import strategies as st

from kits.terms import rounding


@given(st.floats(-2e9, 2e9) | st.integers(-3000, 3000).map(lambda halves: halves / 2 + 4e-5))
def test_whole_numbers_are_rounded_as_all_others_are(value):
    assert rounding.rounded(value) == rounding._rounded(value, rounding.Digits(0, rounding.ALL))
