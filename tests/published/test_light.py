"""Plant light: photons by the lumen, by lamp and distance, and by the length of the day."""

import functools
import math
import warnings
from datetime import date, datetime, timedelta, timezone

import numpy as np
import pytest
from astral import Observer
from astral.sun import sun
from scipy import constants
from scipy.integrate import dblquad, quad

from inventory.calc import workings
from inventory.calc.errors import Impossible
from kits.physics import day_length, light, photons
from kits.physics.published import published_column

pytestmark = pytest.mark.xdist_group("spectra")  # one worker loads colour and pvlib, when they are asked for

# Sensor maker's page after Thimijan & Heins 1983: lux for each umol/m2/s; 10000 lux of sun are 185.
LUX = [("sunlight", 54), ("cool_white_fluorescent", 74), ("high_pressure_sodium", 82), ("metal_halide", 71)]


@pytest.mark.parametrize(("source", "lux_for_one"), LUX)
def test_factors_agree_with_the_lux_for_one_micromole(source, lux_for_one):
    assert photons.ppfd_from_lux(lux_for_one, source) == pytest.approx(1, abs=0.005)


def test_ten_thousand_lux_of_sun():
    assert photons.ppfd_from_lux(10000, "sunlight") == pytest.approx(185, abs=0.5)


def test_three_thousand_lumens_of_white_led():
    assert photons.flux_from_lumens(3000, "cie_led_b3") == pytest.approx(43.0, abs=0.05)


# Indoor plants are kept at 50 to 250 foot-candles, 7.3 to 36.5 umol/m2/s: 0.146 for each foot-candle.
def test_a_foot_candle_of_white_light():
    assert photons.ppfd_from_lux(10.7639, "t5_daylight") == pytest.approx(0.146, abs=0.001)


@functools.cache
def colour_science():
    with warnings.catch_warnings():
        # It warns that drawing needs a library which nothing here draws with.
        warnings.simplefilter("ignore")
        import colour
    return colour


@functools.cache
def photopic():
    """CIE 1924 photopic function at 1 nm."""
    return colour_science().SDS_LEFS["CIE 1924 Photopic Standard Observer"]


def photons_per_lumen(wavelengths, power):
    """Photons of 400 to 700 nm for each lumen of a spectrum."""
    lit = (wavelengths >= 400) & (wavelengths <= 700)
    per_joule = wavelengths * 1e-9 / (constants.h * constants.c * constants.N_A) * 1e6
    micromoles = np.trapezoid((power * per_joule)[lit], wavelengths[lit])
    seen = photopic()
    lumens = 683.002 * np.trapezoid(
        power * np.interp(wavelengths, seen.wavelengths, seen.values), wavelengths
    )
    return micromoles / lumens


def cie(code):
    """An illuminant of CIE 015:2018 at 1 nm."""
    colour = colour_science()
    found = colour.SDS_ILLUMINANTS[code].copy().align(colour.SpectralShape(380, 780, 1))
    return found.wavelengths, found.values


CIE_CODES = [code for code in published_column("lux_factors", "ppfd_per_lux") if code.startswith("cie_")]


@pytest.mark.parametrize("code", CIE_CODES)
def test_factors_of_standard_spectra_against_their_spectra(code):
    name = code.removeprefix("cie_").upper().replace("_", "-")
    assert photons.ppfd_from_lux(1, code) == pytest.approx(photons_per_lumen(*cie(name)), abs=2e-5)


# ASTM G173 global sun: 0.018064 umol a lumen; the table's sunlight differs from it by 2.4 %.
def test_the_standard_sun_is_near_the_factor_of_sunlight():
    from pvlib.spectrum import get_reference_spectra

    spectrum = get_reference_spectra(standard="ASTM G173-03")["global"].loc[360:830]
    found = photons_per_lumen(spectrum.index.to_numpy(dtype=float), spectrum.to_numpy(dtype=float))
    assert found == pytest.approx(0.018064, abs=2e-5)
    assert photons.ppfd_from_lux(1, "sunlight") == pytest.approx(found, rel=0.025)


# Definition: 12 h of 46.30, 92.59 and 231.48 umol/m2/s are 2, 4 and 10 mol.
@pytest.mark.parametrize(("mol", "ppfd"), [(2, 46.30), (4, 92.59), (10, 231.48)])
def test_flux_for_a_daily_light_integral(mol, ppfd):
    assert light.ppfd_for_daily_light_integral(mol, 12) == pytest.approx(ppfd, abs=0.005)
    assert light.daily_light_integral(ppfd, 12) == pytest.approx(mol, abs=0.0005)


