"""Heat and air against CoolProp, fluids, ht and scipy on random states."""

import math

import fluids
import ht
import numpy as np
import pytest
from scipy.integrate import quad
from scipy.optimize import brentq

from kits.physics import air, airflow, heat, radiant, vapour

pytestmark = pytest.mark.xdist_group("CoolProp")  # one worker loads it, when it is asked for
RANDOM = np.random.default_rng(20261125)
PRESSURE = 101325.0
STATES = [(RANDOM.uniform(1, 45), RANDOM.uniform(5, 98)) for _ in range(150)]
COLD = [(RANDOM.uniform(-20, -1), RANDOM.uniform(20, 98)) for _ in range(30)]
# Real vapour in real air lies up to half a percent above the ideal gases of this room (enhancement factor).
IDEAL_GAS = 6e-3
# Compressibility of air at -20 C is 0.9990.
IDEAL_DENSITY = 1e-3


def fluid(asked, *state):
    from CoolProp.CoolProp import PropsSI

    return PropsSI(asked, *state)


def humid(asked, celsius, **given):
    (name, value), *_ = given.items()
    from CoolProp.CoolProp import HAPropsSI

    return HAPropsSI(asked, "T", celsius + 273.15, "P", PRESSURE, name, value)


@pytest.mark.parametrize("celsius", RANDOM.uniform(0.1, 90, 60))
def test_saturation_pressure_over_water_agrees_with_coolprop(celsius):
    exact = fluid("P", "T", celsius + 273.15, "Q", 1, "Water")
    assert air.saturation_pressure_pa(celsius) == pytest.approx(exact, rel=3e-4)


@pytest.mark.parametrize("celsius", RANDOM.uniform(-40, -0.1, 30))
def test_saturation_pressure_over_ice_agrees_with_coolprop(celsius):
    assert air.saturation_pressure_pa(celsius) == pytest.approx(humid("P_w", celsius, R=1.0), rel=IDEAL_GAS)


@pytest.mark.parametrize(("celsius", "pct"), STATES + COLD)
def test_humidity_ratio_and_relative_humidity_agree_with_coolprop(celsius, pct):
    ratio = air.humidity_ratio(celsius, pct)
    assert ratio == pytest.approx(humid("W", celsius, R=pct / 100), rel=IDEAL_GAS)
    assert air.relative_humidity_pct(celsius, ratio) == pytest.approx(
        100 * humid("R", celsius, W=ratio), rel=IDEAL_GAS
    )
    assert air.relative_humidity_pct(celsius, ratio) == pytest.approx(pct, rel=1e-9)


@pytest.mark.parametrize(("celsius", "pct"), STATES + COLD)
def test_dew_point_agrees_with_coolprop(celsius, pct):
    assert air.dew_point_c(celsius, pct) == pytest.approx(humid("D", celsius, R=pct / 100) - 273.15, abs=0.02)


@pytest.mark.parametrize(("celsius", "pct"), STATES + COLD)
def test_density_and_volume_agree_with_coolprop(celsius, pct):
    ratio = air.humidity_ratio(celsius, pct)
    assert air.moist_density_kg_m3(celsius, pct) == pytest.approx(
        1 / humid("Vha", celsius, R=pct / 100), rel=IDEAL_DENSITY
    )
    assert air.moist_volume_m3_kg(celsius, ratio) == pytest.approx(
        humid("Vda", celsius, W=ratio), rel=IDEAL_DENSITY
    )


@pytest.mark.parametrize(("celsius", "pct"), STATES[:40])
def test_heated_air_agrees_with_coolprop(celsius, pct):
    warm = celsius + 10
    ratio = humid("W", celsius, R=pct / 100)
    assert air.heated_relative_humidity_pct(celsius, pct, warm) == pytest.approx(
        100 * humid("R", warm, W=ratio), rel=IDEAL_GAS
    )


# A shop's balance with real gases: kilograms of vapour in and out by CoolProp.
@pytest.mark.parametrize("changes", RANDOM.uniform(0.5, 40, 20))
def test_misting_agrees_with_the_balance_of_real_gases(changes):
    inside, room = humid("W", 26, R=0.8), humid("W", 22, R=0.45)
    exact = 24 * changes * 0.1215 * (inside - room) / humid("Vda", 26, R=0.8)
    assert air.misting_l_day(0.1215, changes, 26, 80, 22, 45) == pytest.approx(exact, rel=IDEAL_GAS)


@pytest.mark.parametrize("room_c", RANDOM.uniform(5, 25, 20))
def test_glass_fogs_where_coolprop_has_the_dew_point_on_its_surface(room_c):
    u_value = heat.pane_u_value(0.004, 1.0)
    pct = vapour.fogging_humidity_pct(26, room_c, u_value)
    surface = 26 - u_value * 0.13 * (26 - room_c)
    assert humid("D", 26, R=pct / 100) - 273.15 == pytest.approx(surface, abs=0.02)


