"""Heat, beams and basking spots against published resistances, worked set-ups and black-body shares."""

import doctest
import math

import pytest

from inventory.calc import workings
from kits.physics import air, heat, radiant

GLASS = heat.CONDUCTIVITY_W_MK["glass"]

# ISO 6946 (0.13 inside, 0.04 outside, from memory), float glass of 1.00 W/mK; 4 mm is sold as "about 5.8".
OUTDOORS = [(3, 5.7803), (4, 5.7471), (5, 5.7143), (6, 5.6818)]
# The same panes by EN 673 with its own films, 8 and 23 W/m2K written as 7.7 and 25.
OUTDOORS_EN_673 = [(4, 5.7514), (5, 5.7185), (6, 5.6860)]
# Both faces indoors, 0.13 each; conductivities of ISO 10456 and EN 673, from memory.
INDOORS = [
    (("glass", 3), 3.8023), (("glass", 4), 3.7879), (("glass", 5), 3.7736), (("glass", 6), 3.7594),
    (("glass", 10), 3.7037), (("acrylic", 5), 3.5088), (("pvc", 6), 3.3865), (("wood", 12), 2.8384),
    (("particle-board", 15), 2.7237), (("wood", 15), 2.6639), (("pvc-expanded", 10), 2.3438),
    (("polystyrene", 25), 1.0264),
]  # fmt: skip


@pytest.mark.parametrize(("mm", "u_value"), OUTDOORS)
def test_single_glass_outdoors_by_iso_6946(mm, u_value):
    assert heat.pane_u_value(mm / 1000, 1.0, 0.13, 0.04) == pytest.approx(u_value, abs=5e-5)


@pytest.mark.parametrize(("mm", "u_value"), OUTDOORS_EN_673)
def test_single_glass_outdoors_by_en_673(mm, u_value):
    assert heat.pane_u_value(mm / 1000, 1.0, 1 / 7.7, 1 / 25) == pytest.approx(u_value, abs=5e-5)


@pytest.mark.parametrize(("pane", "u_value"), INDOORS)
def test_walls_in_a_room_by_iso_6946(pane, u_value):
    material, mm = pane
    assert heat.pane_u_value(mm / 1000, heat.wall_conductivity_w_mk(material)) == pytest.approx(
        u_value, abs=5e-5
    )


def test_a_glass_floor_on_a_shelf_of_wood():
    assert heat.floor_u_value(0.004, GLASS) == pytest.approx(2.0727, abs=5e-5)


def test_a_mesh_top_has_two_still_films():
    assert heat.top_u_value() == 5.0


def glass_box(sides, mm, top_u=5.0, air_changes_h=0.0):
    thickness = mm / 1000
    wall, floor = heat.pane_u_value(thickness, GLASS), heat.floor_u_value(thickness, GLASS)
    return heat.enclosure_loss_w_k(*sides, wall, top_u, floor, air_changes_h)


# Worked by hand from the resistances above: 45 x 45 x 60 cm, 4 mm glass on a shelf, mesh or glass on top.
def test_loss_of_the_worked_set_up_with_a_mesh_top():
    assert glass_box((0.45, 0.45, 0.60), 4) == pytest.approx(5.52313, abs=1e-4)


def test_loss_of_the_worked_set_up_with_a_glass_lid():
    lid = heat.top_u_value(0.004, GLASS)
    assert glass_box((0.45, 0.45, 0.60), 4, lid) == pytest.approx(5.50328, abs=1e-4)


# The parts of the same set-up at 10 K: sides, floor, mesh.
def test_the_parts_of_the_worked_loss_add_up():
    parts = (1.08 * heat.pane_u_value(0.004, 1), 0.2025 * heat.floor_u_value(0.004, 1), 0.2025 * 5)
    assert [10 * part for part in parts] == pytest.approx([40.909, 4.197, 10.125], abs=5e-4)


@pytest.mark.parametrize(
    ("sides", "mm", "w_k"),
    [
        ((0.30, 0.30, 0.45), 4, 2.682), ((0.60, 0.45, 0.45), 5, 5.475), ((0.90, 0.45, 0.45), 5, 7.448),
        ((0.90, 0.45, 0.60), 6, 8.951), ((1.20, 0.60, 0.60), 6, 13.206),
    ],
)  # fmt: skip
def test_loss_of_common_glass_boxes(sides, mm, w_k):
    assert glass_box(sides, mm) == pytest.approx(w_k, abs=6e-4)


