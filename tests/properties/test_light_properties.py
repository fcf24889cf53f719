"""What must hold for any plant lamp and any place on earth."""

import math
from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.errors import Impossible
from kits.physics import day_length, light, light_field, photons
from kits.physics.grids import Grid
from kits.physics.published import published_column
from kits.terms.build import Box

fluxes = st.floats(0.1, 300)
lengths = st.floats(0.05, 1.5)
heights = st.floats(0.03, 2)
offsets = st.floats(-1, 1)
small = Grid(9, 7, 11)


def box(top="mesh", share=0.66):
    return Box(900, 450, 600, 100, "glass", 4, top, share)


@given(fluxes, lengths, lengths, heights, st.floats(1.01, 3))
def test_more_distance_gives_less(flux, length, width, height, further):
    for lamp in (
        lambda d: light.point_ppfd(flux, d),
        lambda d: light.bar_ppfd(flux, length, d),
        lambda d: light.panel_ppfd(flux, width, length, d),
    ):
        assert lamp(height * further) < lamp(height)


@given(fluxes, lengths, lengths, heights, offsets, offsets)
def test_nowhere_is_brighter_than_below_the_middle(flux, length, width, height, along, aside):
    assert light.bar_ppfd_at(flux, length, height, along, aside) <= light.bar_ppfd(flux, length, height) * (
        1 + 1e-9
    )
    middle = light.panel_ppfd(flux, width, length, height)
    assert light.panel_ppfd_at(flux, width, length, height, aside, along) <= middle * (1 + 1e-9)


@given(fluxes, lengths, heights, offsets, offsets)
def test_a_narrow_panel_is_a_bar(flux, length, height, along, aside):
    bar = light.bar_ppfd_at(flux, length, height, along, aside)
    narrow = light.panel_ppfd_at(flux, height * 1e-3, length, height, aside, along)
    assert narrow == pytest.approx(bar, rel=1e-4)


@given(fluxes, heights, offsets)
def test_a_short_bar_is_a_point(flux, height, aside):
    point = light.point_ppfd(flux, height, aside)
    assert light.bar_ppfd_at(flux, height * 1e-3, height, aside_m=aside) == pytest.approx(point, rel=1e-5)
    assert light.bar_ppfd_at(flux, height * 1e-3, height, along_m=aside) == pytest.approx(point, rel=1e-4)


@given(fluxes, lengths, st.floats(20, 100))
def test_far_away_every_lamp_is_a_point(flux, length, times):
    distance = length * times
    point = light.point_ppfd(flux, distance)
    assert light.bar_ppfd(flux, length, distance) == pytest.approx(point, rel=1e-3)
    assert light.panel_ppfd(flux, length, length, distance) == pytest.approx(point, rel=1e-3)


@given(fluxes, st.floats(0.2, 1.5), st.floats(1e-4, 1e-3))
def test_close_to_a_panel_the_light_is_its_flux_over_its_area(flux, side, share):
    assert light.panel_ppfd(flux, side, side, side * share) == pytest.approx(flux / side**2, rel=1e-2)


@given(fluxes, lengths, heights, offsets, offsets)
def test_four_quarters_of_a_panel_shine_as_the_whole(flux, side, height, aside, along):
    q = side / 4
    quarters = sum(
        light.panel_ppfd_at(flux / 4, side / 2, side / 2, height, aside + dx, along + dy)
        for dx in (-q, q)
        for dy in (-q, q)
    )
    assert quarters == pytest.approx(
        light.panel_ppfd_at(flux, side, side, height, aside, along), rel=1e-7, abs=flux * 1e-13 / side**2
    )


@given(st.floats(0, 2000), st.floats(0.5, 24))
def test_daily_light_and_its_flux_round_trip(ppfd, hours):
    daily = light.daily_light_integral(ppfd, hours)
    assert light.ppfd_for_daily_light_integral(daily, hours) == pytest.approx(ppfd, rel=1e-12)


@given(st.sampled_from(sorted(published_column("lux_factors", "ppfd_per_lux"))), st.floats(0, 1e5))
def test_lumens_on_a_square_metre_are_lux(source, amount):
    assert photons.flux_from_lumens(amount, source) == photons.ppfd_from_lux(amount, source)


days = st.dates(date(1990, 1, 1), date(2049, 12, 31))
latitudes, longitudes = st.floats(-90, 90), st.floats(-180, 180)


@given(latitudes, longitudes, days)
def test_a_day_has_from_no_hours_to_24(latitude, longitude, day):
    assert 0 <= light.day_length_h(latitude, longitude, day) <= 24