# Worked from the closed forms; the quadratures below are the outside check.
def test_a_point_of_60_micromoles_at_30_cm():
    assert light.point_ppfd(60, 0.30) == pytest.approx(212.2, abs=0.05)


@pytest.mark.parametrize(("distance", "ppfd"), [(0.30, 90.92), (0.45, 49.49), (0.60, 30.55)])
def test_a_bar_of_40_micromoles(distance, ppfd):
    assert light.bar_ppfd(40, 0.6, distance) == pytest.approx(ppfd, abs=0.005)


def test_a_panel_of_60_micromoles_at_45_cm():
    assert light.panel_ppfd(60, 0.6, 0.3, 0.45) == pytest.approx(69.690, abs=0.01)


# Configuration factors of 0.6 x 0.3 m at 0.45 m and of 0.3 x 0.3 m at 0.3 m.
@pytest.mark.parametrize(
    ("width", "length", "distance", "factor"), [(0.6, 0.3, 0.45, 0.209071), (0.3, 0.3, 0.3, 0.239456)]
)
def test_configuration_factors_of_panels(width, length, distance, factor):
    assert light.panel_ppfd(width * length, width, length, distance) == pytest.approx(factor, abs=1e-6)


def random_cases(low, high, count=25):
    draw = np.random.default_rng(23)
    return [tuple(draw.uniform(low, high)) for _ in range(count)]


# A flat diffuse source leaves flux / pi in each direction by the cosine, and the spot sees it by the cosine.
@pytest.mark.parametrize(
    ("length", "height", "along", "aside"), random_cases([0.1, 0.05, -0.8, -0.6], [1.5, 1.2, 0.8, 0.6])
)
def test_bars_against_quadrature(length, height, along, aside):
    def piece(x):
        return 40 / (math.pi * length) * height**2 / (height**2 + aside**2 + (x - along) ** 2) ** 2

    by_pieces = quad(piece, -length / 2, length / 2, epsabs=1e-12, epsrel=1e-12, limit=200)[0]
    assert light.bar_ppfd_at(40, length, height, along, aside) == pytest.approx(by_pieces, rel=1e-9)


@pytest.mark.parametrize(
    ("width", "length", "height", "aside", "along"),
    random_cases([0.1, 0.1, 0.1, -0.6, -0.6], [0.9, 0.9, 1.0, 0.6, 0.6]),
)
def test_panels_against_quadrature(width, length, height, aside, along):
    def piece(y, x):
        squared = height**2 + (x - aside) ** 2 + (y - along) ** 2
        return 60 / (width * length * math.pi) * height**2 / squared**2

    by_pieces = dblquad(piece, -width / 2, width / 2, -length / 2, length / 2, epsabs=1e-10)[0]
    assert light.panel_ppfd_at(60, width, length, height, aside, along) == pytest.approx(by_pieces, rel=1e-7)


# A lamp without losses: what falls on a wide floor is the flux it gave out, a quarter metre below it.
def test_a_wide_floor_catches_the_whole_flux_of_a_point():
    def ring(radius):
        return 2 * math.pi * radius * light.point_ppfd(60, 0.25, radius)

    assert quad(ring, 0, math.inf)[0] == pytest.approx(60, rel=1e-6)


PLACES = [
    (0, 0, date(2026, 3, 20), 12.1027, 12.1086),
    (23.4394, 0, date(2026, 6, 21), 13.5740, 13.5811),
    (-18.9, 47.5, date(2026, 12, 21), 13.2653, 13.2722),
    (-21.5, 165.5, date(2026, 7, 1), 10.8354, 10.8412),
    (40.7128, -74.0060, date(2026, 6, 21), 15.0865, 15.0922),
    (40.7128, -74.0060, date(2026, 12, 21), 9.2450, 9.2541),
    (51.5, 0, date(2026, 9, 22), 12.1994, 12.2086),
    (34.05, -118.24, date(2026, 11, 25), 10.1526, 10.1656),
]


# astral 3.2 (NOAA formulas) and the solar position algorithm of NREL in pvlib 0.16.1.
@pytest.mark.parametrize(("latitude", "longitude", "day", "noaa", "nrel"), PLACES)
def test_day_length_by_two_other_ways(latitude, longitude, day, noaa, nrel):
    hours = light.day_length_h(latitude, longitude, day)
    assert hours == pytest.approx(noaa, abs=0.02)
    assert hours == pytest.approx(nrel, abs=0.01)


