import pytest

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
