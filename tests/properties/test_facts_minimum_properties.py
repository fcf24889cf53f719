"""What holds of every minimum-size rule, whatever the animal."""

from hypothesis import given
from hypothesis import strategies as st

from kits.planning.minimum_rules import RULES
from kits.planning.minimum_sizes import by_rule, shortfalls
from kits.terms.build import Box

rules = st.sampled_from(sorted(RULES))
lengths = st.floats(min_value=20, max_value=4000)
counts = st.integers(min_value=1, max_value=12)


@given(rules, lengths, counts)
def test_another_animal_never_lowers_the_minimum(rule, length, count):
    fewer, more = (by_rule(rule, count=n, length_mm=length) for n in (count, count + 1))
    assert more.floor_m2 >= fewer.floor_m2
    assert (more.exact_mm[2] or 0) >= (fewer.exact_mm[2] or 0)


@given(rules, lengths, st.floats(min_value=0, max_value=500), counts)
def test_a_longer_animal_never_lowers_the_minimum(rule, length, longer_by, count):
    short, long = (by_rule(rule, count=count, length_mm=mm) for mm in (length, length + longer_by))
    assert long.floor_m2 >= short.floor_m2 - 1e-9


@given(rules, lengths, counts)
def test_a_box_of_the_rounded_sides_has_no_shortfall(rule, length, count):
    size = by_rule(rule, count=count, length_mm=length)
    sides = (size.width_mm, size.depth_mm, size.height_mm or 100)
    assert shortfalls(size, Box(*sides, 0, "pvc", 12, "solid", 0)) == ()


@given(rules, lengths, counts)
def test_sides_are_rounded_up_to_ten_millimetres(rule, length, count):
    size = by_rule(rule, count=count, length_mm=length)
    assert size.width_mm % 10 == size.depth_mm % 10 == 0
    assert 0 <= size.width_mm - max(size.exact_mm[0], size.shortest_side_mm) + 1e-4 < 10.001
