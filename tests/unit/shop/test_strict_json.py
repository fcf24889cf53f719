import json
from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shop.calc import strict_json


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("{", "Line 1"),
        ("", "Line 1"),
        (b"\xff\xfe\x00", "UTF-8"),
        ("NaN", "NaN"),
        ("[1, -Infinity]", "Infinity"),
        ("1e999", "too large"),
        ("9" * 26, "too long"),
        ('{"a": 1, "a": 1}', "twice"),
        ("[" * 33 + "]" * 33, "nested"),
        ("[" * 100_000, "nested"),
        ('"\\u0000"', "NUL"),
        ('{"\\ud800": 1}', "surrogate"),
    ],
)
def test_what_cannot_be_used_is_refused_with_its_reason(text, word):
    with pytest.raises(strict_json.BadJson, match=word):
        strict_json.loads(text)


def test_nesting_as_deep_as_allowed_is_read():
    assert strict_json.loads("[" * 32 + "]" * 32)


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
