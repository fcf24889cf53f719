"""Published and worked figures for the drainage layer."""

import doctest

import pytest

from kits.physics import drainage
from kits.physics.drainage import (
    capillary_rise_cm,
    days_to_siphoning,
    pore_mm,
    reservoir_l,
    safe_level_m,
    safe_reservoir_l,
)


# Jurin's law at 20 C, surface tension 0.07275 N/m, worked.
@pytest.mark.parametrize(("angle", "rise_cm"), [(0, 2.973), (60, 1.486), (90, 0), (120, 0)])
def test_water_climbs_by_the_law_of_jurin(angle, rise_cm):
    assert capillary_rise_cm(1, angle) == pytest.approx(rise_cm, abs=0.001)


def test_a_layer_of_60_by_45_by_5_cm_holds_5_4_litres_to_its_brim():
    assert reservoir_l(0.60 * 0.45, 0.05, 1.0) == pytest.approx(13.5, abs=0.01)
    assert reservoir_l(0.60 * 0.45, 0.05, 0.40) == pytest.approx(5.40, abs=0.01)


def test_fine_gravel_gives_back_a_quarter_of_its_volume():
    """Johnson 1967: specific yield of fine gravel 21, 25 and 35 %, mean 25."""
    assert reservoir_l(0.60 * 0.45, 0.05, 0.25) == pytest.approx(3.375, abs=0.001)


# Pore throats of 0.2 to 0.4 of the grain, from memory: rises worked from them.
@pytest.mark.parametrize(
    ("grain_mm", "low_cm", "high_cm"), [(10, 0.74, 1.49), (4, 1.86, 3.72), (0.5, 14.9, 29.8)]
)
def test_rise_between_grains_lies_in_its_band(grain_mm, low_cm, high_cm):
    assert capillary_rise_cm(pore_mm(grain_mm, 0.4)) == pytest.approx(low_cm, rel=0.01)
    assert capillary_rise_cm(pore_mm(grain_mm, 0.2)) == pytest.approx(high_cm, rel=0.01)
    assert low_cm < capillary_rise_cm(pore_mm(grain_mm)) < high_cm


def test_the_safe_volume_stops_short_of_the_soil_by_the_rise():
    """50 mm of 10 mm gravel: water of 20 C climbs 14.9 mm in pores of 2 mm, so 35.1 mm may stand (worked)."""
    assert safe_level_m(0.05, 10) == pytest.approx(0.0351, abs=0.0001)
    assert safe_reservoir_l(0.27, 0.05, 0.40, 10) == pytest.approx(0.27 * 35.13 * 0.40, abs=0.01)


def test_a_shallow_layer_of_fine_grains_has_no_safe_level():
    assert safe_reservoir_l(0.27, 0.03, 0.40, 2) == 0


def test_the_safe_volume_is_reached_after_what_stands_free_over_what_gathers():
    """3.79 L, of which 1 L stands; 0.3 L in and 0.2 L out a day, half of the surplus drains: 55.8 days."""
    assert days_to_siphoning(3.79, 0.3, 0.2, 0.5, 1.0) == pytest.approx(55.8, abs=0.01)


@pytest.mark.parametrize(
    "rates", [(0.2, 0.2, 1.0), (0.1, 0.2, 1.0), (0.3, 0.2, 0.0)], ids=["even", "drying", "nothing drains"]
)
def test_where_nothing_gathers_the_soil_never_draws(rates):
    assert days_to_siphoning(3.79, *rates) is None


def test_a_layer_already_too_full_draws_today():
    assert days_to_siphoning(1.0, 0.1, 0.2, standing_l=1.5) == 0


def test_the_examples_in_the_docstrings_run():
    assert doctest.testmod(drainage).attempted > 5
    assert doctest.testmod(drainage).failed == 0
