"""Published and worked figures for blends: packing, density, carbon to nitrogen, moisture."""

import doctest

import pytest

from inventory.calc import blending
from inventory.calc.blending import (
    blended_density_kg_l,
    blended_volume_l,
    carbon_nitrogen_ratio,
    ec_range,
    embedding,
    filling,
    moisture_to_add_l,
    ph_range,
    second_part_kg_for_moisture,
    second_part_kg_for_ratio,
)


def poured(*parts):
    return [dict(zip(("volume_l", "grain_mm", "void_fraction"), part, strict=True)) for part in parts]


def weighed(*parts):
    keys = ("wet_kg", "moisture_pct", "carbon_pct", "nitrogen_pct")
    return [dict(zip(keys, part, strict=True)) for part in parts]


GRASS = (10, 77, 45, 2.4)
LEAVES = (6.8, 35, 50, 0.75)


def test_the_two_functions_of_the_packing_model():
    """Yu, Zou and Standish 1996, Ind. Eng. Chem. Res. 35:3730, constants; values at a size ratio of 0.05."""
    assert filling(0.05) == pytest.approx(0.9662, abs=0.0001)
    assert embedding(0.05) == pytest.approx(0.9190, abs=0.0001)


# Worked from the modified linear packing model.
@pytest.mark.parametrize(
    ("parts", "volume_l", "shrinks"),
    [(((10, 10, 0.45), (10, 0.5, 0.40)), 15.864, 0.2068), (((10, 4, 0.45), (10, 2, 0.40)), 18.806, 0.0597)],
)
def test_bark_and_sand_shrink_as_worked(parts, volume_l, shrinks):
    found = blended_volume_l(poured(*parts))
    assert found == pytest.approx(volume_l, abs=0.001)
    assert 1 - found / 20 == pytest.approx(shrinks, abs=0.0001)


def test_equal_grains_do_not_shrink():
    assert blended_volume_l(poured((3, 2, 0.4), (5, 2, 0.5), (7, 2, 0.3))) == pytest.approx(15, abs=1e-9)


def test_fines_that_just_fill_the_voids_add_nothing():
    """Furnas and Westman, limit of a size ratio of 0: 4.5 L of fines in 10 L with 45 % voids."""
    assert blended_volume_l(poured((10, 1, 0.45), (4.5, 1e-9, 0.40))) == pytest.approx(10.0, abs=1e-6)


# Three bark, one peat, one sand: five volumes make about four (a maker's page says 4.0 to 4.25).
@pytest.mark.parametrize(("calibration", "volume_l"), [(1.0, 3.6194), (0.6, 4.1716)])
def test_three_bark_one_peat_one_sand(calibration, volume_l):
    parts = poured((3, 6, 0.45), (1, 1.5, 0.50), (1, 0.5, 0.40))
    assert blended_volume_l(parts, calibration) == pytest.approx(volume_l, abs=0.001)


def test_density_follows_from_mass_and_blended_volume():
    """10 L bark at 0.18 and 10 L sand at 1.5 kg/L weigh 16.8 kg in 15.864 L."""
    parts = [{**part, "density_kg_l": kg} for part, kg in zip(
        poured((10, 10, 0.45), (10, 0.5, 0.40)), (0.18, 1.5), strict=True)]  # fmt: skip
    assert blended_density_kg_l(parts) == pytest.approx(16.8 / 15.864, abs=0.0001)


def test_carbon_to_nitrogen_of_grass_and_leaves():
    """Cornell composting equation: 10 kg grass and 6.8 kg leaves."""
    assert carbon_nitrogen_ratio(weighed(GRASS, LEAVES)) == pytest.approx(36.73, abs=0.02)


def test_carbon_to_nitrogen_is_not_the_mean_of_the_ratios():
    """5 kg litter at 54 and 1 kg castings at 12: 45.65 by the equation, where the mean by mass says 47."""
    parts = weighed((5, 15, 48, 48 / 54), (1, 55, 25, 25 / 12))
    assert carbon_nitrogen_ratio(parts) == pytest.approx(45.65, abs=0.02)


def test_leaves_for_a_ratio_of_thirty():
    """Cornell prints 3.5 kg (from memory); the equation gives 3.474."""
    (grass,), (leaves,) = weighed(GRASS), weighed(LEAVES)
    leaves.pop("wet_kg")
    assert second_part_kg_for_ratio(grass, leaves, 30) == pytest.approx(3.474, abs=0.005)


def test_leaves_for_a_moisture_of_sixty():
    """Cornell prints 6.8 kg (from memory)."""
    assert second_part_kg_for_moisture(10, 77, 35, 60) == pytest.approx(6.8, abs=0.005)


def test_water_for_a_moisture_is_a_second_part_of_pure_water():
    assert moisture_to_add_l(10, 20, 50) == pytest.approx(second_part_kg_for_moisture(10, 20, 100, 50))
    assert moisture_to_add_l(10, 60, 50) == 0


def test_acidity_and_salts_are_told_as_ranges_of_what_is_there():
    """Peat 3.0 to 4.5 (University of Arkansas), perlite 6.5 to 8 (from memory); lime left out."""
    parts = [(3, 3.0, 4.5), (1, 6.5, 8.0), (0, 12.0, 13.0)]
    acid = [dict(zip(("volume_l", "ph_lo", "ph_hi"), part, strict=True)) for part in parts]
    salt = [dict(zip(("volume_l", "ec_lo", "ec_hi"), part, strict=True)) for part in parts]
    assert ph_range(acid) == [3.0, 8.0]
    assert ec_range(salt) == [3.0, 8.0]


def test_the_examples_in_the_docstrings_run():
    assert doctest.testmod(blending).attempted > 7
    assert doctest.testmod(blending).failed == 0
