"""Impossible arguments are refused by name."""

import doctest

import pytest

from inventory.calc.errors import Impossible
from kits.physics import geometry, power, weight

CASES = [
    (geometry.layer_l, (0, 1, 0.1, 0.1), "width_m"),
    (geometry.layer_l, (1, 1, -0.1, 0.1), "front_m"),
    (geometry.layer_l, (1, float("nan"), 0.1, 0.1), "depth_m"),
    (geometry.clipped_layer_l, (1, 1, 0.1, 0.1, 0), "height_m"),
    (geometry.footprint_m2, (1, -1), "depth_m"),
    (geometry.sheets_to_cover, (900, 900, 20, 500), "overlap_mm"),
    (geometry.overhang_mm, (0, 450), "length_mm"),
    (weight.glass_kg, (1, 1, 1, 0), "thickness_m"),
    (weight.pane_area_m2, (1, 1, 0), "height_m"),
    (weight.floor_load_kg_m2, (-1, 1, 1), "mass_kg"),
    (weight.floor_load_kg_m2, (1, 0, 1), "width_m"),
    (weight.kg_m2_from_psf, (-1,), "psf"),
    (power.continuous_limit_w, (0, 120), "breaker_a"),
    (power.energy_kwh, (10, 25), "hours_a_day"),
    (power.energy_kwh, (-1, 5), "watts"),
    (power.energy_kwh, (1, 5, -1), "days"),
    (power.energy_kwh, (1, 5, 365, 1.1), "duty"),
    (power.circuit_share, (-1, 15, 120), "watts"),
    (power.holder_share, (75, 0), "holder_max_w"),
    (weight.filled_kg, (1, [{"litres": 1, "density_kg_l": -1}]), "layers.density_kg_l"),
    (weight.floor_share, (1, 0), "floor_psf"),
]


@pytest.mark.parametrize(("function", "arguments", "name"), CASES)
def test_an_impossible_argument_is_named(function, arguments, name):
    with pytest.raises(Impossible) as refusal:
        function(*arguments)
    assert refusal.value.argument == name


@pytest.mark.parametrize("module", [geometry, power, weight])
def test_the_examples_in_the_docstrings_run(module):
    assert doctest.testmod(module).attempted > 0
    assert doctest.testmod(module).failed == 0
