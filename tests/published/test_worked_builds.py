"""Three builds worked out by hand, with paper, pencil and the published formulas, against the plan's figures.

Nothing here calls the calculations under test: every step is arithmetic with its source beside it. The
tolerances are what the rounding of the hand figures, or reading between the rows of a table, amounts to.
"""

from math import atan, exp, hypot, log, log10, pi, radians, tan

import pytest

from tests.full_shelf import CRESTED
from tests.lit_shelf import line_of, plan_of, told, working

# van Genuchten 1980, Soil Sci. Soc. Am. J. 44:892: theta_r, theta_s, alpha [1/cm], n; grain [mm], voids.
# Where a medium has no published curve it takes that of a like one; kits/data/media.csv marks each.
COIR_CHIPS = (0.20, 0.95, 0.3614, 2.0, 12.0, 0.50)
COMPOST = (0.1167, 0.85, 0.1444, 1.5605, 2.0, 0.50)
FERN_FIBRE = (0.20, 0.95, 0.3614, 2.0, 4.0, 0.50)
CHARCOAL = (0.285, 0.83, 0.163, 2.0, 6.0, 0.45)
SPHAGNUM = (0.0, 0.93, 0.163, 1.25, 10.0, 0.50)
LOAM = (0.078, 0.43, 0.036, 1.56, 1.0, 0.45)  # Carsel and Parrish 1988, Water Resour. Res. 24:755
COIR_DUST = (0.499, 0.9231, 0.1038, 2.4749, 1.0, 0.50)
SAND = (0.045, 0.43, 0.145, 2.68, 1.0, 0.40)  # Carsel and Parrish 1988
CLAY = (0.068, 0.38, 0.008, 1.09, 0.05, 0.50)  # Carsel and Parrish 1988
FOREST_MIX = ((4, COIR_CHIPS), (3, COMPOST), (2, FERN_FIBRE), (1, CHARCOAL), (1, SPHAGNUM))
# Solids of a poured litre: dry density over that of mineral grains (EN 13041); field soil lies denser.
SOLID = {LOAM: 1.2 / 2.65, CLAY: 1.05 / 2.65}
BURROW_MIX = ((6, LOAM), (2, COIR_DUST), (2, SAND), (1, CLAY))


def mean_water(curve, height_cm, slices=200):
    """Water of a drained layer over a capillary break, slice by slice (Milks et al. 1989)."""
    theta_r, theta_s, alpha, n = curve[:4]
    middles = [(one + 0.5) * height_cm / slices for one in range(slices)]
    held = [theta_r + (theta_s - theta_r) * (1 + (alpha * h) ** n) ** (1 / n - 1) for h in middles]
    return sum(held) / slices


def blended(mix):
    """Litres left of the poured parts: Yu, Zou and Standish 1996, at 0.6 of the shrinkage of hard grains."""
    volumes = []
    for size in (curve[4] for _, curve in mix):
        volume = 0
        for litres, (_, _, _, _, grain, voids) in mix:
            r = min(size, grain) / max(size, grain)
            if grain > size:  # large grains among small ones: (1-r)^2 + 0.4 r (1-r)^3.7
                volume += litres * (1 - voids * ((1 - r) ** 2 + 0.4 * r * (1 - r) ** 3.7))
            elif grain < size:  # small grains in the voids of large ones: (1-r)^3.3 + 2.8 r (1-r)^2.7
                volume += litres * (1 - (1 - r) ** 3.3 - 2.8 * r * (1 - r) ** 2.7)
            else:
                volume += litres
        volumes.append(volume)
    poured = sum(parts for parts, _ in mix)
    return 0.4 * poured + 0.6 * max(volumes)


def mix_water_and_air(mix, height_cm):
    """Water of the parts adds up, solids stay, the volume is the blended one."""
    litres = blended(mix)
    water = sum(parts * mean_water(curve, height_cm) for parts, curve in mix) / litres
    pores = 1 - sum(parts * SOLID.get(curve, 1 - curve[1]) for parts, curve in mix) / litres
    return water, pores - water


def tube_shape(lit_m, distance_m):
    """Cosine law over a tube, below its middle: a / (D^2 + a^2) + atan(a / D) / D, a half its lit length."""
    a = lit_m / 2
    return a / (distance_m**2 + a**2) + atan(a / distance_m) / distance_m


def between(low, high, low_at, high_at, at):
    """Reading between two rows of a table on double logarithmic paper."""
    return low * (at / low_at) ** (log(high / low) / log(high_at / low_at))


