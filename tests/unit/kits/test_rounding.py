"""One rule of rounding: what a sentence repeats of a figure reads as the figure does."""

import doctest
import re
from pathlib import Path

import pytest

import kits
from kits.terms import rounding
from tests.lit_shelf import line_of, plan_of, told

LEOPARD = {"enclosure": {"size": "90x45x45-glass"}, "animals": [{"species": "eublepharis-macularius"}]}
ROOMS = ("planning", "roles", "effects", "documents")


def test_the_middle_of_a_band_reads_alike_as_figure_and_in_every_sentence():
    plan = plan_of(LEOPARD)
    assert plan.figures["basking_surface_c"] == 32.5
    assert rounding.figure("basking_surface_c", 32.5) == "33"
    assert "it makes 33 C" in " ".join(line_of(plan, "basking_lamp").because)
    assert "instead of 33 C" in told(plan, "basking_lamp")


@pytest.mark.parametrize(
    ("name", "value", "text"),
    [
        ("power_w", 160.5, "161"), ("installed_kg", 92.78, "93"), ("air_space_pct", 6.5, "7"),
        ("uvi_at_basking", 0.3601, "0.36"), ("uvi_at_basking", 2.649, "2.6"),
        ("uvi_closest_safe_m", 0.1111, "0.12"), ("keeper_limit_min", 83.9, "83"),  # to the safe side
        ("something_new", 7.6913, "7.69"), ("something_new", 39.573, "39.6"), ("something_new", 0.0, "0"),
        ("siphon_days", 1234.4, "1230"), ("running_cost_month", 1234.56, "1234.56"),
        ("footprint_m2", 1.08, "1.08"),
    ],
)  # fmt: skip
def test_estimates_are_told_with_as_many_digits_as_can_be_believed(name, value, text):
    assert rounding.figure(name, value) == text


def test_no_sentence_of_a_plan_rounds_by_a_rule_of_its_own():
    files = [path for room in ROOMS for path in (Path(kits.__file__).parent / room).glob("*.py")]
    assert len(files) > 80
    own = [(path.name, found) for path in files for found in re.findall(r":\.\df\}", path.read_text("utf-8"))]
    assert own == []


def test_the_examples_in_the_docstrings_run():
    assert doctest.testmod(rounding).failed == 0
