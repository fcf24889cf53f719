"""What holds for every soil, drainage layer and blend."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from inventory.calc.blending import blended_volume_l, carbon_nitrogen_ratio
from inventory.calc.errors import Impossible
from kits.physics.drainage import capillary_rise_cm, days_to_siphoning, reservoir_l, safe_reservoir_l
from kits.physics.retention import (
    air_space,
    container_capacity,
    layer_water_l,
    suction_at_water_content,
    water_content,
)

SOILS = st.tuples(st.floats(0, 0.4), st.floats(0.45, 0.98), st.floats(0.005, 1.5), st.floats(1.05, 6))
HEIGHTS = st.floats(0.5, 100)
DEPTHS = st.floats(0, 0.5)
PART = st.fixed_dictionaries(
    {"volume_l": st.floats(0.01, 100), "grain_mm": st.floats(0.05, 40), "void_fraction": st.floats(0.3, 0.6)}
)
PARTS = st.lists(PART, min_size=1, max_size=6)
WEIGHED = st.fixed_dictionaries(
    {
        "wet_kg": st.floats(0.01, 100), "carbon_pct": st.floats(1, 60),
        "nitrogen_pct": st.floats(0.05, 10), "moisture_pct": st.floats(0, 90),
    }
)  # fmt: skip


@given(SOILS, st.floats(0, 1000), st.floats(0, 1000))
def test_more_suction_leaves_less_water(soil, one, other):
    low, high = sorted((one, other))
    assert soil[0] <= water_content(high, *soil) <= water_content(low, *soil) <= soil[1]


@given(SOILS, st.floats(0.5, 200))
def test_suction_and_water_content_turn_each_other_round(soil, suction_cm):
    theta = water_content(suction_cm, *soil)
    assume(soil[0] + 1e-3 < theta < soil[1] - 1e-6)
    assert suction_at_water_content(theta, *soil) == pytest.approx(suction_cm, rel=1e-5)


@given(SOILS, HEIGHTS, HEIGHTS, st.floats(-10, 30))
def test_a_deeper_layer_is_drier_and_airier(soil, one, other, base_cm):
    low, high = sorted((one, other))
    assert container_capacity(high, *soil, base_cm) <= container_capacity(low, *soil, base_cm) + 1e-9
    assert air_space(high, *soil, base_cm) >= air_space(low, *soil, base_cm) - 1e-9


@given(SOILS, HEIGHTS, st.floats(0, 30), st.floats(0, 30))
def test_more_suction_below_leaves_less_water(soil, height_cm, one, other):
    low, high = sorted((one, other))
    assert container_capacity(height_cm, *soil, high) <= container_capacity(height_cm, *soil, low) + 1e-9


@given(SOILS, HEIGHTS)
def test_water_and_air_make_the_porosity(soil, height_cm):
    water, air = container_capacity(height_cm, *soil), air_space(height_cm, *soil)
    assert water + air == pytest.approx(soil[1])
    assert soil[0] <= water <= soil[1]


@given(SOILS, DEPTHS, DEPTHS)
def test_a_slope_holds_the_same_either_way_and_less_than_its_pores(soil, front_m, back_m):
    litres = layer_water_l(1, front_m, back_m, *soil)
    assert litres == pytest.approx(layer_water_l(1, back_m, front_m, *soil), abs=1e-9)
    assert litres <= soil[1] * 500 * (front_m + back_m) + 1e-6


@given(st.floats(0.01, 20), st.floats(0, 90))
def test_wider_pores_and_worse_wetting_lift_less(pore_mm, angle):
    assert capillary_rise_cm(2 * pore_mm, angle) == pytest.approx(capillary_rise_cm(pore_mm, angle) / 2)
    assert capillary_rise_cm(pore_mm, angle) <= capillary_rise_cm(pore_mm)


@given(DEPTHS, st.floats(0.2, 0.6), st.floats(1, 30), st.floats(1, 30))
def test_the_safe_volume_is_below_the_brim_and_grows_with_the_grain(depth_m, void, one, other):
    fine, coarse = sorted((one, other))
    brim = reservoir_l(0.2, depth_m, void)
    assert safe_reservoir_l(0.2, depth_m, void, fine) <= safe_reservoir_l(0.2, depth_m, void, coarse) <= brim


@given(st.floats(0.1, 20), st.floats(0, 1), st.floats(0, 1), st.floats(0.01, 1))
def test_the_water_gathered_until_siphoning_is_the_safe_volume(safe_l, in_l, out_l, drained):
    assume(in_l - out_l == 0 or abs(in_l - out_l) > 1e-6)
    days = days_to_siphoning(safe_l, in_l, out_l, drained)
    if in_l <= out_l:
        assert days is None
    else:
        assert days * drained * (in_l - out_l) == pytest.approx(safe_l)


@given(PARTS, st.floats(0, 1))
def test_a_blend_is_no_more_than_was_poured_and_no_less_than_its_largest_part(parts, calibration):
    volume = blended_volume_l(parts, calibration)
    assert volume <= sum(part["volume_l"] for part in parts) * (1 + 1e-12)
    assert volume >= max(part["volume_l"] for part in parts) * (1 - 1e-12)


@given(PARTS, st.floats(0.1, 10))
def test_a_blend_scales_with_what_is_poured(parts, factor):
    more = [{**part, "volume_l": part["volume_l"] * factor} for part in parts]
    assert blended_volume_l(more) == pytest.approx(factor * blended_volume_l(parts))


@given(PARTS)
def test_without_calibration_a_blend_does_not_shrink(parts):
    assert blended_volume_l(parts, 0) == pytest.approx(sum(part["volume_l"] for part in parts))


@given(PARTS, st.permutations(range(6)))
def test_the_order_of_pouring_does_not_matter(parts, order):
    turned = [parts[i] for i in order if i < len(parts)]
    assert blended_volume_l(turned) == pytest.approx(blended_volume_l(parts))


@given(PARTS, PART)
def test_a_part_of_nothing_changes_nothing(parts, part):
    assert blended_volume_l([*parts, {**part, "volume_l": 0}]) == blended_volume_l(parts)


@given(st.lists(WEIGHED, min_size=1, max_size=5))
def test_a_ratio_lies_between_those_of_its_parts(parts):
    ratios = [part["carbon_pct"] / part["nitrogen_pct"] for part in parts]
    assert min(ratios) * (1 - 1e-9) <= carbon_nitrogen_ratio(parts) <= max(ratios) * (1 + 1e-9)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, True, "1"])
@pytest.mark.parametrize("at", range(5))
def test_what_is_no_finite_number_is_refused(bad, at):
    given_ = [10.0, 0.045, 0.43, 0.145, 2.68]
    given_[at] = bad
    with pytest.raises(Impossible):
        container_capacity(*given_)
