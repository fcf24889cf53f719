"""The closed forms of soil water against numerical quadrature on random soils and layers."""

import itertools
import math

import numpy as np
import pytest
from scipy.integrate import quad

from kits.physics.retention import container_capacity, layer_water_l, water_content

RANDOM = np.random.default_rng(20261125)


def soil():
    theta_r = RANDOM.uniform(0, 0.4)
    theta_s = RANDOM.uniform(theta_r + 0.05, 0.98)
    return (theta_r, theta_s, 10 ** RANDOM.uniform(-2.3, 0.2), RANDOM.uniform(1.06, 5))


CASES = [(soil(), 10 ** RANDOM.uniform(0, 2), RANDOM.uniform(-5, 20)) for _ in range(60)]
SLOPES = [(soil(), *RANDOM.uniform(0, 0.5, 2), RANDOM.uniform(-3, 10)) for _ in range(40)]


def summed(function, low, high, kink):
    """Quadrature in two pieces where the water table lies inside."""
    edges = [low, *([kink] if low < kink < high else []), high]
    pieces = itertools.pairwise(edges)
    return math.fsum(quad(function, a, b, epsabs=1e-12, epsrel=1e-11, limit=400)[0] for a, b in pieces)


@pytest.mark.parametrize(("soil", "height_cm", "base_cm"), CASES)
@pytest.mark.parametrize("drained", [True, False])
def test_container_capacity_is_the_mean_of_the_curve(soil, height_cm, base_cm, drained):
    base_cm = 0.0 if drained else base_cm
    mean = summed(lambda h: water_content(h, *soil), base_cm, base_cm + height_cm, 0) / height_cm
    assert container_capacity(height_cm, *soil, base_cm) == pytest.approx(mean, abs=1e-8)


@pytest.mark.parametrize(("soil", "front_m", "back_m", "base_cm"), SLOPES)
def test_a_sloped_layer_holds_the_sum_of_its_columns(soil, front_m, back_m, base_cm):
    def column_cm(share):
        height = 100 * (front_m + (back_m - front_m) * share)
        return height * container_capacity(height, *soil, base_cm)

    litres = 10 * quad(column_cm, 0, 1, epsabs=1e-11, epsrel=1e-11, limit=400)[0]
    assert layer_water_l(1, front_m, back_m, *soil, base_cm) == pytest.approx(litres, rel=1e-6)


@pytest.mark.parametrize(("soil", "front_m", "back_m", "base_cm"), SLOPES[:10])
@pytest.mark.parametrize("steepness", [1e-9, 1e-5, 1e-4, 1.1e-4, 1e-3])
def test_nearly_level_layers_lose_no_digits(soil, front_m, back_m, base_cm, steepness):
    back_m = front_m * (1 + steepness)
    level = layer_water_l(1, *[(front_m + back_m) / 2] * 2, *soil, base_cm)
    assert layer_water_l(1, front_m, back_m, *soil, base_cm) == pytest.approx(level, rel=1e-6)