def vapour_kg_kg(temperature_c, humidity_pct):
    """Magnus: 610.94 exp(17.625 t / (t + 243.04)) Pa; 0.622 p / (101325 - p)."""
    pressure = humidity_pct / 100 * 610.94 * exp(17.625 * temperature_c / (temperature_c + 243.04))
    return 0.622 * pressure / (101325 - pressure)


# --- A humid forest: one crested gecko in 45 x 45 x 60 cm of glass with a mesh top ---

FOREST = {**CRESTED, "choose": {"uvb_fixture": ["BEAM-549"], "substrate": ["FOREST-9", "FOREST-2"]}}
FLOOR_M2 = 0.443 * 0.443
AIR_M3 = FLOOR_M2 * 0.592
GROUND_MM = 50 + (60 + 110) / 2 + 25


@pytest.fixture(scope="module")
def forest():
    return plan_of(FOREST)


def test_forest_layers_are_floor_times_mean_depth(forest):
    drainage, soil, litter = 1000 * FLOOR_M2 * 0.050, 1000 * FLOOR_M2 * 0.085, 1000 * FLOOR_M2 * 0.025
    found = [forest.figures[f"{layer}_l"] for layer in ("drainage", "substrate", "litter")]
    assert found == pytest.approx([drainage, soil, litter], abs=0.01)


def test_forest_reservoir_stays_below_what_the_soil_can_draw(forest):
    # Jurin: h = 4 x 0.07275 / (998.2 x 9.80665 x d); narrowest pore 0.2 of 8 mm clay balls (from memory).
    rise_m = 4 * 0.07275 / (998.2 * 9.80665 * 0.2 * 0.008)
    assert rise_m == pytest.approx(0.0186, abs=0.0001)
    assert forest.figures["reservoir_l"] == pytest.approx(1000 * FLOOR_M2 * (0.050 - rise_m) * 0.44, abs=0.01)


def test_forest_soil_holds_water_and_air_by_its_recipe(forest):
    # The slope is taken as one level layer of the mean depth: a third of a percent point.
    water, air = mix_water_and_air(FOREST_MIX, 8.5)
    assert forest.figures["container_capacity_pct"] == pytest.approx(100 * water, abs=0.5)
    assert forest.figures["air_space_pct"] == pytest.approx(100 * air, abs=0.5)


def test_forest_first_watering_fills_the_soil_from_as_bagged_moisture(forest):
    # A quarter of the bag is water (estimate); 12.5 % more is poured than lies there; hardscape takes 0.2 L.
    water, _ = mix_water_and_air(FOREST_MIX, 8.5)
    litres = (1000 * FLOOR_M2 * 0.085 - 0.2) * (water - 0.25 * 1.125)
    assert forest.figures["first_watering_l"] == pytest.approx(litres, abs=0.1)


def forest_air_changes():
    """Table of lids (own figures by Brundrett 1993 and Epstein 1988): 45 x 45 x 60 cm, 3 K, 70 % open."""
    at_2k = between(1.47, 5.47, 0.5, 1.0, 0.70)
    at_5k = between(3.56, 12.98, 0.5, 1.0, 0.70)
    through_mesh = between(at_2k, at_5k, 2, 5, 3) * 0.60 / 0.592
    return through_mesh + 0.5  # draughts through joints; common practice, no source


def test_forest_cover_leaves_about_five_air_changes(forest):
    # Reading between half and whole of the table is good to a tenth.
    changes = working(forest, "misting_l_day").inputs["air_changes_h"]
    assert changes == pytest.approx(forest_air_changes(), rel=0.10)
    assert line_of(forest, "mesh_cover").because[0].endswith("30% of the mesh is covered.")


def test_forest_misting_makes_up_for_the_vapour_that_leaves(forest):
    # Inside 24 C (middle of 22 to 26) at 50 %, the room 21 C at 45 %; moist air of 24 C takes 0.855 m3/kg.
    gained = vapour_kg_kg(24, 50) - vapour_kg_kg(21, 45)
    litres = 24 * forest_air_changes() * AIR_M3 * gained / 0.855
    assert forest.figures["misting_l_day"] == pytest.approx(litres, rel=0.11)
    sprayed, minutes = litres / 0.6, litres / 0.6 / 0.1  # 40 % runs off; a hand sprayer gives 0.1 L a minute
    assert line_of(forest, "mister").figures["misting_min_day"] == pytest.approx(minutes, abs=0.1)
    assert f"{sprayed:.2f} L" in " ".join(line_of(forest, "mister").because)


