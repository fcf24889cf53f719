"""Remedies are looked for in whole stretches, and tried on selections of which nothing is told."""

import doctest
from dataclasses import replace

import pytest

from kits.planning import stretches
from kits.planning.build import draft_build
from kits.planning.chosen import Job, choose
from kits.planning.selection import StillLacking
from kits.planning.spec import read_spec
from kits.planning.stock import Stock
from tests.full_shelf import CRESTED, DESERT
from tests.known_facts import known_facts
from tests.lit_shelf import LIT


def job_of(data, **more):
    spec = read_spec(data, facts=known_facts(), knows_item=LIT.knows)
    return Job(spec, known_facts(), LIT, Stock(lambda items: dict.fromkeys(items, 9)), **more)


def chosen_of(job, **more):
    return choose(replace(job, **more), draft_build(job.spec, facts=job.facts, owned={}))


def test_the_example_of_a_way_runs():
    assert doctest.testmod(stretches).failed == 0


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


LIT_ROLES = {"uvb_lamp", "uvb_fixture", "basking_lamp", "lamp_holder"}
NARROW = {
    "enclosure": {"interior_mm": {"width": 600, "depth": 100, "height": 590}, "top": {"kind": "mesh"}},
    "animals": [{"species": "pogona-vitticeps"}],
}


def test_what_finds_no_room_is_known_before_it_is_chosen_unless_it_is_named():
    crowded, named = job_of(NARROW), job_of({**NARROW, "choose": {"lamp_holder": ["DOME-160"]}})
    for job in (crowded, named):
        lacks = {one.role for one in chosen_of(job).unmet}
        assert {one.role for one in chosen_of(job, may_lack=lacks, made=[]).unmet} == lacks
    lacks = {one.role for one in chosen_of(crowded).unmet}
    assert lacks & {"uvb_lamp", "basking_lamp"}
    fresh = replace(crowded, made=[])
    with pytest.raises(StillLacking, match="uvb_fixture"):
        chosen_of(fresh, may_lack=lacks - LIT_ROLES)
    assert len(fresh.made) == 1  # what stands in the soil


def test_a_selection_of_equal_needs_is_made_once_in_a_job():
    job = job_of(CRESTED)
    first, again = chosen_of(job), chosen_of(replace(job, trial=True))
    assert [one is other for one, other in zip(first.selections, again.selections, strict=True)] == [True] * 3
