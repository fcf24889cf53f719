"""Every pure calculation, whatever it is given: an answer or a sentence, never a traceback."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.calc import workings
from inventory.errors import BadInput
from shop.calc import calculations

each_calculation = pytest.mark.parametrize(
    "calculation", workings.catalogue(calculations.ROOMS), ids=lambda c: c.name
)
JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=3),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner, max_size=3),
)


@each_calculation
@settings(max_examples=50)  # of each of nearly two hundred
@given(data=st.data())
def test_any_numbers_at_all_are_computed_or_refused_by_name(calculation, data):
    numbers = st.floats() | st.integers(-10, 10) | JSON
    arguments = {p.name: data.draw(numbers, label=p.name) for p in calculation.parameters}
    try:
        answer = workings.work(calculation, arguments).as_json()
    except BadInput as refusal:
        answer = [error.detail for error in refusal.errors]
    assert json.dumps(answer, allow_nan=False) != "[]"
