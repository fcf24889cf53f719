"""A conversion loses nothing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory import units

NAMES = st.sampled_from(sorted(units.UNITS))


@given(st.fractions(), NAMES, NAMES)
def test_a_conversion_there_and_back_changes_nothing(amount, there, back):
    if units.UNITS[there].dimension != units.UNITS[back].dimension:
        with pytest.raises(units.NotConvertible, match="measures"):
            units.convert(amount, there, to=back)
        return
    assert units.convert(units.convert(amount, there, to=back), back, to=there) == amount


@given(st.integers(0, 10**9))
def test_whole_base_units_survive_litres(millilitres):
    litres = units.convert(millilitres, "mL", to="L")
    assert units.in_base_unit(litres, "L", base_unit="mL") == millilitres
