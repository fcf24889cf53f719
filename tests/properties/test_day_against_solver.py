"""The simulated day of boxes drawn at random, against a stiff solver of the same differential equations."""

from dataclasses import replace

import numpy as np
import pytest

from kits.physics.day_parts import box_of
from tests.day_boxes import CASES
from tests.published.test_day import assert_agrees, standing


@pytest.mark.parametrize("seed", range(4))
def test_a_day_of_a_random_box_is_the_solution_of_its_differential_equations(seed):
    draw = np.random.default_rng(seed).uniform
    case = standing(list(CASES.values())[seed % 3])
    sides = tuple(draw(0.4, 1.2, 3))
    box = box_of(
        sides, u_w_m2k=tuple(draw(1, 5, 3)), air_changes_h=draw(0.5, 15), soil_depth_m=draw(0.04, 0.2),
        leaf_area_m2=draw(0, 1.5),
    )  # fmt: skip
    box = replace(box, buoyant_changes_h=draw(0, 6), reservoir_capacity_l=50.0)
    soil_l = draw(box.dry_limit_l, 1.1 * box.container_capacity_l)
    heater = replace(case.schedule.heater, watts=draw(20, 120), soil_share=draw(0, 0.5), band_k=draw(0.5, 2))
    schedule = replace(case.schedule, heater=heater)
    assert_agrees(replace(case, box=box, schedule=schedule, start=replace(case.start, soil_water_l=soil_l)))