@given(st.floats(0, 60), st.floats(-23.4, 23.4))
def test_what_one_half_of_the_earth_gains_the_other_loses(latitude, declination):
    north = day_length.hours_above_horizon(latitude, declination, 0)
    south = day_length.hours_above_horizon(-latitude, declination, 0)
    assert north + south == pytest.approx(24, abs=1e-9)


@given(st.floats(1, 66), st.integers(1990, 2049))
def test_midsummer_is_the_longest_day_of_the_north(latitude, year):
    longest = max(light.day_length_h(latitude, 0, date(year, 1, 1) + timedelta(d)) for d in range(0, 365, 3))
    assert longest == pytest.approx(light.day_length_h(latitude, 0, date(year, 6, 21)), abs=0.02)


@given(latitudes, longitudes, st.lists(days, max_size=5))
def test_a_timer_follows_the_day_by_quarter_hours(latitude, longitude, dates):
    for day, lit in zip(dates, day_length.photoperiod(latitude, longitude, dates), strict=True):
        assert lit["day_length_h"] == light.day_length_h(latitude, longitude, day)
        assert abs(lit["timer_h"] - lit["day_length_h"]) <= 0.125
        assert (lit["timer_h"] * 4).is_integer()


places = (st.floats(0, 900), st.floats(0, 450), st.floats(600, 700))
bars = st.builds(light_field.Fixture, fluxes, *places, st.floats(50, 900))
panels = st.builds(light_field.Fixture, fluxes, *places, st.floats(50, 900), st.floats(50, 450))
point_lamps = st.builds(light_field.Fixture, fluxes, *places)
fixtures = bars | panels | point_lamps


def closed(lamp, x, y, z, share):
    along, aside, height = (x - lamp.x_mm) / 1000, (y - lamp.y_mm) / 1000, (lamp.z_mm - z) / 1000
    if not lamp.length_mm:
        return share * light.point_ppfd(lamp.flux_umol_s, height, math.hypot(along, aside))
    if not lamp.width_mm:
        return share * light.bar_ppfd_at(lamp.flux_umol_s, lamp.length_mm / 1000, height, along, aside)
    return share * light.panel_ppfd_at(
        lamp.flux_umol_s, lamp.length_mm / 1000, lamp.width_mm / 1000, height, along, aside
    )


@given(fixtures)
def test_the_field_is_what_the_closed_form_says_at_a_spot(lamp):
    field = light_field.light_field([lamp], box(), small)
    spot = closed(lamp, field.x_mm[2], field.y_mm[5], field.z_mm[4], 0.66)
    assert field.values[2, 5, 4] == pytest.approx(spot, rel=1e-9)


@given(fixtures, fixtures)
def test_fixtures_add_up(one, other):
    both = light_field.light_field([one, other], box(), small).values
    each = [light_field.light_field([lamp], box(), small).values for lamp in (one, other)]
    assert np.allclose(both, each[0] + each[1], rtol=1e-12)


@given(fixtures)
def test_nothing_comes_through_a_solid_top_and_most_through_glass(lamp):
    solid, glass, bare = (
        light_field.light_field([lamp], box(top), small).values for top in ("solid", "glass", "open")
    )
    assert not solid.any()
    assert np.allclose(glass, 0.9 * bare)


@given(st.lists(fixtures, min_size=1, max_size=3), st.floats(1, 24))
def test_a_profile_is_a_line_of_the_field(lamps, hours):
    profile = light_field.light_profile(lamps, box(), hours, spots=11)
    field = light_field.light_field(lamps, box(), small)
    assert np.allclose(profile.ppfd, field.values[4, 3], rtol=1e-12)
    assert profile.middle == pytest.approx(light.daily_light_integral(profile.ppfd[5], hours))
    assert (profile.floor, profile.top) == (profile.daily[0], profile.daily[10])


@given(bars | panels, st.floats(0, 400))
def test_a_lamp_over_the_spot_gives_more_the_higher_a_leaf_stands(lamp, ground):
    over = (lamp.x_mm, lamp.y_mm)
    profile = light_field.light_profile([lamp], box(), 12, at_mm=over, floor_mm=ground, top_mm=590)
    assert (np.diff(profile.ppfd) > 0).all()


@given(fixtures)
def test_sections_are_cuts_of_the_field(lamp):
    field = light_field.light_field([lamp], box(), small)
    depth = light_field.light_section([lamp], box(), "depth", grid=small)
    width = light_field.light_section([lamp], box(), "width", at_mm=450, grid=small)
    assert np.allclose(depth.values, field.values[4].T, rtol=1e-12)
    assert np.allclose(width.values, field.values[:, 6].T, rtol=1e-12)


def test_a_panel_has_two_sides():
    with pytest.raises(Impossible):
        light_field.Fixture(60, 0, 0, 600, length_mm=0, width_mm=100)