def test_forest_uv_index_at_the_perch_and_at_the_highest_reach(forest):
    # Tube 549 mm, lit 80 mm less, read 0.4 at 30 cm; 20 mm above a mesh of 66 %, back 20 mm above the perch.
    lit, back, reach = 0.469, 0.592 + 0.020 - 0.420 - 0.020, 0.592 + 0.020 - 0.420 - 0.020 - 0.065
    index = [0.4 * 0.66 * tube_shape(lit, d) / tube_shape(lit, 0.30) for d in (back, reach)]
    assert index == pytest.approx([0.57, 0.98], abs=0.01)
    found = [forest.figures[figure] for figure in ("uvi_at_basking", "uvi_maximum_reachable")]
    assert found == pytest.approx(index, abs=0.005)
    assert 0 <= found[0] <= 0.7  # Ferguson et al. 2010, zone 1: average up to 0.7, at most 1.4
    assert found[1] <= 1.4


def test_forest_uv_index_agrees_with_the_ratios_of_a_longer_tube(forest):
    # Ratios to 30 cm of a tube lit over 0.55 m: 2.4061 at 15, 1.7148 at 20 cm; ours is shorter, so steeper.
    ratio = between(1.7148, 2.4061, 0.20, 0.15, 0.172)
    assert forest.figures["uvi_at_basking"] == pytest.approx(0.4 * 0.66 * ratio, rel=0.06)


def test_forest_plant_light_at_the_ground(forest):
    # Bar of 90 umol/s and 560 mm: E = PPF / (pi L) x h^2 / (2 D^3) x [g(t1) + g(t2)], g(t) = t + sin t cos t.
    h = (592 + 20 - GROUND_MM) / 1000

    def light(along, aside):
        d = hypot(h, aside)
        t1, t2 = atan((0.28 - along) / d), atan((0.28 + along) / d)
        swept = sum(t + tan(t) / (1 + tan(t) ** 2) for t in (t1, t2))
        return 90 / (pi * 0.56) * h**2 / (2 * d**3) * swept

    mean = 0.66 * (light(0, 0) + light(0.443 / 4, 0.443 / 4)) / 2
    assert mean == pytest.approx(69, abs=0.5)
    assert forest.figures["dli_floor"] == pytest.approx(mean * 12 * 3600 / 1e6, abs=0.01)


def test_forest_heat_loss_pane_by_pane(forest):
    # ISO 6946 resistances from memory: 0.13 on both faces of a wall, 0.10 up, 0.17 down; glass 1.0 W/mK.
    wall, top, floor = 1 / (0.13 + 0.004 + 0.13), 1 / 0.20, 1 / (0.17 + 0.004 + 0.018 / 0.13 + 0.17)
    panes = wall * 2 * 0.592 * (0.443 + 0.443) + (top + floor) * FLOOR_M2
    draughts = 1.2 * 1006 * 0.5 * AIR_M3 / 3600  # box and room are alike at night: nothing rises
    assert panes + draughts == pytest.approx(5.38, abs=0.01)
    assert forest.figures["heat_loss_w_k"] == pytest.approx(panes + draughts, rel=0.005)
    assert "heat_needed_w" not in forest.figures  # 18 C at night are wanted, and the room keeps 18 C


# --- A dry scrub: one bearded dragon in 120 x 60 x 60 cm of foamed PVC with a solid top ---

SCRUB = {
    "enclosure": {"size": "120x60x60-pvc"},
    "animals": [{"species": "pogona-vitticeps"}],
    "style": "dry-scrub",
    "room": {"temperature_c": 22, "night_temperature_c": 16, "relative_humidity_pct": 40},
    "perches_mm": [{"height": 250, "back": 290}],
    "choose": {"uvb_fixture": ["SLIM-549"], "substrate": ["SCRUB-9"], "basking_lamp": ["WARM-25"]},
}
LAMP_TO_BACK_M = (
    576 - 80 - 250 - 20
) / 1000  # a guarded lamp hangs 80 mm below the lid, a back lies 20 mm high


@pytest.fixture(scope="module")
def scrub():
    return plan_of(SCRUB)


