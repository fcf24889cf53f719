"""What holds for every enclosure, heater and lamp."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from inventory.calc.errors import Impossible
from kits.physics import heat, power, radiant, weight

SIDES = st.floats(0.1, 3)
U_VALUES = st.floats(0, 6)
BOXES = st.tuples(SIDES, SIDES, SIDES, U_VALUES, U_VALUES, U_VALUES)
LOSSES = st.floats(0.1, 50)
CELSIUS = st.floats(-20, 45)
SHARES = st.floats(0.05, 1)
WATTS = st.floats(1, 500)
IRRADIANCE = st.floats(0, 1e5)
DISTANCES = st.floats(0.05, 3)
BEAMS = st.floats(5, 170)


@given(LOSSES, CELSIUS, st.floats(0.1, 30), st.floats(1, 2), st.floats(0.01, 1))
def test_more_margin_takes_more_power(loss, room, gap, margin, more):
    once = heat.heater_power_w(loss, room + gap, room, margin)
    assert heat.heater_power_w(loss, room + gap, room, margin + more) > once


@given(LOSSES, CELSIUS, st.floats(0, 30))
def test_a_room_that_is_warm_enough_takes_no_heater(loss, target, warmer):
    assert heat.heater_power_w(loss, target, target + warmer) == 0
    assert heat.duty(loss, target, target + warmer, 50) == 0


@given(LOSSES, CELSIUS, st.floats(0.1, 30), st.floats(1, 2))
def test_a_heater_with_a_margin_runs_for_its_inverse(loss, room, gap, margin):
    watts = heat.heater_power_w(loss, room + gap, room, margin)
    assert heat.duty(loss, room + gap, room, watts) == pytest.approx(1 / margin)


@given(LOSSES, CELSIUS, CELSIUS, WATTS)
def test_a_duty_is_a_share(loss, target, room, watts):
    assert 0 <= heat.duty(loss, target, room, watts) <= 1
    assert heat.duty(loss, target, room, watts) <= heat.running_share(loss, target, room, watts)


@given(BOXES, st.floats(0, 200), st.floats(0.1, 50))
def test_more_air_loses_more_heat(box, changes, more):
    assert heat.enclosure_loss_w_k(*box, changes + more) > heat.enclosure_loss_w_k(*box, changes)


@given(BOXES)
def test_width_and_depth_may_change_places(box):
    width, depth, *rest = box
    assert heat.enclosure_loss_w_k(depth, width, *rest) == pytest.approx(heat.enclosure_loss_w_k(*box))


@given(st.floats(0, 0.05), st.floats(0.001, 0.05), st.floats(0.02, 2))
def test_a_thicker_pane_passes_less_heat(thickness, more, conductivity):
    assert heat.pane_u_value(thickness + more, conductivity) < heat.pane_u_value(thickness, conductivity)


@given(IRRADIANCE, st.floats(0.1, 1000), CELSIUS, SHARES, SHARES, st.floats(0, 20))
def test_a_stronger_lamp_makes_a_hotter_surface(irradiance, more, air, absorptance, emissivity, convection):
    face = (air, absorptance, emissivity, convection)
    assert heat.basking_surface_c(irradiance + more, *face) > heat.basking_surface_c(irradiance, *face)


@given(WATTS, DISTANCES, st.floats(0.01, 1), BEAMS, CELSIUS)
def test_a_nearer_lamp_makes_a_hotter_surface(watts, distance, further, beam, air):
    near, far = (
        heat.basking_surface_c(heat.beam_irradiance_w_m2(watts, 0.8, 0.7, beam, away), air)
        for away in (distance, distance + further)
    )
    assert near > far


@given(IRRADIANCE, CELSIUS, SHARES, SHARES, st.floats(0, 20))
def test_the_irradiance_of_a_surface_is_the_inverse(irradiance, air, absorptance, emissivity, convection):
    surface = heat.basking_surface_c(irradiance, air, absorptance, emissivity, convection)
    back = heat.irradiance_for_surface_w_m2(surface, air, absorptance, emissivity, convection)
    assert back == pytest.approx(irradiance, rel=1e-7, abs=1e-6)


@given(CELSIUS)
def test_without_a_lamp_a_surface_is_as_warm_as_the_air(air):
    assert heat.basking_surface_c(0, air) == pytest.approx(air, abs=1e-9)
    assert heat.irradiance_for_surface_w_m2(air, air) == 0


@given(WATTS, SHARES, SHARES, BEAMS, DISTANCES)
def test_the_distance_of_an_irradiance_is_the_inverse(watts, radiant_share, beam_share, beam, distance):
    lamp = (watts, radiant_share, beam_share, beam)
    irradiance = heat.beam_irradiance_w_m2(*lamp, distance)
    assert radiant.lamp_distance_for_irradiance_m(irradiance, *lamp) == pytest.approx(distance)


@given(WATTS, SHARES, DISTANCES)
def test_twice_as_far_is_a_quarter(watts, radiant_share, distance):
    near = radiant.bare_emitter_irradiance_w_m2(watts, radiant_share, distance)
    far = radiant.bare_emitter_irradiance_w_m2(watts, radiant_share, 2 * distance)
    assert far == pytest.approx(near / 4)


@given(st.floats(50, 2000), CELSIUS, st.floats(1, 40))
def test_a_lamp_dimmed_to_its_share_meets_the_surface(full, air, warmer):
    part = radiant.dimmer_share(full, air + warmer, air)
    assert heat.basking_surface_c(part * full, air) == pytest.approx(air + warmer, abs=1e-6)


@given(st.floats(100, 600), st.floats(1, 100))
def test_a_hotter_ceramic_face_radiates_a_larger_share(celsius, hotter):
    cool, hot = (radiant.ceramic_radiant_fraction(face) for face in (celsius, celsius + hotter))
    assert 0 < cool < hot < 1


@given(st.floats(1e-6, 1e12))
def test_the_bands_of_a_black_body_are_shares_of_one(kelvin):
    bands = list(radiant.black_body_bands(kelvin).values())
    assert all(-1e-12 <= part <= 1 + 1e-12 for part in bands)
    assert math.fsum(bands) == pytest.approx(1)


@given(st.floats(300, 20000), st.floats(1.001, 2))
def test_a_hotter_body_radiates_less_beyond_3000_nm(kelvin, factor):
    assert radiant.black_body_bands(kelvin * factor)["ir_c"] < radiant.black_body_bands(kelvin)["ir_c"]


@given(SIDES, SIDES, st.floats(0, 0.2), st.floats(1.1, 3))
def test_an_open_top_passes_air_with_the_root_of_the_density_ratio(width, length, ratio, factor):
    once = heat.opening_exchange_m3_s(width, length, ratio)
    more = heat.opening_exchange_m3_s(width, length, ratio * factor**2)
    assert more == pytest.approx(once * factor)


@given(WATTS, st.floats(0, 24), st.floats(0, 1))
def test_energy_is_in_proportion_to_duty(watts, hours, duty):
    assert power.energy_kwh(watts, hours, duty=duty) == pytest.approx(duty * power.energy_kwh(watts, hours))


@given(st.floats(5, 40), st.floats(100, 250))
def test_a_circuit_at_its_limit_is_full(breaker, volts):
    assert power.circuit_share(power.continuous_limit_w(breaker, volts), breaker, volts) == pytest.approx(1)


@given(st.floats(1, 100), st.floats(1, 200), st.floats(0.02, 2))
def test_a_layer_adds_its_mass(empty, litres, density):
    layers = [{"litres": litres, "density_kg_l": density}]
    assert weight.filled_kg(empty, layers) == pytest.approx(empty + litres * density)


NOT_FINITE = [math.nan, math.inf, -math.inf, True]
FUNCTIONS = [
    (heat.pane_u_value, (0.004, 1.0, 0.13, 0.13)), (heat.top_u_value, (0.004, 1.0)),
    (heat.floor_u_value, (0.004, 1.0, 0.018, 0.13)), (heat.ventilation_w_k, (0.1, 5.0, 1.2)),
    (heat.enclosure_loss_w_k, (1.0, 1.0, 1.0, 3.8, 5.0, 2.1, 5.0)),
    (heat.opening_exchange_m3_s, (0.4, 0.4, 0.02)), (heat.heater_power_w, (5.0, 26.0, 18.0, 1.25)),
    (heat.running_share, (5.0, 26.0, 18.0, 60.0)), (heat.duty, (5.0, 26.0, 18.0, 60.0)),
    (heat.beam_irradiance_w_m2, (50.0, 0.8, 0.7, 60.0, 0.3)),
    (heat.basking_surface_c, (300.0, 28.0, 0.85, 0.95, 5.0)),
    (heat.irradiance_for_surface_w_m2, (40.0, 28.0, 0.85, 0.95, 5.0)),
    (radiant.lamp_distance_for_irradiance_m, (300.0, 50.0, 0.8, 0.7, 60.0)),
    (radiant.dimmer_share, (300.0, 40.0, 28.0, 0.85, 0.95, 5.0)),
    (radiant.bare_emitter_irradiance_w_m2, (60.0, 0.5, 0.3)),
    (radiant.ceramic_radiant_fraction, (300.0, 0.9, 10.0, 25.0)), (radiant.black_body_bands, (2700.0,)),
    (power.energy_kwh, (39.0, 12.0, 365.0, 0.5)), (power.circuit_share, (500.0, 15.0, 120.0)),
    (power.holder_share, (75.0, 150.0)), (weight.floor_share, (200.0, 40.0)),
]  # fmt: skip


@pytest.mark.parametrize("value", NOT_FINITE)
@pytest.mark.parametrize(
    ("function", "usual", "place"),
    [(f, usual, place) for f, usual in FUNCTIONS for place in range(len(usual))],
)
def test_what_is_no_finite_number_is_refused(function, usual, place, value):
    with pytest.raises(Impossible, match="finite"):
        function(*usual[:place], value, *usual[place + 1 :])


@given(st.floats(-1e6, 1e6), st.floats(-1e6, 1e6))
def test_a_beam_is_computed_or_refused(beam, distance):
    assume(not (0 < beam < 180 and distance > 1e-3))
    with pytest.raises(Impossible):
        heat.beam_irradiance_w_m2(50, 0.8, 0.7, beam, min(distance, 0))
