"""Ultraviolet: weights of the standards, the sun's standard spectrum, zones, tubes, mesh, readings."""

import math

import numpy as np
import pytest
from scipy.integrate import dblquad, quad

from inventory.calc import workings
from inventory.calc.errors import Impossible
from kits.physics import ultraviolet, uv_lamps, uv_mesh, uv_readings, uv_weights
from kits.physics.uv_field import TubeLamp, Weave, uv_at
from kits.terms.build import Box

pytestmark = pytest.mark.xdist_group("spectra")  # with those of light: one worker loads pvlib

# ISO/CIE 17166: 1 up to 298 nm, then two powers of ten that meet at 328 nm (values worked from the formula).
ERYTHEMA = [
    (298, 1), (299, 0.805378), (300, 0.648634), (305, 0.219786), (310, 0.0744732), (315, 0.0252348),
    (320, 0.00855067), (328, 0.00151356), (330, 0.00141254), (340, 0.001), (360, 5.01187e-4),
    (380, 2.51189e-4), (400, 1.25893e-4),
]  # fmt: skip


@pytest.mark.parametrize(("nm", "weight"), ERYTHEMA)
def test_skin_reddens_by_the_reference_action_spectrum(nm, weight):
    assert ultraviolet.erythemal_weight(nm) == pytest.approx(weight, rel=5e-6)  # six digits


@pytest.mark.parametrize("nm", [200, 249.9, 400.1, 555])
def test_nothing_reddens_skin_outside_250_to_400_nm(nm):
    assert ultraviolet.erythemal_weight(nm) == 0


def test_the_two_powers_of_ten_meet_at_328_nm():
    before, after = (ultraviolet.erythemal_weight(nm) for nm in (328, 328.000001))
    assert after == pytest.approx(before, rel=1e-6)


# WHO, WMO, UNEP, ICNIRP 2002: one UV index is 25 mW/m2 of erythemal irradiance.
def test_one_uv_index_is_25_milliwatts():
    assert ultraviolet.uv_index_from_erythemal(0.025) == pytest.approx(1, abs=1e-9)


# Integral of the weight over 290 to 320 nm on paper: 12.58065; 1 nm trapezoids give a little more.
def test_a_flat_spectrum_by_trapezoids_of_one_nanometre():
    wavelengths = list(range(290, 321))
    assert ultraviolet.uv_index(wavelengths, [0.001] * 31) == pytest.approx(0.503941, abs=1e-5)


# Integrals on paper of 1 mW/m2 nm (one piece flat, two pieces powers of ten): 12.58065 and 12.65334 mW/m2,
# and 52.65334 for the whole weight from 250 to 400 nm.
@pytest.mark.parametrize(
    ("low", "high", "index"), [(290, 320, 0.503226), (290, 400, 0.506134), (250, 400, 40 * 0.05265334)]
)
def test_fine_steps_come_to_the_integral_on_paper(low, high, index):
    wavelengths = np.linspace(low, high, (high - low) * 50 + 1).tolist()
    found = ultraviolet.uv_index(wavelengths, [0.001] * len(wavelengths))
    assert found == pytest.approx(index, rel=3e-6)


# 1 mW/m2 in a line: 40 x weight x 0.001.
@pytest.mark.parametrize(("nm", "index"), [(297, 0.0400), (302.2, 0.016116), (313, 0.0015562)])
def test_a_line_of_one_milliwatt_counts_by_its_weight(nm, index):
    narrow = [nm - 0.001, nm, nm + 0.001]
    assert ultraviolet.uv_index(narrow, [0, 1.0, 0]) == pytest.approx(index, rel=5e-5)


@pytest.fixture(scope="module")
def sun():
    """ASTM G173-03 global spectrum as pvlib carries it."""
    from pvlib.spectrum import get_reference_spectra

    spectrum = get_reference_spectra(standard="ASTM G173-03")["global"]
    return spectrum.index.to_numpy(dtype=float).tolist(), spectrum.to_numpy(dtype=float).tolist()


# 3.68988: the reference spectrum on pvlib's own grid, weighted with the 140 form of the standard.
def test_uv_index_of_the_standard_sun(sun):
    assert ultraviolet.uv_index(*sun) == pytest.approx(3.68988, abs=0.001)


def test_the_index_counts_nothing_above_400_nm(sun):
    cut = [(nm, e) for nm, e in zip(*sun, strict=True) if nm <= 400]
    nm, irradiance = map(list, zip(*cut, strict=True))
    assert ultraviolet.uv_index(nm, irradiance) == pytest.approx(ultraviolet.uv_index(*sun), rel=1e-12)


