"""Any JSON is read or refused."""

import json
from contextlib import suppress

from hypothesis import given
from hypothesis import strategies as st

from shop.calc import strict_json


@given(st.binary(max_size=200) | st.text(max_size=200))
def test_anything_is_read_or_refused_and_nothing_else(raw):
    with suppress(strict_json.BadJson):
        strict_json.loads(raw)


LEAVES = (
    st.none()
    | st.booleans()
    | st.integers(-(10**20), 10**20)
    | st.text(st.characters(exclude_characters="\0"))
)


@given(st.recursive(LEAVES, st.lists, max_leaves=9).filter(lambda value: repr(value).count("[") < 30))
def test_what_json_writes_is_read_back(value):
    assert strict_json.loads(json.dumps(value, ensure_ascii=False)) == value
