"""The simulated day against a stiff solver of its differential equations, and against its own half steps."""

from dataclasses import replace

import numpy as np
import pytest

from kits.physics.air import relative_humidity_pct
from kits.physics.day_parts import box_of
from tests.day_as_ode import solved
from tests.day_boxes import CASES
from tests.published.test_day import day_of


def standing(case):
    """The case as it begins with one known temperature and a reservoir that does not run over."""
    start = replace(case.start, air_c=21.0, air_pct=60.0)
    return replace(case, start=start, box=replace(case.box, reservoir_capacity_l=50.0))


def assert_agrees(case):
    """The day lies within 0.05 K, 0.2 % humidity and a millilitre of the same equations solved tightly."""
    curve = day_of(case)
    air, glass, soil, _, ratio, soil_l, film_l, reservoir_l = solved(
        case, dry_air_kg=curve.dry_air_kg, minutes=curve.minutes
    )
    for mine, theirs in ((curve.air_c, air), (curve.glass_c, glass), (curve.soil_c, soil)):
        assert np.abs(mine - theirs).max() < 0.05
    pct = np.minimum(100, list(map(relative_humidity_pct, air, ratio)))
    assert np.abs(curve.humidity_pct - pct).max() < 0.2
    for mine, theirs in (
        (curve.soil_water_l, soil_l), (curve.film_water_l, film_l), (curve.reservoir_l, reservoir_l),
    ):  # fmt: skip
        assert np.abs(mine - theirs).max() < 0.001


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_a_day_is_the_solution_of_its_differential_equations(case):
    assert_agrees(standing(case))


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_halving_the_step_changes_next_to_nothing(case):
    coarse, fine = day_of(case), day_of(case, refine=2)
    for name in ("air_c", "glass_c", "soil_c"):
        assert np.abs(getattr(coarse, name) - getattr(fine, name)).max() < 0.05
    assert np.abs(coarse.humidity_pct - fine.humidity_pct).max() < 0.5


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
