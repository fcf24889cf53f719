"""What holds for all moist air, mesh lids and mistings."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.errors import Impossible
from kits.physics import air, airflow, heat, vapour

CELSIUS = st.floats(-20, 45)
PERCENT = st.floats(0, 100)
CHANGES = st.floats(0.1, 200)
VOLUMES = st.floats(0.01, 3)
SIDES = st.floats(0.1, 2)
OPENINGS = st.floats(0.2, 10)
WIRES = st.floats(0.05, 1.5)
RATIOS = st.floats(1e-5, 0.1)
LAWS = st.sampled_from(["brundrett", "bailey"])
LIDS = st.tuples(SIDES, SIDES, OPENINGS, WIRES, RATIOS)
# The model's flow grows with the side that a cover shortens up to four times the other.
COVERED_LIDS = LIDS.filter(lambda lid: lid[0] <= 4 * lid[1])


@given(CELSIUS, st.floats(0.01, 20))
def test_warmer_air_holds_more_vapour(celsius, more):
    assert air.saturation_pressure_pa(celsius + more) > air.saturation_pressure_pa(celsius)


@given(st.floats(-60, 60), st.floats(0.001, 100))
def test_saturation_at_the_dew_point_is_the_vapour_of_the_air(celsius, pct):
    vapour_pa = pct / 100 * air.saturation_pressure_pa(celsius)
    dew_c = air.dew_point_c(celsius, pct)
    assert air.saturation_pressure_pa(dew_c) == pytest.approx(vapour_pa, rel=1e-6)
    assert dew_c <= celsius + 1e-6


@given(CELSIUS)
def test_saturated_air_is_at_its_dew_point_and_lacks_nothing(celsius):
    assert air.dew_point_c(celsius, 100) == pytest.approx(celsius, abs=1e-5)
    assert air.vapour_pressure_deficit_pa(celsius, 100) == 0


@given(CELSIUS, PERCENT)
def test_relative_humidity_and_humidity_ratio_are_inverses(celsius, pct):
    ratio = air.humidity_ratio(celsius, pct)
    assert air.relative_humidity_pct(celsius, ratio) == pytest.approx(pct, rel=1e-9, abs=1e-9)


@given(CELSIUS, st.floats(1, 100), st.floats(0.1, 20))
def test_heating_dries(celsius, pct, warmer):
    assert air.heated_relative_humidity_pct(celsius, pct, celsius + warmer) < pct


@given(CELSIUS, st.floats(0, 99), st.floats(0.5, 1))
def test_moister_air_is_lighter(celsius, pct, more):
    assert air.moist_density_kg_m3(celsius, pct + more) < air.moist_density_kg_m3(celsius, pct)


@given(CELSIUS, PERCENT)
def test_a_cubic_metre_holds_the_vapour_of_its_density(celsius, pct):
    ratio = air.humidity_ratio(celsius, pct)
    grams = 1000 * air.moist_density_kg_m3(celsius, pct) * ratio / (1 + ratio)
    assert air.absolute_humidity_g_m3(celsius, pct) == pytest.approx(grams)


@given(VOLUMES, CHANGES, CELSIUS, st.floats(50, 100), CELSIUS, st.floats(10, 90), st.floats(1, 10))
def test_a_drier_room_takes_no_less_misting(volume, changes, inside_c, inside_pct, room_c, room_pct, drier):
    box = (volume, changes, inside_c, inside_pct, room_c)
    once, drier_l = air.misting_l_day(*box, room_pct), air.misting_l_day(*box, room_pct - drier)
    assert drier_l >= once >= 0
    assert drier_l > once or drier_l == 0


@given(VOLUMES, CHANGES, st.floats(5, 45), st.floats(1, 99), st.floats(-20, 45), PERCENT)
def test_the_humidity_held_is_the_inverse_of_misting(volume, changes, inside_c, inside_pct, room_c, room_pct):
    litres = air.misting_l_day(volume, changes, inside_c, inside_pct, room_c, room_pct)
    held = vapour.humidity_held_pct(litres, volume, changes, inside_c, room_c, room_pct)
    if litres > 0:
        assert held == pytest.approx(inside_pct, rel=1e-6)
    else:
        assert held >= inside_pct - 1e-6


@given(st.floats(0, 100), VOLUMES, CHANGES, CELSIUS, CELSIUS, PERCENT)
def test_no_misting_holds_more_than_saturation(litres, volume, changes, inside_c, room_c, room_pct):
    held = vapour.humidity_held_pct(litres, volume, changes, inside_c, room_c, room_pct)
    assert 0 <= held <= 100


@given(st.floats(0, 10), st.integers(1, 20), st.floats(0.01, 1))
def test_twice_the_nozzles_mist_half_as_long(litres, nozzles, each):
    once = vapour.misting_minutes_day(litres, nozzles, each)
    assert vapour.misting_minutes_day(litres, 2 * nozzles, each) == pytest.approx(once / 2)


@given(CELSIUS, st.floats(0, 30), st.floats(0.1, 5), st.floats(0.1, 2))
def test_glass_fogs_sooner_against_a_colder_room(inside_c, colder, more, u_value):
    warm = vapour.fogging_humidity_pct(inside_c, inside_c - colder, u_value)
    assert vapour.fogging_humidity_pct(inside_c, inside_c - colder - more, u_value) < warm <= 100


@given(CELSIUS, st.floats(0, 30), st.floats(0.1, 5))
def test_glass_against_a_warmer_room_fogs_only_with_the_air(inside_c, warmer, u_value):
    assert vapour.fogging_humidity_pct(inside_c, inside_c + warmer, u_value) == pytest.approx(100)


@given(st.floats(1, 45), st.floats(0, 95), st.floats(0, 40), st.floats(0.1, 40), st.floats(0, 24))
def test_more_light_and_drier_air_draw_more_from_leaves(celsius, pct, klux, more, hours):
    once = vapour.transpiration_g_m2_day(celsius, pct, klux, hours)
    assert vapour.transpiration_g_m2_day(celsius, pct, klux + more, hours) >= once
    assert vapour.transpiration_g_m2_day(celsius, pct + 5, klux, hours) < once


@given(st.floats(1, 45), st.floats(0, 95), st.floats(0.1, 10))
def test_wet_faces_give_more_in_moving_air(celsius, pct, convection):
    once = vapour.evaporation_l_m2_day(celsius, celsius, pct, convection)
    assert vapour.evaporation_l_m2_day(celsius, celsius, pct, 2 * convection) == pytest.approx(2 * once)
    assert vapour.evaporation_l_m2_day(celsius, celsius, 100, convection) == pytest.approx(0, abs=1e-9)


@given(LIDS, LAWS)
def test_a_mesh_lets_through_less_than_the_open_hole(lid, law):
    width, length, _, _, ratio = lid
    unmeshed = heat.opening_exchange_m3_s(width, length, ratio)
    assert 0 < airflow.mesh_exchange_m3_s(*lid, law=law) < unmeshed
    assert 0 < airflow.lid_factor(*lid, law=law) < 1


@given(COVERED_LIDS, st.floats(0.01, 0.99), LAWS)
def test_covering_more_of_the_lid_exchanges_less_air(lid, share, law):
    assert airflow.mesh_exchange_m3_s(*lid, share, law) < airflow.mesh_exchange_m3_s(*lid, 1.0, law)
    assert airflow.mesh_exchange_m3_s(*lid, share * 0.9, law) < airflow.mesh_exchange_m3_s(*lid, share, law)


@given(LIDS, LAWS)
def test_the_flow_through_a_mesh_solves_its_own_equation(lid, law):
    width, length, opening, wire, ratio = lid
    flow = airflow.mesh_exchange_m3_s(*lid, law=law)
    reynolds = 2 * flow / (width * length) * wire / 1000 / airflow.AIR_M2_S
    loss = airflow.screen_loss(reynolds, (opening / (opening + wire)) ** 2, law)
    open_hole = heat.opening_exchange_m3_s(width, length, ratio)
    factor = math.sqrt(airflow.OPENING_LOSS / (airflow.OPENING_LOSS + loss))
    assert flow == pytest.approx(open_hole * factor, rel=1e-7)


@given(COVERED_LIDS, VOLUMES, st.floats(0.05, 50))
def test_the_share_left_open_gives_the_wanted_air(lid, volume, wanted):
    share = airflow.open_share_for_air_changes(*lid, volume, wanted)
    assert 0 < share <= 1
    given_changes = air.air_changes_h(airflow.mesh_exchange_m3_s(*lid, share), volume)
    assert given_changes == pytest.approx(wanted, rel=1e-6) or (share == 1 and given_changes < wanted)


@given(SIDES, SIDES, OPENINGS, WIRES, CELSIUS, st.floats(0.1, 20), st.floats(0.1, 10))
def test_a_warmer_box_breathes_more(width, length, opening, wire, room_c, gap, more):
    lid = (width, length, opening, wire)
    once = air.lid_exchange_m3_s(*lid, room_c + gap, room_c)
    assert air.lid_exchange_m3_s(*lid, room_c + gap + more, room_c) > once > 0
    assert air.open_lid_exchange_m3_s(width, length, room_c + gap, room_c) > once


@given(SIDES, SIDES, OPENINGS, WIRES, CELSIUS, st.floats(0, 20))
def test_a_colder_box_keeps_its_air(width, length, opening, wire, room_c, colder):
    assert air.lid_exchange_m3_s(width, length, opening, wire, room_c - colder, room_c) == 0


HOLES = st.fixed_dictionaries(
    {"area_m2": st.floats(1e-4, 0.5), "open_fraction": st.floats(0.2, 0.95), "wire_mm": WIRES}
)


@given(HOLES, HOLES, st.floats(0.1, 2), CELSIUS, st.floats(0.05, 20), LAWS)
def test_two_openings_pass_less_than_without_mesh_and_alike_both_ways(low, high, height, room_c, gap, law):
    flow = airflow.two_opening_exchange_m3_s(low, high, height, room_c + gap, room_c, law)
    holes = [{"area_m2": hole["area_m2"]} for hole in (low, high)]
    assert 0 < flow < airflow.two_opening_exchange_m3_s(*holes, height, room_c + gap, room_c, law)
    assert flow == pytest.approx(
        airflow.two_opening_exchange_m3_s(high, low, height, room_c + gap, room_c, law)
    )
    assert flow == pytest.approx(
        airflow.two_opening_exchange_m3_s(low, high, height, room_c, room_c + gap, law)
    )


@given(st.floats(0.01, 1e4), st.floats(1.01, 3), st.floats(0.1, 0.95), LAWS)
def test_a_faster_stream_loses_fewer_heads_in_a_screen(reynolds, factor, open_fraction, law):
    slow, fast = (airflow.screen_loss(re, open_fraction, law) for re in (reynolds, reynolds * factor))
    assert fast < slow or reynolds * factor > 1e3


@given(st.floats(0, 10))
def test_the_band_is_half_and_double(flow):
    band = airflow.exchange_band_m3_s(flow)
    assert band["low"] * 4 == pytest.approx(band["high"])
    assert band["low"] <= flow <= band["high"]


STATES = [air.humidity_ratio, air.dew_point_c, air.moist_density_kg_m3, air.absolute_humidity_g_m3]


def finite_or_refused(function, *arguments):
    try:
        return math.isfinite(function(*arguments))
    except Impossible as refusal:
        return refusal.argument in ("temperature_c", "relative_humidity_pct")


@given(st.sampled_from(STATES), st.floats(), st.floats(0, 100))
def test_any_state_of_air_is_computed_or_refused_by_name(function, celsius, pct):
    assert finite_or_refused(function, celsius, pct)


NOT_FINITE = [math.nan, math.inf, -math.inf, True]
FUNCTIONS = [
    (air.saturation_pressure_pa, (20.0,)), (air.humidity_ratio, (20.0, 50.0)),
    (air.relative_humidity_pct, (20.0, 0.007)), (air.dew_point_c, (20.0, 50.0)),
    (air.heated_relative_humidity_pct, (20.0, 50.0, 30.0)), (air.vapour_pressure_deficit_pa, (20.0, 50.0)),
    (air.moist_volume_m3_kg, (20.0, 0.007)), (air.moist_density_kg_m3, (20.0, 50.0)),
    (air.absolute_humidity_g_m3, (20.0, 50.0)), (air.density_ratio, (26.0, 80.0, 22.0, 45.0)),
    (air.lid_exchange_m3_s, (0.4, 0.4, 1.2, 0.28, 26.0, 22.0)),
    (air.open_lid_exchange_m3_s, (0.4, 0.4, 26.0, 22.0)), (air.air_changes_h, (0.001, 0.1, 0.5)),
    (air.misting_l_day, (0.1, 5.0, 26.0, 80.0, 22.0, 45.0)), (airflow.screen_loss, (5.0, 0.6)),
    (airflow.mesh_exchange_m3_s, (0.4, 0.4, 1.2, 0.28, 0.02, 0.5)),
    (airflow.lid_factor, (0.4, 0.4, 1.2, 0.28, 0.02, 0.5)),
    (airflow.open_share_for_air_changes, (0.4, 0.4, 1.2, 0.28, 0.02, 0.1, 5.0)),
    (airflow.exchange_band_m3_s, (0.001,)), (vapour.humidity_held_pct, (0.1, 0.1, 5.0, 26.0, 22.0, 45.0)),
    (vapour.misting_minutes_day, (0.1, 1, 0.08)), (vapour.fogging_humidity_pct, (26.0, 20.0, 3.8, 0.13)),
    (vapour.evaporation_l_m2_day, (24.0, 25.0, 50.0, 3.0)),
    (vapour.transpiration_g_m2_day, (26.0, 80.0, 10.0, 12.0)),
    (vapour.planting_evaporation_l_day, (0.2, 0.9, 0.3, 471.0, 0.5)),
]  # fmt: skip


@pytest.mark.parametrize("value", NOT_FINITE)
@pytest.mark.parametrize(
    ("function", "usual", "place"),
    [(f, usual, place) for f, usual in FUNCTIONS for place in range(len(usual))],
)
def test_what_is_no_finite_number_is_refused(function, usual, place, value):
    with pytest.raises(Impossible, match="finite"):
        function(*usual[:place], value, *usual[place + 1 :])


IMPOSSIBLE = [
    (air.humidity_ratio, (120, 100), "temperature_c"),
    (air.humidity_ratio, (20, 101), "relative_humidity_pct"),
    (air.dew_point_c, (20, 0), "relative_humidity_pct"), (air.dew_point_c, (-272, 50), "temperature_c"),
    (air.saturation_pressure_pa, (-274,), "temperature_c"),
    (airflow.screen_loss, (5, 1.2), "open_fraction"), (airflow.screen_loss, (0, 0.5), "reynolds"),
    (airflow.screen_loss, (5, 0.5, "other"), "law"),
    (airflow.mesh_exchange_m3_s, (0.4, 0.4, 1.2, 0.28, 0.02, 1.1), "open_share"),
    (airflow.two_opening_exchange_m3_s, ({"area_m2": 0}, {"area_m2": 1}, 1, 26, 22), "lower.area_m2"),
    (
        airflow.two_opening_exchange_m3_s,
        ({"area_m2": 1}, {"area_m2": 1, "open_fraction": 0.5}, 1, 26, 22), "upper.wire_mm",
    ),
    (airflow.open_share_for_air_changes, (2, 0.4, 1.2, 0.28, 0.02, 0.1, 5), "width_m"),
    (vapour.fogging_humidity_pct, (26, 20, 8), "pane_u_w_m2k"),
    (vapour.transpiration_g_m2_day, (26, 80, 10, 25), "hours"),
]  # fmt: skip


@pytest.mark.parametrize(("function", "arguments", "name"), IMPOSSIBLE)
def test_an_impossible_argument_is_named(function, arguments, name):
    with pytest.raises(Impossible) as refusal:
        function(*arguments)
    assert refusal.value.argument == name


def test_a_lid_that_is_covered_or_has_no_mesh():
    assert airflow.mesh_exchange_m3_s(0.4, 0.4, 1.2, 0.28, 0.02, open_share=0) == 0
    bare = airflow.mesh_exchange_m3_s(0.4, 0.4, 1.2, 0.0, 0.02)
    assert bare == pytest.approx(heat.opening_exchange_m3_s(0.4, 0.4, 0.02))
    assert airflow.open_share_for_air_changes(0.4, 0.4, 1.2, 0.0, 0.02, 0.1, 20) < 1
    assert airflow.open_share_for_air_changes(0.4, 0.4, 1.2, 0.28, 0.02, 0.1, 0) == 0