def days_and_places(count=40):
    draw = np.random.default_rng(5)
    for _ in range(count):
        latitude, longitude = float(draw.uniform(-60, 60)), float(draw.uniform(-180, 180))
        yield round(latitude, 3), round(longitude, 3), date(2026, 1, 1) + timedelta(int(draw.integers(365)))


@pytest.mark.parametrize(("latitude", "longitude", "day"), list(days_and_places()))
def test_day_length_anywhere_against_astral(latitude, longitude, day):
    zone = timezone(timedelta(hours=longitude / 15))
    seen = sun(Observer(latitude, longitude), day, tzinfo=zone)
    hours = (seen["sunset"] - seen["sunrise"]).total_seconds() / 3600 % 24
    assert light.day_length_h(latitude, longitude, day) == pytest.approx(hours, abs=0.03)


def heights_of_the_sun(day, zone, latitude, longitude):
    """Degrees above the horizon at every minute of a day, by pvlib."""
    import pandas as pd
    from pvlib.solarposition import get_solarposition

    times = pd.date_range(datetime(day.year, day.month, day.day, tzinfo=zone), periods=1441, freq="min")
    return get_solarposition(times, latitude, longitude)["elevation"].to_numpy()


# NREL's solar position algorithm: when the sun passes 0.8333 deg below the horizon, minute by minute.
@pytest.mark.parametrize(("latitude", "longitude", "day"), list(days_and_places()))
def test_day_length_anywhere_against_the_height_of_the_sun(latitude, longitude, day):
    zone = timezone(timedelta(hours=longitude / 15))
    height = heights_of_the_sun(day, zone, latitude, longitude)
    hours, noon = np.arange(1441) / 60, int(height.argmax())
    sunrise = np.interp(-0.8333, height[: noon + 1], hours[: noon + 1])
    sunset = np.interp(0.8333, -height[noon:], hours[noon:])
    assert light.day_length_h(latitude, longitude, day) == pytest.approx(sunset - sunrise, abs=0.02)


def hours_up(latitude, longitude, day):
    """Hours of a day of the place with the sun above 0.8333 deg below the horizon, by NREL's algorithm."""
    zone = timezone(timedelta(hours=longitude / 15))
    height = heights_of_the_sun(day, zone, latitude, longitude) + 0.8333
    before, after = height[:-1], height[1:]
    share = np.where(before > 0, before, after) / np.maximum(np.abs(before - after), 1e-12)
    crossed = (before > 0) != (after > 0)
    return np.where(crossed, share, (before > 0) * 1.0).sum() / 60


# Tromso, Longyearbyen, a station on the Antarctic coast: nights and days without end, and ordinary days.
POLAR = [
    (69.65, 18.96, date(2026, 6, 21)), (69.65, 18.96, date(2026, 12, 21)), (69.65, 18.96, date(2026, 3, 1)),
    (78.22, 15.65, date(2026, 5, 15)), (78.22, 15.65, date(2026, 11, 25)), (78.22, 15.65, date(2026, 9, 23)),
    (-69.0, 39.58, date(2026, 12, 21)), (-69.0, 39.58, date(2026, 6, 21)), (-69.0, 39.58, date(2026, 8, 20)),
    (89.9, 0.0, date(2026, 6, 21)), (-90.0, 0.0, date(2026, 6, 21)),
]  # fmt: skip


@pytest.mark.parametrize(("latitude", "longitude", "day"), POLAR)
def test_beyond_the_polar_circle_the_day_is_as_long_as_the_sun_is_up_and_marked(latitude, longitude, day):
    worked = workings.work(
        workings.of(light.day_length_h),
        {"latitude_deg": latitude, "longitude_deg": longitude, "date": day.isoformat()},
    )
    assert worked.value == pytest.approx(hours_up(latitude, longitude, day), abs=0.02)
    assert not worked.valid


@pytest.mark.parametrize("latitude", [-65.0, -33.0, 0.0, 23.4, 51.5, 60.2, 65.0])
@pytest.mark.parametrize("day", [date(1950, 1, 1), date(1987, 6, 21), date(2026, 12, 21), date(2050, 12, 31)])
def test_day_length_is_within_a_minute_and_a_bit_wherever_it_is_told_valid(latitude, day):
    place = {"latitude_deg": latitude, "longitude_deg": 10.0}
    worked = workings.work(workings.of(light.day_length_h), {**place, "date": day.isoformat()})
    assert worked.valid
    assert worked.value == pytest.approx(hours_up(latitude, 10.0, day), abs=0.02)