def test_scrub_basking_lamp_is_dimmed_to_what_the_surface_needs(scrub):
    # 25 W, 85 % radiant, 70 % in a beam of 60 degrees. Surface table at air of 24 and of 28 C: 40 C takes
    # 209.4 and 158.8 W/m2 (absorptance 0.85, emissivity 0.95, 5 W/m2K); read at 27 C, the middle of 22 to 32.
    full = 25 * 0.85 * 0.70 / (pi * (LAMP_TO_BACK_M * tan(radians(30))) ** 2)
    needed = 158.8 + (209.4 - 158.8) / 4
    lamp = line_of(scrub, "basking_lamp").figures
    assert lamp["irradiance_w_m2"] == pytest.approx(full, abs=0.1)
    assert lamp["dimmed_to_pct"] == pytest.approx(100 * needed / full, abs=0.6)
    assert scrub.figures["basking_surface_c"] == pytest.approx(40, abs=0.1)


def test_scrub_basking_lamp_may_be_dimmed_within_the_animals_band(scrub):
    # The same table for the ends of 38 to 42 C: 182.3 and 131.6, 236.9 and 186.3 W/m2 in air of 24 and 28 C.
    full = 25 * 0.85 * 0.70 / (pi * (LAMP_TO_BACK_M * tan(radians(30))) ** 2)
    lamp = line_of(scrub, "basking_lamp")
    least, most = 131.6 + (182.3 - 131.6) / 4, 186.3 + (236.9 - 186.3) / 4
    found = (lamp.figures["dimmed_from_pct"], lamp.figures["dimmed_up_to_pct"])
    assert found == pytest.approx((100 * least / full, 100 * most / full), abs=0.8)
    assert f"from {found[0]}% to {found[1]}% it stays in that band" in " ".join(lamp.because)


def test_scrub_surface_below_the_undimmed_lamp_keeps_the_balance(scrub):
    # What it takes up, 0.85 x E, is what air and walls of 27 C take away at the temperature of the plan.
    full = 25 * 0.85 * 0.70 / (pi * (LAMP_TO_BACK_M * tan(radians(30))) ** 2)
    surface = line_of(scrub, "basking_lamp").figures["basking_surface_full_c"]
    away = 5 * (surface - 27) + 0.95 * 5.670374e-8 * ((surface + 273.15) ** 4 - 300.15**4)
    assert away == pytest.approx(0.85 * full, rel=0.01)  # a tenth of a kelvin is 1.1 W/m2


def test_scrub_uv_index_lies_in_the_band_of_open_sun_baskers(scrub):
    # A slim fixture throws half of what the reading's did; no mesh between. Zone 3: average 1.0 to 2.6, at
    # most 7.4 (Ferguson et al. 2010); a dragon stretches 50 mm.
    nearest = LAMP_TO_BACK_M - 0.050
    back, highest = (
        3.0 * 0.5 * tube_shape(0.469, d) / tube_shape(0.469, 0.30) for d in (LAMP_TO_BACK_M, nearest)
    )
    assert scrub.figures["uvi_at_basking"] == pytest.approx(back, abs=0.005)
    assert scrub.figures["uvi_maximum_reachable"] == pytest.approx(highest, abs=0.005)
    assert 1.0 <= back <= 2.6 < highest <= 7.4


def test_scrub_night_heat_and_its_duty(scrub):
    # Foamed PVC of 12 mm, 0.06 W/mK: 0.2 m2K/W in every pane; one air change an hour (estimate); 18 C wanted.
    wall, top, floor = 1 / (0.26 + 0.2), 1 / (0.20 + 0.2), 1 / (0.34 + 0.2 + 0.018 / 0.13)
    panes = wall * 2 * 0.576 * (1.174 + 0.580) + (top + floor) * 1.174 * 0.580
    loss = panes + 1.2 * 1006 * 1.0 * 1.174 * 0.580 * 0.576 / 3600
    assert scrub.figures["heat_loss_w_k"] == pytest.approx(loss, abs=0.01)
    assert scrub.figures["heat_needed_w"] == pytest.approx(1.25 * loss * (18 - 16), abs=0.05)
    duty = loss * (18 - 16) / 20
    assert line_of(scrub, "night_heat").item == "PANEL-20"
    assert working(scrub, "running_cost_month").inputs["night_heat_running_share"] == pytest.approx(
        duty, abs=0.01
    )


def test_scrub_soil_is_not_soaked_and_not_misted(scrub):
    assert not {"first_watering_l", "misting_l_day", "reservoir_l"} & set(scrub.figures)
    assert not told(scrub, "mister")


# --- Deep soil: one western hognose in 90 x 45 x 45 cm of glass with a mesh top ---

