"""Air changes that somebody measured take the place of the lid's model."""

from dataclasses import replace

import pytest

from kits.effects import airing
from kits.planning.build import draft_build
from kits.terms.facts import Figure
from tests.full_shelf import CRESTED, spec_of
from tests.known_facts import known_facts
from tests.lit_shelf import build_of, plan_of, working
from tests.unit.kits.test_spec import faults

DRY_ROOM = {"temperature_c": 21, "night_temperature_c": 15, "relative_humidity_pct": 30}


def crested(**enclosure):
    return {**CRESTED, "enclosure": {**CRESTED["enclosure"], **enclosure}, "room": DRY_ROOM}


def test_a_measured_exchange_is_taken_as_it_is_where_nothing_is_covered():
    bare = {**crested(air_changes_h=7.5), "without": ["mesh_cover"]}
    assert airing.air_changes_h(build_of(bare), 24, 21) == 7.5
    assert "air changes as measured" in working(plan_of(bare), "heat_loss_w_k").note
    assert working(plan_of(bare), "heat_loss_w_k").inputs["air_changes_h"] == 7.5


def test_of_a_leakier_lid_more_is_covered_until_it_exchanges_five_times_its_air():
    covered = [airing.open_share(build_of(crested(air_changes_h=measured))) for measured in (4, 10, 20, 40)]
    assert covered == sorted(covered, reverse=True)
    assert covered[0] == 1.0
    build = build_of(crested(air_changes_h=10))
    assert 4 < airing.air_changes_h(build, airing.warm_air_c(build), 21) <= 5


def test_without_a_measurement_the_factor_of_two_of_the_model_is_shown():
    build, plan = build_of(crested()), plan_of(crested())
    warm_c = airing.warm_air_c(build)
    low, high = airing.band_h(build, warm_c, 21)
    lid = airing.air_changes_h(build, warm_c, 21) - 0.5
    assert (low - 0.5, high - 0.5) == pytest.approx((lid / 2, 2 * lid))
    assert "good to a factor of two" in working(plan, "heat_loss_w_k").note
    assert "L by the lid's model, good to a factor of two" in working(plan, "misting_l_day").note


def test_a_closed_top_and_a_measurement_have_no_band_of_the_model():
    assert airing.band_h(build_of(crested(air_changes_h=3)), 24, 21) is None
    assert airing.band_h(build_of({**CRESTED, "enclosure": {"size": "120x60x60-pvc"}}), 24, 21) is None


def test_the_shops_own_figure_of_a_catalogue_size_counts_until_the_spec_names_another():
    known = known_facts()
    size = known.enclosures["45x45x60-glass"]
    own = {**size.figures, "air_changes_h": Figure(6.5, "own", "tracer (marit)", "1/h")}
    facts = replace(known, enclosures={**known.enclosures, size.code: replace(size, figures=own)})
    boxes = [draft_build(spec_of(crested(**more)), facts=facts, owned={}).build.box
             for more in ({}, {"air_changes_h": 8})]  # fmt: skip
    assert [box.air_changes_h for box in boxes] == [6.5, 8]


@pytest.mark.parametrize("wrong", [0, -1, 501, "5", True, float("nan")])
def test_an_impossible_exchange_is_refused_by_name(wrong):
    assert "/enclosure/air_changes_h" in faults(crested(air_changes_h=wrong))
