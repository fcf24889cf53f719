"""How much of a mesh top is covered, as the spec asks: air, water, heat, lamps and the cover obey."""

import pytest

from kits.effects import airing, moisture, warmth
from tests.full_shelf import CRESTED
from tests.lit_shelf import build_of, line_of, plan_of, unmet

MESH_BOX = {"interior_mm": {"width": 443, "depth": 443, "height": 592}, "top": {"kind": "mesh"}}


def covered(share, data=CRESTED, **more):
    return {**data, "enclosure": {**data["enclosure"], "covered_share": share}, **more}


@pytest.mark.parametrize("share", [0, 0.3, 0.65, 0.9])
def test_the_share_that_is_asked_for_rules_over_what_the_plan_would_cover(share):
    build = build_of(covered(share))
    assert airing.open_share(build) == pytest.approx(1 - share)
    assert airing.wants_cover(build) is (share > 0)
    inside = {**covered(share), "enclosure": {**MESH_BOX, "covered_share": share}}
    assert airing.open_share(build_of(inside)) == pytest.approx(1 - share)


def test_without_a_share_the_plan_decides_as_before():
    build = build_of(CRESTED)
    assert build.box.covered_share is None
    assert airing.open_share(build) == airing.open_share_wanted(build)


def test_the_more_is_covered_the_less_air_water_and_heat_are_lost():
    builds = [build_of(covered(share)) for share in (0, 0.3, 0.6, 0.9)]
    changes = [airing.air_changes_h(build, 25, 20) for build in builds]
    water = [moisture.sprayed_l_day(build) for build in builds]
    heat = [warmth.loss_w_k(build, air) for build, air in zip(builds, changes, strict=True)]
    for lost in (changes, water, heat):
        assert lost == sorted(lost, reverse=True)
        assert lost[0] > lost[-1]


def test_the_cover_is_sold_for_the_share_and_the_figures_are_those_of_it():
    plan, more = plan_of(covered(0.3)), plan_of(covered(0.6))
    assert line_of(plan, "mesh_cover").because[0] == "As asked, 30% of the mesh is covered."
    assert "cut to 443 x 133 mm" in line_of(plan, "mesh_cover").because[-1]
    assert more.figures["misting_l_day"] < plan.figures["misting_l_day"]
    assert line_of(plan_of(covered(0)), "mesh_cover") is None


def test_a_cover_that_the_customer_lays_without_buying_one_counts_all_the_same():
    ours, theirs = plan_of(covered(0.5)), plan_of(covered(0.5, without=["mesh_cover"]))
    assert theirs.figures["misting_l_day"] == ours.figures["misting_l_day"]
    assert line_of(theirs, "mesh_cover") is None


def test_lamps_stand_on_what_stays_open():
    assert airing.open_depth_mm(build_of(covered(0.9))) == pytest.approx(44.3)
    plan = plan_of(covered(0.9))
    assert line_of(plan, "uvb_fixture") is None
    assert "more top depth than the 44.3 mm there are" in unmet(plan, "uvb_fixture")
    assert line_of(plan_of(covered(0.6)), "uvb_fixture") is not None