# Blevins 1984, round wire screens, by fluids: both laws of this room lie within a fifth of it.
@pytest.mark.parametrize("law", ["brundrett", "bailey"])
@pytest.mark.parametrize("reynolds", 10 ** RANDOM.uniform(1.302, 2.6, 25))
@pytest.mark.parametrize("open_fraction", [0.35, 0.5, 0.66, 0.8])
def test_screen_losses_lie_near_those_of_blevins(reynolds, open_fraction, law):
    blevins = fluids.round_edge_screen(open_fraction, reynolds)
    assert airflow.screen_loss(reynolds, open_fraction, law) == pytest.approx(blevins, rel=0.20)


def test_blevins_lies_between_the_two_laws_where_mesh_lids_begin():
    for reynolds in (20, 30, 40):
        low, high = (airflow.screen_loss(reynolds, 0.66, law) for law in ("brundrett", "bailey"))
        assert low < fluids.round_edge_screen(0.66, reynolds) < high


def film_w_m2k(size_m, warm_c, cold_c, nusselt):
    """Natural convection by ht with CoolProp's air, and radiation of a surface of emissivity 0.9."""
    mean_k = (warm_c + cold_c) / 2 + 273.15
    state = ("T", mean_k, "P", PRESSURE, "Air")
    density, viscosity, conductivity = (fluid(name, *state) for name in ("D", "V", "L"))
    prandtl = viscosity * fluid("C", *state) / conductivity
    grashof = 9.81 / mean_k * (warm_c - cold_c) * size_m**3 * (density / viscosity) ** 2
    radiated = 4 * 0.9 * heat.STEFAN_BOLTZMANN * mean_k**3
    return nusselt(prandtl, grashof) * conductivity / size_m + radiated


# The surface resistances of ISO 6946 stand for such films: 0.13 at a wall, 0.10 below rising air.
def test_the_film_of_a_wall_is_plausible_by_natural_convection():
    film = film_w_m2k(0.6, 25, 20, ht.Nu_vertical_plate_Churchill)
    assert 1 / film == pytest.approx(heat.R_SIDE, rel=0.10)


# McAdams' correlation for a hot plate facing up, with the side of the plate as its length, through ht.
def test_the_film_of_a_top_is_plausible_by_ht():
    film = film_w_m2k(0.45, 30, 20, lambda p, g: ht.Nu_horizontal_plate_McAdams(p, g, buoyancy=True))
    assert 1 / film == pytest.approx(heat.R_UP, rel=0.10)


SPOTS = [
    (RANDOM.uniform(0, 3000), RANDOM.uniform(-20, 45), *RANDOM.uniform(0.1, 1, 2), RANDOM.uniform(0.5, 20))
    for _ in range(80)
]


@pytest.mark.parametrize("spot", SPOTS)
def test_basking_surface_is_the_root_that_scipy_finds(spot):
    irradiance, air_c, absorptance, emissivity, convection = spot

    def surplus(kelvin):
        room = air_c + 273.15
        radiated = emissivity * 5.670374419e-8 * (kelvin**4 - room**4)
        return convection * (kelvin - room) + radiated - absorptance * irradiance

    root = brentq(surplus, air_c + 273.15 - 1e-6, 1e5, xtol=1e-11) - 273.15
    assert heat.basking_surface_c(*spot) == pytest.approx(root, abs=1e-8)


@pytest.mark.parametrize("kelvin", RANDOM.uniform(300, 6500, 25))
def test_black_body_bands_agree_with_quadrature_of_the_spectrum_of_ht(kelvin):
    edges = [100e-9, 380e-9, 780e-9, 1400e-9, 3000e-9]
    total = heat.STEFAN_BOLTZMANN * kelvin**4 / math.pi
    bands = list(radiant.black_body_bands(kelvin).values())
    for low, high, part in zip(edges, edges[1:], bands, strict=False):
        radiance = quad(lambda m: ht.blackbody_spectral_radiance(kelvin, m), low, high, epsrel=1e-10)[0]
        assert part == pytest.approx(radiance / total, abs=1e-6)
    assert sum(bands) == pytest.approx(1)


LIDS = [
    (*RANDOM.uniform(0.2, 1.2, 2), *RANDOM.uniform(0.3, 8, 1), *RANDOM.uniform(0.1, 1, 1)) for _ in range(60)
]


@pytest.mark.parametrize("law", ["brundrett", "bailey"])
@pytest.mark.parametrize("lid", LIDS)
def test_lid_exchange_is_the_root_that_scipy_finds(lid, law):
    width, length, opening_mm, wire_mm = lid
    unmeshed = heat.opening_exchange_m3_s(width, length, 0.02)
    open_fraction = (opening_mm / (opening_mm + wire_mm)) ** 2

    def surplus(flow):
        reynolds = 2 * flow / (width * length) * wire_mm / 1000 / 1.55e-5
        held = 0.61**-2 + airflow.screen_loss(reynolds, open_fraction, law)
        return flow * math.sqrt(held) - unmeshed / 0.61

    root = brentq(surplus, 1e-12, unmeshed, xtol=1e-15)
    assert airflow.mesh_exchange_m3_s(*lid, 0.02, law=law) == pytest.approx(root, rel=1e-8)