def resampled(sun, wavelengths):
    return workings.work(
        workings.of(ultraviolet.uv_index),
        {"wavelength_nm": list(wavelengths), "irradiance_w_m2_nm": np.interp(wavelengths, *sun).tolist()},
    )


# The standard sun on coarser grids, against its index on pvlib's own: 1 nm errs by 0.04 %, 2 nm by 2.6 %.
@pytest.mark.parametrize("step_nm", [0.1, 0.5, 1, 2, 3, 5, 10])
def test_a_grid_is_valid_only_where_its_trapezoids_come_to_the_suns_index(sun, step_nm):
    worked = resampled(sun, np.arange(280, 400 + step_nm / 2, step_nm).tolist())
    error = abs(worked.value / ultraviolet.uv_index(*sun) - 1)
    assert worked.valid == (step_nm <= 1)
    assert (error < 0.001) == worked.valid


@pytest.mark.parametrize(
    ("wavelengths", "said"),
    [
        ([*range(280, 300), *range(303, 401)], "step(wavelength_nm, 280, 400) 4 lies"),
        ([*range(290, 401)], "first(wavelength_nm) 290 lies"),
        ([*range(280, 381)], "last(wavelength_nm) 380 lies"),
    ],
)
def test_a_spectrum_with_a_gap_or_an_end_missing_is_computed_and_marked(sun, wavelengths, said):
    assert said in " ".join(resampled(sun, wavelengths).notes)


def test_steps_above_what_reddens_skin_may_be_as_wide_as_they_like(sun):
    assert resampled(sun, [*range(280, 401), 500, 2500]).valid


# The same with numpy, so that the sum over steps is not checked by itself.
def test_trapezoids_agree_with_numpy(sun):
    nm, irradiance = (np.array(column) for column in sun)
    lit = nm <= 400
    weights = np.array([ultraviolet.erythemal_weight(x) for x in nm[lit]])
    assert ultraviolet.uv_index(*sun) == pytest.approx(40 * np.trapezoid(irradiance[lit] * weights, nm[lit]))


# 0.146422 W/m2 and 1.58729: weighted by the CIE 174 table and set against the erythemal irradiance.
def test_vitamin_d_in_the_standard_sun(sun):
    weighted = uv_weights.vitamin_d_irradiance_w_m2(*sun)
    assert weighted == pytest.approx(0.146422, abs=2e-4)
    assert weighted / (ultraviolet.uv_index(*sun) / 40) == pytest.approx(1.58729, abs=0.002)


# 0.021349 W/m2: ICNIRP fit; 30 J/m2 are reached after 1405 s; against the erythemal irradiance 0.23143.
def test_harm_to_the_eye_in_the_standard_sun(sun):
    effective = uv_weights.actinic_irradiance_w_m2(*sun)
    assert effective == pytest.approx(0.021349, rel=1e-4)
    assert ultraviolet.exposure_limit_s(effective) == pytest.approx(1405.2, abs=0.2)
    assert effective / (ultraviolet.uv_index(*sun) / 40) == pytest.approx(0.23143, rel=1e-4)


# 30 J/m2 at a UV index of 1, 3 and 7 with the sun's 0.23143 W of harm for each W of reddening; a lamp flat
# from 290 nm does 0.457 (both worked from the two weights).
@pytest.mark.parametrize(("index", "minutes"), [(1, 86.4), (3, 28.8), (7, 12.35)])
def test_a_keeper_has_the_days_dose_sooner_below_a_lamp_than_in_the_sun(index, minutes):
    assert ultraviolet.keeper_limit_min(index, 0.23143) == pytest.approx(minutes, abs=0.05)
    assert ultraviolet.keeper_limit_min(index) == pytest.approx(minutes * 0.23143 / 0.457, abs=0.05)


# IEC 62471 (limits from memory): groups end where the day's 30 J/m2 take 30000, 10000 and 1000 s.
@pytest.mark.parametrize(("seconds", "group"), [(30_000, "exempt"), (10_000, "1"), (1_000, "2")])
def test_a_risk_group_ends_where_the_days_dose_takes_its_time(seconds, group):
    limit = 30 / seconds
    assert uv_weights.risk_group(limit) == group
    assert uv_weights.risk_group(limit * 1.0001) != group
    assert ultraviolet.exposure_limit_s(limit) == pytest.approx(seconds)


