"""What must hold for any lamp, box and mesh."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from inventory.calc.errors import Impossible
from kits.physics import ultraviolet, uv_field, uv_lamps, uv_mesh, uv_readings, uv_weights
from kits.physics.grids import Grid
from kits.terms.build import Box

lengths = st.floats(0.1, 1.5)
heights = st.floats(0.05, 3)
offsets = st.floats(-1, 1)
readings = st.floats(0.1, 20)
shares = st.floats(0.05, 1)


def box(width=900, depth=450, height=600, top="mesh", share=0.66):
    return Box(width, depth, height, 100, "glass", 4, top, share)


@given(lengths, heights, st.floats(1.01, 3), offsets)
def test_more_distance_below_the_middle_gives_less(length, height, further, aside):
    near = ultraviolet.tube_factor(length, height)
    assert ultraviolet.tube_factor(length, height * further) < near
    assert ultraviolet.tube_factor(length, height, aside_m=aside) <= near * (1 + 1e-12)
    assert ultraviolet.tube_factor(length, height, along_m=aside) <= near * (1 + 1e-12)


@given(lengths, heights, offsets, offsets)
def test_a_tube_shines_alike_to_both_sides(length, height, along, aside):
    here = ultraviolet.tube_factor(length, height, along, aside)
    assert ultraviolet.tube_factor(length, height, -along, -aside) == pytest.approx(here, rel=1e-9)


@given(lengths, heights, offsets, offsets)
def test_two_halves_of_a_tube_shine_as_the_whole(length, height, along, aside):
    quarter = length / 4
    halves = (
        ultraviolet.tube_factor(length / 2, height, along + shift, aside) for shift in (-quarter, quarter)
    )
    assert sum(halves) == pytest.approx(ultraviolet.tube_factor(length, height, along, aside), rel=1e-6)


@given(lengths, st.floats(0.0005, 0.002))
def test_close_by_half_the_distance_doubles(length, height):
    near, far = ultraviolet.tube_factor(length, height / 2), ultraviolet.tube_factor(length, height)
    assert near / far == pytest.approx(2, rel=1e-3)


@given(lengths, st.floats(40, 100))
def test_far_away_half_the_distance_quadruples(length, times):
    near, far = (ultraviolet.tube_factor(length, length * times * part) for part in (0.5, 1))
    assert near / far == pytest.approx(4, rel=2e-3)


@given(readings, heights, lengths, heights, shares)
def test_the_closest_perch_has_the_limit_and_nothing_nearer_does(index, reference, length, distance, share):
    limit = uv_lamps.tube_uv_index(index, reference, length, distance, transmission=share)
    found = uv_lamps.closest_distance_m(index, reference, length, limit, share)
    assert found == pytest.approx(distance, rel=1e-9)
    assert uv_lamps.tube_uv_index(index, reference, length, found * 0.99, transmission=share) > limit


@given(readings, heights, heights, shares)
def test_the_closest_perch_below_a_small_lamp(index, reference, distance, share):
    limit = uv_lamps.point_uv_index(index, reference, distance, share)
    assert uv_lamps.closest_distance_m(index, reference, 0, limit, share) == pytest.approx(distance, rel=1e-9)


@given(readings, heights, lengths, shares)
def test_the_reading_comes_back_at_its_own_place(index, reference, length, share):
    assert uv_lamps.tube_uv_index(index, reference, length, reference) == pytest.approx(index, rel=1e-12)
    assert uv_lamps.point_uv_index(index, reference, reference, share) == pytest.approx(
        index * share, rel=1e-12
    )


@given(st.floats(0.35, 30), st.floats(0.35, 30), st.floats(0, 0.99))
def test_wire_and_open_share_round_trip(first, second, part):
    wire = min(first, second) * part
    share = uv_mesh.rectangular_open_fraction(first, second, wire)
    assert uv_mesh.wire_mm_from_open_fraction(first, second, share) == pytest.approx(wire, abs=1e-6 * first)


@given(st.floats(0.3, 30), st.floats(0.01, 3), st.floats(0, 89), st.floats(0, 89))
def test_the_more_light_leans_the_less_passes(opening, wire, one, other):
    straight, leaning = (
        uv_mesh.oblique_open_fraction(opening, wire, angle) for angle in sorted((one, other))
    )
    assert 0 <= leaning <= straight <= ultraviolet.mesh_open_fraction(opening, wire) + 1e-12


@given(st.floats(0, 60), st.floats(0, 60))
def test_a_lamp_only_loses_with_months(one, other):
    young, old = (uv_readings.aged_share(months) for months in sorted((one, other)))
    assert old[0] <= young[0]
    assert old[1] <= young[1]
    assert old[0] <= old[1]


@given(st.floats(250, 400), st.floats(250, 400))
def test_longer_waves_never_redden_more(one, other):
    short, long = sorted((one, other))
    assert ultraviolet.erythemal_weight(long) <= ultraviolet.erythemal_weight(short)


@given(st.floats(200, 450))
def test_weights_lie_between_nothing_and_one(nm):
    for weight in (ultraviolet.erythemal_weight, uv_weights.vitamin_d_weight):
        assert 0 <= weight(nm) <= 1
    assert 0 <= uv_weights.actinic_weight(nm) <= 1.0002  # the fit is 1.00003 times its table at 300 nm


spectra = st.lists(st.tuples(st.floats(0.1, 5), st.floats(0, 1)), min_size=2, max_size=40)


def as_lists(steps, start=260.0):
    nm = (start + np.cumsum([step for step, _ in steps])).tolist()
    return nm, [irradiance for _, irradiance in steps]


@given(spectra, st.floats(0.1, 10))
def test_twice_the_light_is_twice_the_index(steps, times):
    nm, irradiance = as_lists(steps)
    once = ultraviolet.uv_index(nm, irradiance)
    assert ultraviolet.uv_index(nm, [times * e for e in irradiance]) == pytest.approx(times * once, rel=1e-9)


@given(spectra, st.data())
def test_a_spectrum_read_in_two_parts_adds_up(steps, data):
    assume(len(steps) > 2)
    nm, irradiance = as_lists(steps)
    cut = data.draw(st.integers(1, len(nm) - 2))
    parts = [(nm[: cut + 1], irradiance[: cut + 1]), (nm[cut:], irradiance[cut:])]
    total = sum(ultraviolet.uv_index(*part) for part in parts)
    assert total == pytest.approx(ultraviolet.uv_index(nm, irradiance), rel=1e-9, abs=1e-12)


@given(st.lists(st.floats(0, 12), min_size=2, max_size=8))
def test_zones_rise_with_the_index(averages):
    zones = [ultraviolet.zone(average) for average in sorted(averages)]
    assert all(a <= b for a, b in pairwise(zones))


# The axis of a tube lies at least its radius of 8 mm above the rim that it rests on.
above_rim = st.floats(608, 700)
tubes = st.builds(
    uv_field.TubeLamp, readings, st.floats(100, 500), st.floats(200, 900), st.floats(0, 900),
    st.floats(0, 450), above_rim, shares,
)  # fmt: skip
points = st.builds(
    uv_field.PointLamp, readings, st.floats(100, 500), st.floats(0, 900), st.floats(0, 450),
    above_rim, shares,
)  # fmt: skip
small = Grid(9, 7, 11)


@given(tubes | points, tubes | points)
def test_lamps_add_up(one, other):
    both = uv_field.uv_field([one, other], box(), small).values
    each = [uv_field.uv_field([lamp], box(), small).values for lamp in (one, other)]
    assert np.allclose(both, each[0] + each[1], rtol=1e-12)


@given(tubes)
def test_the_field_is_what_the_closed_form_says_at_a_spot(lamp):
    field = uv_field.uv_field([lamp], box(), small)
    along, aside = (field.x_mm[2] - lamp.x_mm) / 1000, (field.y_mm[5] - lamp.y_mm) / 1000
    spot = uv_lamps.tube_uv_index(
        lamp.reference_uv_index, lamp.reference_distance_mm / 1000, lamp.lit_length_mm / 1000,
        (lamp.z_mm - field.z_mm[4]) / 1000, along, aside, 0.66 * lamp.share,
    )  # fmt: skip
    assert field.values[2, 5, 4] == pytest.approx(spot, rel=1e-9)


@given(points)
def test_the_field_of_a_small_lamp_is_what_the_closed_form_says(lamp):
    field = uv_field.uv_field([lamp], box(), small)
    aside = math.hypot(field.x_mm[2] - lamp.x_mm, field.y_mm[5] - lamp.y_mm) / 1000
    distance = (lamp.z_mm - field.z_mm[4]) / 1000
    share = 0.66 * lamp.share
    spot = uv_lamps.point_uv_index(
        lamp.reference_uv_index, lamp.reference_distance_mm / 1000, distance, share, aside
    )
    assert field.values[2, 5, 4] == pytest.approx(spot, rel=1e-9)


@given(readings, st.floats(100, 500), st.floats(200, 900), st.floats(610, 700), st.integers(1, 9))
def test_the_largest_in_reach_is_the_closed_form(index, reference, lit, lamp_height, level):
    lamp = uv_field.TubeLamp(index, reference, lit, 450, 225, lamp_height)
    reach = 60 * level
    found = uv_field.uv_field([lamp], box(), Grid(9, 7, 11)).largest_up_to(reach)
    closed = uv_lamps.largest_reachable(index, reference / 1000, lit / 1000, lamp_height, reach, 0.66)
    assert found == pytest.approx(closed, rel=1e-9)


@given(tubes, st.floats(200, 500))
def test_no_spot_in_reach_exceeds_the_closed_form_wherever_the_lamp_hangs(lamp, reach):
    field = uv_field.uv_field([lamp], box(), small)
    closed = uv_lamps.largest_reachable(
        lamp.reference_uv_index, lamp.reference_distance_mm / 1000, lamp.lit_length_mm / 1000, lamp.z_mm,
        reach, 0.66 * lamp.share,
    )  # fmt: skip
    assert field.largest_up_to(reach) <= closed * (1 + 1e-9)


@given(tubes | points, st.sampled_from(["glass", "solid"]))
def test_nothing_comes_through_an_opaque_top(lamp, top):
    assert not uv_field.uv_field([lamp], box(top=top), small).values.any()


@given(tubes | points)
def test_a_lamp_inside_the_box_shines_under_any_top(lamp):
    inside = type(lamp)(**{name: getattr(lamp, name) for name in lamp.__slots__} | {"z_mm": 500})
    fields = [uv_field.uv_field([inside], box(top=top), small).values for top in ("glass", "open", "mesh")]
    assert fields[0].max() > 0
    assert np.array_equal(fields[0], fields[1])
    assert np.array_equal(fields[0], fields[2])
    assert not fields[0][:, :, 9:].any()  # at 540 and 600 mm a spot that looks up does not see it


weaves = st.builds(uv_field.Weave, st.floats(0.5, 10), st.floats(0.1, 1))


@given(tubes | points, weaves)
def test_a_mesh_dims_light_that_leans_more_than_its_open_share(lamp, weave):
    share = ultraviolet.mesh_open_fraction(weave.opening_mm, weave.wire_mm)
    straight = uv_field.uv_field([lamp], box(share=share), small).values
    leaning = uv_field.uv_field([lamp], box(share=share), small, weave).values
    assert (leaning <= straight * (1 + 1e-6)).all()


@given(tubes)
def test_a_mesh_of_vanishing_wire_changes_nothing(lamp):
    bare = uv_field.uv_field([lamp], box(top="open"), small).values
    meshed = uv_field.uv_field([lamp], box(), small, uv_field.Weave(5, 0)).values
    assert np.allclose(meshed, bare, rtol=1e-6)


@given(tubes, weaves)
def test_a_small_lamp_right_above_sees_the_mesh_straight_on(tube, weave):
    lamp = uv_field.PointLamp(tube.reference_uv_index, 300, 450, 225, tube.z_mm)
    found = uv_field.uv_field([lamp], box(), small, weave).values[4, 3, 0]
    share = ultraviolet.mesh_open_fraction(weave.opening_mm, weave.wire_mm)
    assert found == pytest.approx(
        uv_lamps.point_uv_index(tube.reference_uv_index, 0.3, tube.z_mm / 1000, share), rel=1e-9
    )


@given(st.lists(tubes | points, min_size=1, max_size=3))
def test_sections_are_cuts_of_the_field(lamps):
    field = uv_field.uv_field(lamps, box(), small)
    depth = uv_field.uv_section(lamps, box(), "depth", grid=small)
    width = uv_field.uv_section(lamps, box(), "width", at_mm=0, grid=small)
    assert np.allclose(depth.values, field.values[4].T, rtol=1e-12)
    assert np.allclose(width.values, field.values[:, 0].T, rtol=1e-12)
    assert depth.values.shape == (len(depth.up_mm), len(depth.along_mm)) == (11, 7)


@pytest.mark.parametrize("place", [-1, 901, math.nan])
def test_a_section_lies_in_the_box(place):
    with pytest.raises(Impossible):
        uv_field.uv_section([], box(), "depth", at_mm=place)
