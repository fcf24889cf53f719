"""Published and worked figures for geometry, weight and power."""

import pytest

from inventory.calc.errors import Impossible
from kits.physics.geometry import clipped_layer_l, layer_l, overhang_mm, poured_l, sheets_to_cover
from kits.physics.power import continuous_limit_w, energy_kwh
from kits.physics.weight import filled_kg, floor_load_kg_m2, floor_share, glass_kg, kg_m2_from_psf

# Worked from 2500 kg/m3 for float glass (density from memory, EN 572-1): floor and four walls, no lid.
GLASS = [
    ((0.45, 0.45, 0.60, 0.004), 12.825),
    ((0.60, 0.45, 0.45, 0.005), 15.188),
    ((0.90, 0.45, 0.45, 0.005), 20.25),
    ((0.90, 0.45, 0.60, 0.006), 30.375),
    ((1.20, 0.60, 0.60, 0.006), 43.2),
]


@pytest.mark.parametrize(("sides", "kg"), GLASS)
def test_glass_weighs_what_its_panes_weigh(sides, kg):
    assert glass_kg(*sides) == pytest.approx(kg, abs=0.0006)


def test_a_glass_lid_adds_its_pane():
    with_lid = glass_kg(0.45, 0.45, 0.60, 0.004, open_top=False)
    assert with_lid - glass_kg(0.45, 0.45, 0.60, 0.004) == pytest.approx(2500 * 0.004 * 0.45**2)


# IRC table R301.5: 40 psf for rooms, 30 psf for sleeping rooms; pound and foot are exact by definition.
@pytest.mark.parametrize(("psf", "kg_m2"), [(40, 195.297), (30, 146.473)])
def test_floor_loads_of_the_residential_code_in_si(psf, kg_m2):
    assert kg_m2_from_psf(psf) == pytest.approx(kg_m2, abs=0.001)


# Worked: 44.2 kg filled on 45 x 45 cm, 83.0 kg on 90 x 45 cm, 154.8 kg on 120 x 60 cm.
@pytest.mark.parametrize(
    ("kg", "w", "d", "psf"), [(44.2, 0.45, 0.45, 44.7), (83, 0.9, 0.45, 42), (154.8, 1.2, 0.6, 44)]
)
def test_filled_boxes_stand_a_little_above_forty_psf(kg, w, d, psf):
    assert floor_load_kg_m2(kg, w, d) / kg_m2_from_psf(1) == pytest.approx(psf, abs=0.1)


# Worked: 10 cm of substrate of 0.9 kg/L, 5 cm of drainage of 0.5 kg/L, 40 kg/m2 of hardscape (all three are
# common practice).
@pytest.mark.parametrize(
    ("w", "d", "empty", "kg"),
    [(0.45, 0.45, 12.825, 44.2), (0.6, 0.45, 15.188, 57), (0.9, 0.45, 20.25, 83), (0.9, 0.45, 30.375, 93.2),
     (1.2, 0.6, 43.2, 154.8)],
)  # fmt: skip
def test_filled_boxes_weigh_their_layers_too(w, d, empty, kg):
    layers = [{"litres": 100 * w * d, "density_kg_l": 0.9}, {"litres": 50 * w * d, "density_kg_l": 0.5}]
    filled = filled_kg(empty, layers, 40 * w * d)
    assert filled == pytest.approx(kg, abs=0.06)
    assert 1 < floor_share(floor_load_kg_m2(filled, w, d)) < 1.4


# NEC 2023 210.19(A)(1): conductors for 125 % of the continuous load, so 80 % of the breaker.
@pytest.mark.parametrize(("breaker_a", "watts"), [(15, 1440), (20, 1920)])
def test_a_circuit_carries_eighty_percent_for_hours(breaker_a, watts):
    assert continuous_limit_w(breaker_a, 120) == watts


# Arithmetic of the kilowatt-hour.
@pytest.mark.parametrize(("watts", "hours", "kwh"), [(39, 12, 170.82), (75, 12, 328.5), (60, 24, 525.6)])
def test_energy_of_a_year(watts, hours, kwh):
    assert energy_kwh(watts, hours) == pytest.approx(kwh)


# The worked example of the plan's published interface: 443 x 443 mm inside.
@pytest.mark.parametrize(
    ("front", "back", "litres"), [(0.050, 0.050, 9.81), (0.060, 0.110, 16.7), (0.025, 0.025, 4.9)]
)
def test_layers_of_the_worked_example(front, back, litres):
    assert layer_l(0.443, 0.443, front, back) == pytest.approx(litres, abs=0.05)


def test_poured_litres_settle_to_what_is_left_beside_the_hardscape():
    # Within the 10 to 15 % more that coir and peat mixes take: common practice, no source.
    assert poured_l(40.5, 0.125, displaced_l=4.5) == 40.5
    assert poured_l(10, 0, displaced_l=12) == 0
    for wrong in ((-1, 0.1), (1, -0.1), (1, 0.1, -1)):
        with pytest.raises(Impossible):
            poured_l(*wrong)


def test_a_layer_above_the_rim_is_cut_off_at_the_rim():
    assert clipped_layer_l(1, 1, 0.3, 0.5, 0.2) == pytest.approx(200)
    assert clipped_layer_l(1, 1, 0.1, 0.3, 0.2) == pytest.approx(175)
    assert clipped_layer_l(1, 1, 0.1, 0.2, 0.2) == pytest.approx(150)


def test_a_tube_of_549_mm_stands_out_49_5_mm_over_each_end_of_a_450_mm_box():
    assert overhang_mm(549, 450) == 49.5


@pytest.mark.parametrize(
    ("floor", "sheet", "sheets"),
    [((443, 443), (450, 450), 1), ((890, 443), (450, 900), 1), ((890, 443), (450, 450), 3)],
)
def test_sheets_are_laid_the_better_way_round(floor, sheet, sheets):
    assert sheets_to_cover(*floor, *sheet) == sheets