# ASTM G173 global: 45.4204 W/m2 from 315 to 400 nm (trapezoids), so 10000 J/m2 after 220 s.
def test_the_eye_takes_its_days_uva_from_the_standard_sun_in_minutes(sun):
    nm, irradiance = (np.array(column) for column in sun)
    uva = (nm >= 315) & (nm <= 400)
    seconds = uv_weights.uva_eye_limit_s(float(np.trapezoid(irradiance[uva], nm[uva])))
    assert seconds == pytest.approx(10_000 / 45.4204, abs=0.1)


# CIE 174:2006, table of NCAR TUV-x.
D3 = [
    (252, 0.036), (260, 0.075), (270, 0.195), (280, 0.474), (285, 0.689), (290, 0.878), (295, 0.983),
    (298, 1.000), (300, 0.951), (302, 0.878), (305, 0.634), (307, 0.488), (310, 0.220), (312, 0.119),
    (315, 0.034), (316, 0.020), (320, 4.36e-3), (325, 5.84e-4), (330, 7.8e-5),
]  # fmt: skip


@pytest.mark.parametrize(("nm", "weight"), D3)
def test_vitamin_d_by_the_table_of_the_commission(nm, weight):
    assert uv_weights.vitamin_d_weight(nm) == weight


def test_vitamin_d_between_and_beyond_the_table():
    assert uv_weights.vitamin_d_weight(304.5) == pytest.approx((0.701 + 0.634) / 2)
    assert uv_weights.vitamin_d_weight(251.9) == uv_weights.vitamin_d_weight(330.1) == 0


# Fit to ICNIRP 2004; 254 nm by the table is 0.5, 300 nm 0.3, 315 nm 0.003 (table from memory).
ACTINIC = [
    (254, 0.5118), (270, 1), (280, 0.88449), (290, 0.64), (297, 0.41109), (300, 0.30001), (303, 0.12076),
    (305, 0.065858), (310, 0.014878), (313, 0.0063696), (315, 0.0037556), (320, 0.0012608), (340, 2.885e-4),
    (400, 3.02e-5),
]  # fmt: skip


@pytest.mark.parametrize(("nm", "weight"), ACTINIC)
def test_harm_by_the_fit_to_the_guideline(nm, weight):
    assert uv_weights.actinic_weight(nm) == pytest.approx(weight, rel=1e-4)


# Flat from 290 to 400 nm: actinic to erythemal irradiance 0.457, twice that of the sun.
def test_short_waves_harm_more_than_their_index_tells():
    nm = np.linspace(290, 400, 5501).tolist()
    flat = [0.001] * len(nm)
    ratio = uv_weights.actinic_irradiance_w_m2(nm, flat) / (ultraviolet.uv_index(nm, flat) / 40)
    assert ratio == pytest.approx(0.457, abs=0.0005)


# IEC 62471 (from memory): 0.001, 0.003 and 0.03 W/m2 are 30 J/m2 in 30000, 10000 and 1000 s.
@pytest.mark.parametrize(("effective", "seconds"), [(0.001, 30000), (0.003, 10000), (0.03, 1000)])
def test_risk_group_limits_are_times_to_the_dose(effective, seconds):
    assert ultraviolet.exposure_limit_s(effective) == pytest.approx(seconds)


# Worked with the sun's ratio of 0.23143 between harmful and erythemal irradiance.
@pytest.mark.parametrize(("index", "minutes"), [(1, 86.4), (3, 28.8), (7, 12.35)])
def test_minutes_of_a_keeper_under_sun_like_light(index, minutes):
    assert ultraviolet.exposure_limit_s(0.23143 * index / 40) / 60 == pytest.approx(minutes, abs=0.05)


# 1 SED is 100 J/m2 (ISO/CIE 17166, number from memory).
@pytest.mark.parametrize(("index", "minutes"), [(1, 66.67), (3, 22.22), (7, 9.52)])
def test_time_to_one_standard_erythema_dose(index, minutes):
    assert ultraviolet.seconds_to_standard_erythema_dose(index) / 60 == pytest.approx(minutes, abs=0.005)


def test_one_dose_takes_4000_seconds_at_index_one():
    assert ultraviolet.seconds_to_standard_erythema_dose(1) == pytest.approx(4000, abs=1e-6)