# 120 x 60 x 60 cm of 10 mm foamed PVC with a 5 mm glass front, closed top; no board below its floor.
def test_loss_of_a_closed_board_box_with_a_glass_front():
    foam = (0.010, heat.CONDUCTIVITY_W_MK["pvc-expanded"])
    front = 0.72 * (heat.pane_u_value(0.005, GLASS) - heat.pane_u_value(*foam))
    box = heat.enclosure_loss_w_k(
        1.2, 0.6, 0.6, heat.pane_u_value(*foam), heat.top_u_value(*foam), heat.floor_u_value(*foam, shelf_m=0)
    )
    assert box + front == pytest.approx(9.477, abs=6e-4)


# Air of 1.2 kg/m3 and 1006 J/kgK: ten changes of 0.1215 m3 at 10 K.
def test_ventilation_heat_through_the_loss():
    still, aired = glass_box((0.45, 0.45, 0.60), 4), glass_box((0.45, 0.45, 0.60), 4, air_changes_h=10)
    assert 10 * (aired - still) == pytest.approx(4.0743, abs=1e-4)


# The same by the density of dry air at 27 C, which makes 0.3286 Wh/m3K.
@pytest.mark.parametrize(("changes", "watts"), [(5, 1.996), (10, 3.993), (20, 7.986)])
def test_ventilation_heat_with_air_of_27_c(changes, watts):
    density = air.moist_density_kg_m3(27, 0)
    assert heat.ventilation_w_k(1, 1, density) == pytest.approx(0.3286, abs=5e-5)
    assert 10 * heat.ventilation_w_k(0.1215, changes, density) == pytest.approx(watts, abs=6e-4)


# Rise of the worked set-up for a constant power.
@pytest.mark.parametrize(("watts", "kelvin"), [(30, 5.43), (75, 13.58)])
def test_a_heater_of_the_worked_rise_runs_all_the_time(watts, kelvin):
    assert heat.running_share(5.52313, 20 + kelvin, 20, watts) == pytest.approx(1, abs=1e-3)


# Open hole of 45 x 45 cm at 10 K and 300 K (Epstein 1988, from memory): 127 changes of 0.1215 m3, 50.6 W.
def test_an_open_top_of_45_cm_exchanges_127_volumes_an_hour():
    flow = heat.opening_exchange_m3_s(0.45, 0.45, 10 / 300)
    assert flow == pytest.approx(0.0042724, abs=5e-8)
    changes = flow * 3600 / 0.1215
    assert changes == pytest.approx(126.6, abs=0.1)
    assert 10 * heat.ventilation_w_k(0.1215, changes, air.moist_density_kg_m3(27, 0)) == pytest.approx(
        50.6, abs=0.1
    )


def test_a_heater_for_the_worked_set_up_has_a_quarter_in_hand():
    assert heat.heater_power_w(5.52313, 28, 18, 1.25) == pytest.approx(69.04, abs=0.01)
    assert 0.5 < heat.running_share(5.52313, 28, 18, 75) < 0.85


# Geometry of the cone: 0.8 of the power radiated (from memory), 0.7 of it in the beam (common practice).
@pytest.mark.parametrize(("watts", "beam_deg", "w_m2"), [(50, 60, 297.1), (75, 60, 445.6), (50, 30, 1379)])
def test_irradiance_in_a_beam_at_30_cm(watts, beam_deg, w_m2):
    got = heat.beam_irradiance_w_m2(watts, 0.8, 0.7, beam_deg, 0.30)
    assert got == pytest.approx(w_m2, rel=3e-4)
    assert radiant.lamp_distance_for_irradiance_m(got, watts, 0.8, 0.7, beam_deg) == pytest.approx(0.30)


def test_a_flat_emitter_of_60_w_at_30_cm():
    assert radiant.bare_emitter_irradiance_w_m2(60, 0.5, 0.30) == pytest.approx(106.1, abs=0.05)


# Balance of a dry insulated surface at 28 C, absorptance 0.85, emissivity 0.95 (from memory).
SURFACES = [
    (5, {100: 35.65, 200: 42.99, 300: 50.05, 400: 56.85, 500: 63.40, 1000: 92.99}),
    (10, {100: 33.30, 200: 38.49, 300: 43.59, 400: 48.59, 500: 53.49, 1000: 76.65}),
]


