"""The sets of retention curves in the data, row by row against their sources.

`data/retention_sets.csv` holds own worked figures of the sets fitted to published points: water at 10, 50 and
100 cm of suction, and what layers of 5 to 20 cm hold over a capillary break.
"""

import csv
from pathlib import Path

import pytest

from kits.physics.retention import container_capacity, water_content
from tests.known_facts import known_facts

TABLE = Path(__file__).parent / "data" / "retention_sets.csv"
SUCTIONS_CM = ("10", "50", "100")
HEIGHTS_CM = ("5", "7.6", "10", "15", "20")


def curve(code):
    medium = known_facts().media[code]
    return tuple(medium.number(key) for key in ("theta_r", "theta_s", "alpha_per_cm", "n"))


def worked_rows():
    with TABLE.open(newline="") as file:
        return list(csv.DictReader(file))


@pytest.mark.parametrize("row", worked_rows(), ids=lambda row: row["medium"])
def test_every_fitted_set_holds_what_was_worked_out_for_it(row):
    fitted = curve(row["medium"])
    held = [water_content(float(cm), *fitted) for cm in SUCTIONS_CM]
    layers = [container_capacity(float(cm), *fitted) for cm in HEIGHTS_CM]
    assert held == pytest.approx([float(row[f"theta{cm}"]) for cm in SUCTIONS_CM], abs=0.0002)
    assert layers == pytest.approx([float(row[f"CC{cm}"]) for cm in HEIGHTS_CM], abs=0.0002)


# Schaap, Leij and van Genuchten 2001, class means: theta_r, theta_s, log10 alpha [1/cm], log10 n.
ROSETTA = [
    ("sand", 0.053, 0.375, -1.453, 0.502), ("loamy-sand", 0.049, 0.390, -1.459, 0.242),
    ("sandy-loam", 0.039, 0.387, -1.574, 0.161), ("loam", 0.061, 0.399, -1.954, 0.168),
    ("silt", 0.050, 0.489, -2.182, 0.225), ("silt-loam", 0.065, 0.439, -2.296, 0.221),
    ("sandy-clay-loam", 0.063, 0.384, -1.676, 0.124), ("clay-loam", 0.079, 0.442, -1.801, 0.151),
    ("silty-clay-loam", 0.090, 0.482, -2.076, 0.182), ("sandy-clay", 0.117, 0.385, -1.476, 0.082),
    ("silty-clay", 0.111, 0.481, -1.790, 0.121), ("clay", 0.098, 0.459, -1.825, 0.098),
]  # fmt: skip


@pytest.mark.parametrize("row", ROSETTA, ids=lambda row: row[0])
def test_the_twelve_class_means_of_rosetta_are_turned_back_from_logarithms(row):
    code, residual, saturated, log_alpha, log_n = row
    found = curve(f"{code}-2001")
    assert found[:2] == (residual, saturated)
    assert found[2] == pytest.approx(10**log_alpha, abs=0.0001)
    assert found[3] == pytest.approx(10**log_n, abs=0.001)


# Sphagnum and sedge peat grouped by density (attributed from memory to Liu and Lennartz 2019); Staring series
# of 2018, subsoil peat O16 and O17; a table of coarse sand and clean gravel whose alpha is given per metre.
AS_PRINTED = [
    ("sphagnum-to-0-05", 0, 0.93, 1.393, 1.32), ("sphagnum-0-05-to-0-1", 0, 0.93, 0.163, 1.25),
    ("sphagnum-0-1-to-0-2", 0, 0.91, 0.222, 1.21), ("sedge-to-0-1", 0, 0.92, 0.133, 1.28),
    ("sedge-0-1-to-0-2", 0, 0.88, 0.029, 1.22), ("peat-oligotrophic", 0.00, 0.889, 0.0097, 1.36),
    ("peat-eutrophic", 0.01, 0.849, 0.0119, 1.27), ("coarse-sand", 0.013, 0.337, 20.5 / 100, 2.92),
    ("clean-gravel", 0.020, 0.360, 111.6 / 100, 2.70),
]  # fmt: skip


@pytest.mark.parametrize("row", AS_PRINTED, ids=lambda row: row[0])
def test_peat_sand_and_gravel_are_as_printed(row):
    assert curve(row[0]) == pytest.approx(row[1:], rel=1e-12)


# Owen and Altland 2008, HortScience 43(2):505: cores of fir bark of 3.8 and 15.2 cm, whose water fell by a
# fifth in coarse bark and by 42 % in fine.
def test_a_tall_core_of_bark_holds_a_fifth_to_two_fifths_less_than_a_short_one():
    short, tall = (container_capacity(cm, *curve("pine-bark")) for cm in (3.8, 15.2))
    assert 0.20 <= 1 - tall / short <= 0.42
