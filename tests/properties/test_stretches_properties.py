"""No stretch is ruled out in which something does."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.planning.build import draft_build
from kits.planning.registry import ROLES
from kits.planning.stretches import Stretches
from tests.full_shelf import CRESTED, DESERT
from tests.known_facts import known_facts
from tests.lit_shelf import LIT
from tests.unit.kits.test_stretches import job_of


@given(st.lists(st.integers(0, 30), max_size=5), st.integers(0, 30), st.integers(0, 30))
def test_whole_stretches_are_ruled_out_and_the_first_place_is_found_all_the_same(things, start, stop):
    halves = Stretches(
        things, stop, place=lambda at: at, may_do=lambda low, high, thing: low <= thing <= high + 2,
        does=lambda at, left: at in left,
    )  # fmt: skip
    assert halves.first(start) == next((at for at in range(start, stop) if at in things), None)


@pytest.mark.parametrize("role", ["uvb_lamp", "basking_lamp"])
@pytest.mark.parametrize("data", [CRESTED, DESERT, {**DESERT, "without": ["uvb_fixture"], "own": []}])
@given(heights=st.lists(st.integers(40, 590), min_size=3, max_size=3).map(sorted))
def test_a_lamp_that_does_on_a_stretch_is_never_ruled_out_there(role, data, heights):
    build = draft_build(job_of(data).spec, facts=known_facts(), owned={}).build
    low, there, high = (
        ROLES[role].needs(replace(build, perches=(replace(perch, height_mm=height),)))
        for perch in build.perches[:1]
        for height in heights
    )
    for group in LIT.groups(role):
        fit = ROLES[role].fit(there[0], group.figures) if there else None
        if fit and fit.passes and not fit.stops:
            assert ROLES[role].may_do_between(low[0], high[0], group.figures)