# Ferguson et al. 2010 as restated: averages 0-0.7, 0.7-1.0, 1.0-2.6, 2.6-3.5.
@pytest.mark.parametrize(
    ("average", "number"),
    [(0, 1), (0.699, 1), (0.7, 2), (0.999, 2), (1.0, 3), (1.5, 3), (2.599, 3), (2.6, 4), (3.5, 4), (9, 4)],
)
def test_zones_are_half_open(average, number):
    assert ultraviolet.zone(average) == number


BANDS = [
    (1, [0.0, 0.7], [0.6, 1.4], "shade"),
    (2, [0.7, 1.0], [1.1, 3.0], "shade"),
    (3, [1.0, 2.6], [2.9, 7.4], "sunbeam"),
    (4, [2.6, 3.5], [4.5, 9.5], "sunbeam"),
]


@pytest.mark.parametrize(("number", "average", "maximum", "method"), BANDS)
def test_bands_and_methods_of_the_zones(number, average, maximum, method):
    assert ultraviolet.zone_band(number) == {"average": average, "maximum": maximum}
    assert ultraviolet.zone_method(number) == method


# Worked from the closed form; the quadrature below is the outside check.
@pytest.mark.parametrize(
    ("spot", "factor"), [({}, 4.757550), ({"along_m": 0.2}, 4.394824), ({"aside_m": 0.15}, 3.703958)]
)
def test_factor_of_an_850_mm_tube_at_30_cm(spot, factor):
    assert ultraviolet.tube_factor(0.85, 0.30, **spot) == pytest.approx(factor, abs=1e-6)


RATIOS = {
    0.55: {0.10: 3.7333, 0.15: 2.4061, 0.20: 1.7148, 0.25: 1.2877, 0.38: 0.7012, 0.45: 0.5341, 0.60: 0.3260},
    0.85: {0.10: 3.2846, 0.15: 2.1655, 0.20: 1.5935, 0.25: 1.2411, 0.38: 0.7402, 0.45: 0.5867, 0.60: 0.3811},
    1.15: {0.10: 3.1348, 0.15: 2.0798, 0.20: 1.5463, 0.25: 1.2211, 0.38: 0.7615, 0.45: 0.6187, 0.60: 0.4212},
}


@pytest.mark.parametrize(
    ("length", "height", "ratio"), [(a, h, r) for a, row in RATIOS.items() for h, r in row.items()]
)
def test_index_against_that_at_30_cm(length, height, ratio):
    assert uv_lamps.tube_uv_index(1, 0.30, length, height) == pytest.approx(ratio, abs=1e-4)


@pytest.mark.parametrize(("length", "exponent"), [(0.55, -1.436), (0.85, -1.219), (1.15, -1.117)])
def test_a_tube_falls_off_more_slowly_than_the_inverse_square(length, exponent):
    near, far = ultraviolet.tube_factor(length, 0.2999), ultraviolet.tube_factor(length, 0.3001)
    assert math.log(far / near) / math.log(0.3001 / 0.2999) == pytest.approx(exponent, abs=0.0006)


def test_far_away_a_tube_is_a_point():
    assert ultraviolet.tube_factor(0.85, 10) * 100 / 0.85 == pytest.approx(0.99880, abs=1e-4)


def test_close_by_a_tube_falls_off_with_the_distance():
    assert ultraviolet.tube_factor(0.85, 0.001) * 0.001 == pytest.approx(math.pi / 2, rel=1e-6)


def random_spots(count):
    draw = np.random.default_rng(17)
    return [tuple(draw.uniform([0.1, 0.05, -0.8, -0.5], [1.5, 1.5, 0.8, 0.5])) for _ in range(count)]


# Each piece of a diffuse tube shines with the sine of the angle to its axis; the spot sees it by the cosine.
@pytest.mark.parametrize(("length", "height", "along", "aside"), random_spots(40))
def test_factor_against_quadrature(length, height, along, aside):
    def piece(x):
        squared = height**2 + aside**2 + (x - along) ** 2
        shine = math.sqrt((height**2 + aside**2) / squared)
        return shine * height / math.sqrt(squared) / squared

    by_pieces = quad(piece, -length / 2, length / 2, points=[0], epsabs=1e-12, epsrel=1e-12)[0]
    assert ultraviolet.tube_factor(length, height, along, aside) == pytest.approx(by_pieces, rel=1e-9)


