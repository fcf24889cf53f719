"""Numbers of quotes and orders are read back, and no wrong digit passes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.codes import numbered, parse_number
from inventory.calc.errors import Impossible

COUNTERS = st.integers(1, 10**9)


@given(COUNTERS)
def test_a_number_is_read_back_as_it_was_written(counter):
    assert parse_number(f" {numbered(counter).lower()} ") == counter


@given(COUNTERS, st.data())
def test_one_wrong_digit_is_always_noticed(counter, data):
    code = numbered(counter)
    at = data.draw(st.integers(0, len(code) - 2))
    digit = data.draw(st.sampled_from([d for d in "0123456789" if d != code[at]]))
    with pytest.raises(Impossible):
        parse_number(code[:at] + digit + code[at + 1 :])
