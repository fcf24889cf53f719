"""Whatever JSON arrives: a build spec, or every fault with its sentence; never a traceback."""

import json

from hypothesis import given, settings
from hypothesis import strategies as st

from kits.planning.registry import ROLES
from kits.planning.spec import BadSpec, BuildSpec
from tests.build_specs import KEYS, mutated, specs
from tests.full_shelf import spec_of

SCALARS = (
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=30)
    | st.sampled_from([10**400, -(10**30), float("inf"), "\ud800", "x" * 10_000, "mister", "desert"])
)  # fmt: skip
JSON = st.recursive(
    SCALARS, lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=5)
)


def read(data):
    """The spec or the refusal, which must be fit to be sent."""
    try:
        return spec_of(data)
    except BadSpec as refusal:
        found = refusal
    for error in found.errors:
        assert error.detail.endswith((".", "?"))
        assert len(error.detail) < 400
        json.dumps([error.pointer, error.detail], ensure_ascii=False).encode("utf-8")
    assert found.errors
    return found


@settings(max_examples=1500, deadline=None)
@given(JSON)
def test_any_json_is_read_or_refused(data):
    read(data)


@settings(max_examples=1500, deadline=None)
@given(st.dictionaries(KEYS, JSON, max_size=8))
def test_any_object_with_known_keys_is_read_or_refused(data):
    read(data)


@settings(max_examples=1500, deadline=None)
@given(mutated(SCALARS))
def test_a_good_spec_with_one_value_changed_is_read_or_refused(data):
    read(data)


@settings(max_examples=1000, deadline=None)
@given(specs())
def test_a_good_spec_is_read(data):
    assert isinstance(read(data), BuildSpec)


@settings(max_examples=300, deadline=None)
@given(specs(), st.text(min_size=1, max_size=12))
def test_an_unknown_key_is_always_refused_by_name(data, key):
    refusal = read({**data, f"{key}_": 1})
    assert isinstance(refusal, BadSpec)
    assert "is not a field known here" in str(refusal)


@settings(max_examples=100, deadline=None)
@given(st.integers(1, 30_000))
def test_deep_nesting_is_refused(depth):
    nested: list[object] = []
    for _ in range(depth):
        nested = [nested]
    assert isinstance(read({"enclosure": nested, "animals": nested, "own": nested}), BadSpec)


def test_the_roles_of_a_spec_are_the_roles_there_are():
    assert isinstance(
        read({"enclosure": {"size": "45x45x60-glass"}, "style": "desert", "without": list(ROLES)}), BuildSpec
    )