# The diffuse surface of the cylinder itself: a T5 tube is 16 mm thick, and a line stands for it within 0.5 %.
@pytest.mark.parametrize(("radius", "within"), [(0.008, 0.005), (0.002, 0.0015)])
def test_a_line_stands_for_the_tube_around_it(radius, within):
    height, length = 0.30, 0.85

    def patch(turn, x):
        y, z = radius * math.sin(turn), height - radius * math.cos(turn)
        squared = x * x + y * y + z * z
        facing = (height * math.cos(turn) - radius) / math.sqrt(squared)
        return max(0.0, facing) * z / math.sqrt(squared) / squared * radius

    lit = dblquad(patch, -length / 2, length / 2, -math.pi / 2, math.pi / 2)[0] / (2 * radius)
    assert lit == pytest.approx(ultraviolet.tube_factor(length, height), rel=within)


# Square and rectangular weaves: geometry; 25.4 mm to the inch.
@pytest.mark.parametrize(
    ("opening", "wire", "share", "tol"),
    [
        (1.5, 0.5, 0.5625, 1e-9),
        (6.35 - 0.635, 0.635, 0.81, 1e-9),
        (25.4 / 8 - 0.017 * 25.4, 0.017 * 25.4, 0.7465, 5e-5),
        (25.4 / 20 - 0.016 * 25.4, 0.016 * 25.4, 0.4624, 5e-5),
    ],
)
def test_open_share_of_square_weaves(opening, wire, share, tol):
    assert ultraviolet.mesh_open_fraction(opening, wire) == pytest.approx(share, abs=tol)


def test_insect_screen_of_18_by_16_wires_an_inch():
    share = uv_mesh.rectangular_open_fraction(25.4 / 18, 25.4 / 16, 0.011 * 25.4)
    assert share == pytest.approx(0.660848, abs=1e-6)


# A US patent text gives openings of 0.040 by 0.050 inch for 18 by 16: with the wires that leave them 0.576.
def test_insect_screen_by_the_openings_of_a_patent():
    open_share = 0.040 * 18 * 0.050 * 16
    assert open_share == pytest.approx(0.576)
    wire = uv_mesh.wire_mm_from_open_fraction(25.4 / 18, 25.4 / 16, open_share)
    assert wire == pytest.approx((25.4 / 18 - 0.040 * 25.4 + 25.4 / 16 - 0.050 * 25.4) / 2, rel=0.03)


@pytest.mark.parametrize(("angle", "share"), [(0, 0.643), (30, 0.619), (45, 0.577), (60, 0.484)])
def test_light_that_leans_passes_less(angle, share):
    assert uv_mesh.oblique_open_fraction(1.411 - 0.2794, 0.2794, angle) == pytest.approx(share, abs=5e-4)


# Each piece of the tube sends its light through an 18-wire insect screen at its own two angles.
@pytest.mark.parametrize(("length", "height", "along", "aside"), random_spots(12))
def test_a_tube_through_a_mesh_against_quadrature(length, height, along, aside):
    hidden, gap = 0.2794 / 1.411, height + 0.05

    def piece(x):
        squared = gap**2 + aside**2 + (x - along) ** 2
        leans = (math.hypot(1, (x - along) / gap), math.hypot(1, aside / gap))
        through = math.prod(max(0.0, 1 - hidden * lean) for lean in leans)
        return through * math.hypot(gap, aside) * gap / squared**2

    seen = quad(piece, -length / 2, length / 2, epsabs=1e-12, limit=300)[0]
    lamp = TubeLamp(1, 300, length * 1000, 0, 0, 1000)
    box = Box(900, 450, 900, 100, "glass", 4, "mesh", 0.6)
    spot = (np.array(value * 1000) for value in (along, aside, 1 - gap))
    found = float(uv_at([lamp], box, *spot, weave=Weave(1.411 - 0.2794, 0.2794)))
    assert found == pytest.approx(seen / ultraviolet.tube_factor(length, 0.3), rel=1e-4)


# Lopez et al. 2016: a screen with pitches 0.5 and 1.0 mm that is 35 % open.
def test_wire_of_a_measured_screen():
    assert uv_mesh.wire_mm_from_open_fraction(0.5, 1.0, 0.35) == pytest.approx(0.26266, abs=1e-5)


# Schmalwieser et al., doi 10.1111/vde.13290: protection factors of cloths that shade 50, 75 and 90 %.
@pytest.mark.parametrize(("factor", "share"), [(3.5, 0.2857), (4.2, 0.238), (5.8, 0.172)])
def test_a_cloth_lets_through_one_over_its_protection_factor(factor, share):
    assert uv_mesh.cloth_transmission(factor) == pytest.approx(share, abs=1e-4 if factor == 3.5 else 5e-4)