@pytest.mark.parametrize(
    ("convection", "w_m2", "celsius"), [(h, e, t) for h, row in SURFACES for e, t in row.items()]
)
def test_basking_surfaces_of_the_worked_balance(convection, w_m2, celsius):
    assert heat.basking_surface_c(w_m2, 28, convection_w_m2k=convection) == pytest.approx(celsius, abs=0.006)


WANTED = {
    28: {32: 51.8, 35: 91.4, 38: 131.6, 40: 158.8, 42: 186.3, 45: 228.0, 50: 299.2},
    24: {32: 102.5, 35: 142.0, 38: 182.3, 40: 209.4, 42: 236.9, 45: 278.7, 50: 349.9},
}


@pytest.mark.parametrize(
    ("air", "surface", "w_m2"), [(a, s, e) for a, row in WANTED.items() for s, e in row.items()]
)
def test_irradiance_for_surfaces_of_the_worked_balance(air, surface, w_m2):
    assert heat.irradiance_for_surface_w_m2(surface, air) == pytest.approx(w_m2, abs=0.06)
    assert radiant.dimmer_share(2 * w_m2, surface, air) == pytest.approx(0.5, abs=1e-3)


# Face of a ceramic heater: emissivity 0.9, convection 10 W/m2K, air 25 C (from memory).
CERAMIC = [(200, 0.552), (250, 0.603), (300, 0.650), (350, 0.692), (400, 0.729), (450, 0.761)]


@pytest.mark.parametrize(("celsius", "part"), CERAMIC)
def test_radiant_share_of_a_ceramic_face(celsius, part):
    assert radiant.ceramic_radiant_fraction(celsius) == pytest.approx(part, abs=6e-4)


def test_radiant_share_of_a_ceramic_face_at_300_c_to_four_places():
    assert radiant.ceramic_radiant_fraction(300) == pytest.approx(0.6499, abs=1e-4)


@pytest.mark.parametrize(("celsius", "part"), [(300, 0.553), (400, 0.642)])
def test_radiant_share_of_a_ceramic_face_in_a_draught(celsius, part):
    assert radiant.ceramic_radiant_fraction(celsius, convection_w_m2k=15) == pytest.approx(part, abs=6e-4)


# Planck's law: visible 380-780 nm, IR-A to 1400, IR-B to 3000, IR-C beyond.
BANDS = [
    (2200, (0.0301, 0.2612, 0.4919, 0.2168)), (2700, (0.0837, 0.3554, 0.4207, 0.1398)),
    (2800, (0.0973, 0.3682, 0.4050, 0.1288)), (2900, (0.1117, 0.3790, 0.3894, 0.1189)),
    (3000, (0.1267, 0.3880, 0.3740, 0.1100)),
]  # fmt: skip


@pytest.mark.parametrize(("kelvin", "shares"), BANDS)
def test_black_body_bands_of_filaments(kelvin, shares):
    bands = radiant.black_body_bands(kelvin)
    assert [bands[band] for band in ("visible", "ir_a", "ir_b", "ir_c")] == pytest.approx(shares, abs=1e-4)


def test_a_ceramic_face_of_600_k_radiates_almost_only_beyond_3000_nm():
    bands = radiant.black_body_bands(600)
    assert bands["ir_b"] == pytest.approx(0.0393, abs=1e-4)
    assert bands["ir_c"] == pytest.approx(1 - 0.0393, abs=1e-4)


def test_the_loss_is_reachable_by_name_with_the_published_arguments():
    given = {"width_m": 0.45, "depth_m": 0.45, "height_m": 0.6, "wall_u": 1 / 0.264, "top_u": 5.0}
    told = workings.compute(
        "heat.enclosure_loss_w_k", {**given, "floor_u": 2.072684, "air_changes_h": 0}, rooms=["kits.physics"]
    )
    assert told["value"] == pytest.approx(5.52313, abs=1e-4)
    assert told["unit"] == "W/K"
    assert told["valid"]


def test_a_spot_below_full_sun_is_marked_outside_the_range():
    told = workings.compute(
        "heat.basking_surface_c", {"irradiance_w_m2": 2000, "air_c": 28}, rooms=["kits.physics"]
    )
    assert not told["valid"]
    assert math.isfinite(told["value"])


@pytest.mark.parametrize("module", [heat, radiant])
def test_the_examples_in_the_docstrings_run(module):
    assert doctest.testmod(module).attempted >= len(module.__all__)
    assert doctest.testmod(module).failed == 0