@pytest.mark.parametrize(("year", "valid"), [(1949, False), (1950, True), (2050, True), (2051, False)])
def test_years_that_the_almanac_formula_is_not_made_for_are_marked(year, valid):
    place = {"latitude_deg": 10, "longitude_deg": 0}
    one = workings.work(workings.of(light.day_length_h), {**place, "date": f"{year}-05-01"})
    both = {**place, "dates": ["2026-05-01", f"{year}-05-01"]}
    assert one.valid == workings.work(workings.of(day_length.photoperiod), both).valid == valid


@pytest.mark.parametrize("latitude", [90.1, -91, float("nan")])
def test_a_place_off_the_globe_has_no_day(latitude):
    with pytest.raises(Impossible, match="must"):
        light.day_length_h(latitude, 0, date(2026, 6, 21))


def declination_of_forsythe(day_of_year):
    """Sun of the CBM model, Forsythe et al. 1995, Ecol. Modelling 80:87 (formula from memory)."""
    turned = 0.2163108 + 2 * math.atan(0.9671396 * math.tan(0.00860 * (day_of_year - 186)))
    return math.degrees(math.asin(0.39795 * math.cos(turned)))


CBM = [
    (0, 79, 12.1111, 12.0000),
    (23.4394, 172, 13.5797, 13.4451),
    (-18.9, 355, 13.2679, 13.1383),
    (-21.5, 182, 10.8374, 10.7058),
    (40.7128, 172, 15.0949, 14.9219),
    (40.7128, 355, 9.2503, 9.0789),
    (51.5, 265, 12.2864, 12.1079),
    (34.05, 329, 10.1868, 10.0391),
]


@pytest.mark.parametrize(("latitude", "day_of_year", "rim", "middle"), CBM)
def test_hours_above_the_horizon_by_the_model_of_forsythe(latitude, day_of_year, rim, middle):
    """The rim of the sun by refraction, 0.8333 deg below the horizon, and its middle at the horizon."""
    declination = declination_of_forsythe(day_of_year)
    for below, hours in ((0.8333, rim), (0, middle)):
        found = day_length.hours_above_horizon(latitude, declination, below)
        assert found == pytest.approx(hours, abs=0.001)


@pytest.mark.parametrize("day_of_year", [1, 80, 172, 266, 355])
def test_at_the_equator_the_middle_of_the_sun_is_up_for_half_the_day(day_of_year):
    assert day_length.hours_above_horizon(0, declination_of_forsythe(day_of_year), 0) == pytest.approx(
        12, abs=1e-6
    )


@pytest.mark.parametrize(
    ("latitude", "day", "hours"),
    [
        (70, date(2026, 6, 21), 24),
        (70, date(2026, 12, 21), 0),
        (-90, date(2026, 12, 21), 24),
        (90, date(2026, 1, 1), 0),
    ],
)
def test_midnight_sun_and_polar_night(latitude, day, hours):
    assert light.day_length_h(latitude, 25, day) == hours


# Common practice, no source: 12 h for tropical animals; the tropics never leave 10.5 to 13.6 h.
def test_twelve_hours_are_the_middle_of_the_tropics():
    year = [date(2026, 1, 1) + timedelta(days) for days in range(365)]
    timers = [lit["timer_h"] for lit in day_length.photoperiod(-21.5, 165.5, year)]
    assert 10.5 <= min(timers) <= max(timers) <= 13.6
    assert sum(timers) / 365 == pytest.approx(day_length.customary_photoperiod_h("tropical"), abs=0.2)


REFUSED = [
    (light.daily_light_integral, (10, 25), "hours"),
    (light.daily_light_integral, (math.nan, 5), "ppfd"),
    (light.ppfd_for_daily_light_integral, (4, 0), "hours"),
    (light.point_ppfd, (60, 0), "distance_m"),
    (light.bar_ppfd, (-1, 0.6, 0.3), "flux_umol_s"),
    (light.panel_ppfd, (60, 0, 0.3, 0.3), "width_m"),
    (light.day_length_h, (91, 0, date(2026, 1, 1)), "latitude_deg"),
    (light.day_length_h, (0, 181, date(2026, 1, 1)), "longitude_deg"),
    (day_length.customary_photoperiod_h, ("spring",), "season"),
    (photons.ppfd_from_lux, (100, "candle"), "source"),
]


@pytest.mark.parametrize(("function", "arguments", "name"), REFUSED)
def test_what_cannot_be_is_refused_by_name(function, arguments, name):
    with pytest.raises(Impossible) as refusal:
        function(*arguments)
    assert refusal.value.argument == name
