"""Remedies are looked for in whole stretches, and tried on selections of which nothing is told."""

import doctest
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from kits.planning import stretches
from kits.planning.build import draft_build
from kits.planning.chosen import Job, StillLacking, choose
from kits.planning.registry import ROLES
from kits.planning.spec import read_spec
from kits.planning.stock import Stock
from kits.planning.stretches import Stretches
from tests.full_shelf import CRESTED, DESERT
from tests.known_facts import known_facts
from tests.lit_shelf import LIT


def job_of(data, **more):
    spec = read_spec(data, facts=known_facts(), knows_item=LIT.knows)
    return Job(spec, known_facts(), LIT, Stock(lambda items: dict.fromkeys(items, 9)), **more)


def chosen_of(job, **more):
    return choose(job, draft_build(job.spec, facts=job.facts, owned={}), **more)


@given(st.lists(st.integers(0, 30), max_size=5), st.integers(0, 30), st.integers(0, 30))
def test_whole_stretches_are_ruled_out_and_the_first_place_is_found_all_the_same(things, start, stop):
    halves = Stretches(
        things, stop, place=lambda at: at, may_do=lambda low, high, thing: low <= thing <= high + 2,
        does=lambda at, left: at in left,
    )  # fmt: skip
    assert halves.first(start) == next((at for at in range(start, stop) if at in things), None)


def test_the_example_of_a_way_runs():
    assert doctest.testmod(stretches).failed == 0


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


@pytest.mark.parametrize("data", [CRESTED, DESERT, {**CRESTED, "fill": "free"}, {**DESERT, "fill": "free"}])
def test_a_trial_chooses_what_a_plan_chooses(data):
    told, tried = (chosen_of(job_of(data, trial=trial)) for trial in (False, True))
    for pick, other in zip(told.picks, tried.picks, strict=True):
        assert (pick.need.role, bool(pick.offers)) == (other.need.role, bool(other.offers))
        assert pick.need.by_volume or pick.offers == other.offers
    assert [one.role for one in told.unmet] == [one.role for one in tried.unmet]


def test_a_trial_ends_as_soon_as_a_role_is_unmet_that_may_not_be():
    job = job_of({**DESERT, "perches_mm": [{"height": 410, "back": 290}]})
    lacks = {one.role for one in chosen_of(job).unmet}
    assert "uvb_lamp" in lacks
    assert {one.role for one in chosen_of(job, may_lack=lacks).unmet} == lacks
    with pytest.raises(StillLacking):
        chosen_of(job, may_lack=lacks - {"uvb_lamp"})


def test_a_selection_of_equal_needs_is_made_once_in_a_job():
    job = job_of(CRESTED)
    first, again = chosen_of(job), chosen_of(replace(job, trial=True))
    assert [one is other for one, other in zip(first.selections, again.selections, strict=True)] == [True] * 3
