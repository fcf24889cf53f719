"""No impossible soil, drainage layer or blend is computed, and media say how far they can be trusted."""

import math

import pytest

from inventory.calc import blending
from inventory.calc.errors import Impossible
from kits.physics import drainage, retention
from kits.physics.mixes import ingredient
from tests.known_facts import known_facts

SAND = (0.045, 0.43, 0.145, 2.68)
GRAIN = {"volume_l": 1, "grain_mm": 1, "void_fraction": 0.4}
LEAVES = {"wet_kg": 1, "carbon_pct": 50, "nitrogen_pct": 0.75, "moisture_pct": 35}
ACID = {"volume_l": 1, "ph_lo": 4, "ph_hi": 5}

CASES = [
    (retention.water_content, (math.nan, *SAND), "suction_cm"),
    (retention.water_content, (10, -0.1, 0.43, 0.145, 2.68), "theta_r"),
    (retention.water_content, (10, 0.5, 0.43, 0.145, 2.68), "theta_s"),
    (retention.water_content, (10, 0.1, 1.1, 0.145, 2.68), "theta_s"),
    (retention.water_content, (10, 0.1, 0.43, 0, 2.68), "alpha_per_cm"),
    (retention.water_content, (10, 0.1, 0.43, 0.145, 1), "n"),
    (retention.suction_at_water_content, (0.045, *SAND), "water_content"),
    (retention.suction_at_water_content, (0.44, *SAND), "water_content"),
    (retention.container_capacity, (0, *SAND), "height_cm"),
    (retention.air_space, (10, *SAND, math.inf), "base_suction_cm"),
    (retention.layer_water_l, (0, 0.1, 0.1, *SAND), "area_m2"),
    (retention.layer_water_l, (1, -0.1, 0.1, *SAND), "front_m"),
    (retention.first_watering_l, (10, 0.7, 1.2), "bagged_moisture"),
    (retention.particle_density_kg_m3, (95, 15), "ash_pct"),
    (retention.total_porosity, (1600, 1500), "bulk_density_kg_m3"),
    (retention.pore_space_pct_from_weight, (3000,), "dry_g_l"),
    (retention.air_volume_pct_from_weights, (100, 0.05), "wet_g_ml"),
    (retention.air_volume_pct_from_weights, (100, 1.2), "wet_g_ml"),
    (retention.sphagnum_retention, (0.3, 95, 10), "bulk_density_g_cm3"),
    (drainage.reservoir_l, (1, -0.1, 0.4), "depth_m"),
    (drainage.reservoir_l, (1, 0.1, 1.4), "void_fraction"),
    (drainage.capillary_rise_cm, (0,), "pore_mm"),
    (drainage.capillary_rise_cm, (1, 200), "contact_angle_deg"),
    (drainage.pore_mm, (4, 1.5), "share"),
    (drainage.safe_reservoir_l, (1, 0.1, 0.4, 0), "grain_mm"),
    (drainage.days_to_siphoning, (1, -1, 0), "in_l_day"),
    (drainage.days_to_siphoning, (1, 1, 0, 2), "drained_share"),
    (blending.blended_volume_l, ([],), "parts"),
    (blending.blended_volume_l, ([GRAIN] * 201,), "parts"),
    (blending.blended_volume_l, ([{**GRAIN, "grain_mm": 0}],), "parts.0.grain_mm"),
    (blending.blended_volume_l, ([GRAIN, {**GRAIN, "void_fraction": 1.2}],), "parts.1.void_fraction"),
    (blending.blended_volume_l, ([GRAIN], 1.5), "calibration"),
    (blending.blended_density_kg_l, ([{**GRAIN, "volume_l": 0, "density_kg_l": 1}],), "parts"),
    (blending.carbon_nitrogen_ratio, ([{**LEAVES, "nitrogen_pct": 0}],), "parts"),
    (blending.carbon_nitrogen_ratio, ([{**LEAVES, "moisture_pct": 101}],), "parts.0.moisture_pct"),
    (blending.second_part_kg_for_ratio, (LEAVES, LEAVES, 30), "ratio"),
    (blending.second_part_kg_for_moisture, (1, 40, 30, 60), "goal_pct"),
    (blending.moisture_to_add_l, (1, 40, 100), "goal_pct"),
    (blending.ph_range, ([{**ACID, "ph_lo": 6}],), "parts.0.ph_hi"),
    (blending.ph_range, ([{**ACID, "volume_l": 0}],), "parts"),
]


@pytest.mark.parametrize(("function", "arguments", "name"), CASES)
def test_an_impossible_argument_is_named(function, arguments, name):
    with pytest.raises(Impossible) as refusal:
        function(*arguments)
    assert refusal.value.argument == name


def test_every_curve_says_whether_it_is_published_derived_or_assumed():
    for medium in known_facts().media.values():
        kind, source = medium.text("curve"), medium.figures["theta_s"].source
        assert kind in ("published", "derived", "assumed")
        assert source.startswith(f"{kind}: ") == (kind != "published")
        assert (medium.figures["theta_s"].mark == "M") == (kind != "published")


def test_every_curve_is_one_that_a_soil_can_have():
    for medium in known_facts().media.values():
        curve = [medium.number(key) for key in ("theta_r", "theta_s", "alpha_per_cm", "n")]
        assert 0 < retention.container_capacity(10, *curve) <= curve[1]


def test_every_medium_of_a_house_mix_is_known_well_enough_to_compute_it():
    facts = known_facts()
    named = {code for mix in facts.mixes.values() for code in mix.figures}
    assert len(named) == 12
    assert all(ingredient(facts.media[code]) for code in named)
