from fractions import Fraction

import pytest

from inventory import units


def test_an_unknown_unit_is_refused_by_name():
    with pytest.raises(units.NotConvertible, match="'quart' is not a unit"):
        units.convert(1, "quart", to="L")
    with pytest.raises(units.NotConvertible, match="'L' is not one of piece"):
        units.in_base_unit(1, "L", base_unit="L")


@pytest.mark.parametrize(
    ("quarts", "litres", "meant"),
    [(8, "8.8", "dry_quart"), (8, "7.6", "liquid_quart"), (4, "4.4", "dry_quart"), (24, "26.4", "dry_quart"),
     (20, "18.9", "liquid_quart"), (1, "1.1", "dry_quart"), (1, "0.95", "liquid_quart")],
)  # fmt: skip
def test_a_quart_is_told_by_its_metric_twin(quarts, litres, meant):
    assert units.quarts_meant(quarts, litres=litres) == meant


def test_a_metric_twin_that_fits_neither_quart_is_refused():
    with pytest.raises(units.NotConvertible, match="neither dry nor liquid"):
        units.quarts_meant(8, litres=10)


@pytest.mark.parametrize("count", range(1, 200))
def test_the_us_figure_printed_never_overstates(count):
    printed = units.volume_in_both(count * 137)
    quarts = Fraction(printed.split("(")[1].split()[0])
    assert units.convert(quarts, "dry_quart", to="mL") <= count * 137


@pytest.mark.parametrize(
    ("printed", "expected"),
    [
        (units.volume_in_both(40_500), "40.5 L (36.77 dry qt)"),
        (units.volume_in_both(20_000, quart="liquid"), "20 L (21.13 liquid qt)"),
        (units.length_in_both(1000), "1000 mm (39.4 in)"),
        (units.mass_in_both(454), "0.454 kg (1.00 lb)"),
    ],
)
def test_figures_are_printed_in_both_systems(printed, expected):
    assert printed == expected