DEEP = {
    "enclosure": {"size": "90x45x45-glass"},
    "animals": [{"species": "heterodon-nasicus"}],
    "style": "deep-soil",
    "room": {"temperature_c": 21, "night_temperature_c": 15, "relative_humidity_pct": 45},
    "depths_mm": {"substrate_front": 120, "substrate_back": 160, "litter": 15},
    "choose": {"substrate": ["BURROW-9"]},
}


@pytest.fixture(scope="module")
def deep():
    return plan_of(DEEP)


def deep_soil_kg():
    """Dry parts at 1.2, 0.08, 1.55, 1.05 kg/L (from memory and one paper), and the water that they hold."""
    dry_kg_l = (6 * 1.2 + 2 * 0.08 + 2 * 1.55 + 1 * 1.05) / blended(BURROW_MIX)
    water, _ = mix_water_and_air(BURROW_MIX, 14.0)
    return (1000 * 0.890 * 0.441 * 0.140 - 0.9) * (dry_kg_l + water)  # 0.9 L of hides stand in it


def test_deep_soil_volume_and_what_it_holds(deep):
    water, air = mix_water_and_air(BURROW_MIX, 14.0)
    assert deep.figures["substrate_l"] == pytest.approx(1000 * 0.890 * 0.441 * 0.140, abs=0.01)
    assert deep.figures["container_capacity_pct"] == pytest.approx(100 * water, abs=0.5)
    assert deep.figures["air_space_pct"] == pytest.approx(100 * air, abs=0.5)


def test_deep_soil_weight_and_floor_load(deep):
    # Panes of 5 mm at 2500 kg/m3; litter wet 0.05 kg/L; every other piece of this shelf weighs 0.5 kg.
    width, depth, height = 0.900, 0.451, 0.446
    glass = 2500 * 0.005 * (width * depth + 2 * height * (width + depth))
    litter = 1000 * 0.890 * 0.441 * 0.015 * 0.05
    layers = ("enclosure", "substrate", "litter", "inoculant")
    goods = 0.5 * sum(line.quantity for line in deep.lines if line.role not in layers)
    total = glass + deep_soil_kg() + litter + goods
    assert deep.figures["installed_kg"] == pytest.approx(total, rel=0.01)
    load = total / (width * depth)
    assert load > 195.3  # 40 psf, IRC R301.5: a note for one box alone
    assert f"about {total:.0f} kg filled" in told(deep, "installed_kg")
    assert "above the 195 kg/m2" in told(deep, "installed_kg")


def test_deep_soil_heat_at_night(deep):
    # Glass of 5 mm; table of lids for 45 x 90 x 45 cm, the whole insect mesh open: 7.66 at 2 K, 18.16 at 5 K.
    wall, top, floor = 1 / (0.13 + 0.005 + 0.13), 1 / 0.20, 1 / (0.17 + 0.005 + 0.018 / 0.13 + 0.17)
    panes = wall * 2 * 0.441 * (0.890 + 0.441) + (top + floor) * 0.890 * 0.441
    changes = between(7.66, 18.16, 2, 5, 3) * 0.45 / 0.441 + 0.5
    loss = panes + 1.2 * 1006 * changes * 0.890 * 0.441 * 0.441 / 3600
    assert deep.figures["heat_loss_w_k"] == pytest.approx(loss, rel=0.01)
    assert deep.figures["heat_needed_w"] == pytest.approx(1.25 * loss * (18 - 15), rel=0.01)


def test_the_laws_of_the_lid_table_hold_by_hand_at_the_speed_that_the_plan_finds(deep):
    # Brundrett 1993 in series with Epstein 1988: the drive 0.055 sqrt(g dT/T D^5) less what the mesh takes.
    flow = (working(deep, "heat_loss_w_k").inputs["air_changes_h"] - 0.5) * 0.890 * 0.441 * 0.441 / 3600
    across = 2 * 0.890 * 0.441 / (0.890 + 0.441)
    unmeshed = 0.055 * (9.81 * 3 / (273.15 + 16.5) * across**5) ** 0.5
    reynolds = 2 * flow / (0.890 * 0.441) * 0.00028 / 1.55e-5
    mesh = (7 / reynolds + 0.9 / log10(reynolds + 1.25) + 0.05 * log10(reynolds)) * (1 - 0.66**2) / 0.66**2
    assert flow == pytest.approx(unmeshed * (0.61**-2 / (0.61**-2 + mesh)) ** 0.5, rel=0.001)
