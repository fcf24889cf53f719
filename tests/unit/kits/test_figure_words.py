"""Every figure of our tables has a name in words, an order and a unit as people write it."""

import csv
import doctest
from collections import Counter

import pytest

from kits.services.facts import FOLDER, TABLES
from kits.terms import figure_words, rounding


def rows(table):
    with (FOLDER / f"{table}.csv").open(encoding="utf-8") as handle:
        return {row["field"] for row in csv.DictReader(handle)}


@pytest.mark.parametrize("table", TABLES)
def test_every_figure_of_a_table_has_a_name_of_its_own(table):
    names = Counter(figure_words.NAMES[field] for field in rows(table))
    assert [name for name, count in names.items() if count > 1] == []


@pytest.mark.parametrize("table", TABLES)
def test_a_lower_limit_is_read_before_its_upper_one(table):
    fields = rows(table)
    pairs = [(low, low.replace("_lo", "_hi")) for low in fields if "_lo" in low]
    found = [
        pair for pair in pairs if pair[1] in fields and sorted(pair, key=figure_words.place) != list(pair)
    ]
    assert found == []


@pytest.mark.parametrize("units", ["C", "umol/m2/s", "m2", "y"])
def test_a_unit_of_the_tables_is_written_with_its_signs(units):
    assert figure_words.unit(units) not in {units, ""}


def test_the_examples_hold():
    assert doctest.testmod(figure_words).failed == doctest.testmod(rounding).failed == 0


@pytest.mark.parametrize(
    "shares", [[1 / 3] * 3, [0.005, 0.995], [0.125] * 8, [0.0004, 0.9996], [0.285, 0.285, 0.43], [1.0]]
)
def test_shares_of_a_mix_add_up_as_they_are_told_and_none_is_told_as_nothing(shares):
    told = [float(share) for share in rounding.percents(shares)]
    assert sum(told) == pytest.approx(100, abs=1e-9)
    assert min(told) > 0