# A hobby lamp page: 60 % transmission turns a UV index of 5.0 into 3.0.
def test_a_mesh_of_sixty_percent_turns_five_into_three():
    behind = uv_readings.transmission(0.60)
    assert uv_lamps.tube_uv_index(5, 0.3, 0.85, 0.3, transmission=behind) == pytest.approx(3.0, abs=1e-9)


# A keepers' forum: a 75 W lamp with UVI 3.8 and 21 uW/cm2 at 10 cm, 1.3 and 7 at 20 cm; sun 50 to 55 a UVI.
@pytest.mark.parametrize(
    ("uvb", "index", "ratio", "reject"), [(21, 3.8, 5.53, True), (7, 1.3, 5.38, True), (52, 1, 52, False)]
)
def test_a_lamp_with_little_uvb_for_its_index_is_rejected(uvb, index, ratio, reject):
    alarm = uv_readings.shortwave_alarm(uvb, index)
    assert (alarm["ratio"], alarm["reject"]) == (pytest.approx(ratio, abs=0.01), reject)


# The same forum pair falls off with the exponent 1.547 between 10 and 20 cm: between line and point.
def test_the_forum_lamp_falls_off_between_line_and_point():
    assert math.log(3.8 / 1.3) / math.log(2) == pytest.approx(1.547, abs=0.001)
    line = uv_lamps.tube_uv_index(3.8, 0.10, 10, 0.20)
    point = uv_lamps.point_uv_index(3.8, 0.10, 0.20)
    assert point < 1.3 < line


# From memory: 10 to 30 % a year for good tubes.
def test_a_year_of_use_leaves_seventy_to_ninety_percent():
    assert uv_readings.aged_share(12) == pytest.approx([0.7, 0.9])
    assert uv_readings.aged_share(0) == [1, 1]


# The common-practice bands for classes of T5 tubes lie within the placeholder (from memory, +/- 50 %).
@pytest.mark.parametrize(
    ("lamp", "low", "high"), [("t5_2_to_5_pct", 0.5, 1.2), ("t5_6_pct", 1.5, 3.0), ("t5_12_pct", 3.0, 5.0)]
)
def test_placeholders_are_bands_marked_as_estimates(lamp, low, high):
    band = uv_readings.placeholder_uv_index(lamp)
    assert band["low"] <= low <= high <= band["high"]
    assert band["estimate"] is True
    assert band["high"] / band["low"] == pytest.approx(3)


REFUSED = [
    (ultraviolet.erythemal_weight, (0,), "wavelength_nm"),
    (ultraviolet.uv_index, ([300], [1]), "wavelength_nm"),
    (ultraviolet.uv_index, ([300, 300], [1, 1]), "wavelength_nm"),
    (ultraviolet.uv_index, ([301, 300], [1, 1]), "wavelength_nm"),
    (ultraviolet.uv_index, ([300, 301], [1]), "irradiance_w_m2_nm"),
    (ultraviolet.uv_index, ([300, 301], [1, -1]), "irradiance_w_m2_nm"),
    (ultraviolet.uv_index, ([300, math.nan], [1, 1]), "wavelength_nm"),
    (ultraviolet.tube_factor, (0.85, 0), "height_m"),
    (ultraviolet.tube_factor, (0.85, True), "height_m"),
    (ultraviolet.zone, (-0.1,), "uv_index_average"),
    (ultraviolet.zone, (math.inf,), "uv_index_average"),
    (ultraviolet.zone_band, (5,), "zone"),
    (uv_lamps.largest_reachable, (3, 0.3, 0.5, 600, 600), "highest_reach_mm"),
    (uv_lamps.closest_distance_m, (0, 0.3, 0.5, 1), "reference_uv_index"),
    (uv_mesh.oblique_open_fraction, (1, 0.2, 90), "angle_deg"),
    (uv_mesh.rectangular_open_fraction, (1, 0.2, 0.2), "second_pitch_mm"),
    (uv_mesh.cloth_transmission, (0.9,), "protection_factor"),
    (uv_readings.aged_share, (1, [0.3, 0.1]), "loss_per_year"),
    (uv_readings.transmission, (1.1,), "open_fraction"),
]


@pytest.mark.parametrize(("function", "arguments", "name"), REFUSED)
def test_what_cannot_be_is_refused_by_name(function, arguments, name):
    with pytest.raises(Impossible) as refusal:
        function(*arguments)
    assert refusal.value.argument == name
