"""Unit factors against the published definitions."""

from fractions import Fraction

import pytest

from inventory.units import convert, in_base_unit


@pytest.mark.parametrize(
    ("amount", "unit", "to", "expected", "tolerance"),
    [
        # 67.200625 in3, inch of 2.54 cm; a conversion table prints 1.101220942715 and 0.946352946.
        (1, "dry_quart", "L", "1.101220942715", "1e-12"),
        (1, "liquid_quart", "L", "0.946352946", "1e-9"),
        (1, "dry_quart", "cubic_inch", "67.200625", "0"),
        # US customary definitions: 231 in3 and 2150.42 in3.
        (1, "gallon", "L", "3.785411784", "0"),
        (1, "bushel", "L", "35.23907016688", "0"),
        (1, "dry_gallon", "L", "4.40488377086", "0"),
        (1, "cubic_yard", "L", "764.554857984", "0"),
        # A reference page prints 25.71 dry and 29.92 liquid quarts in a cubic foot; the rest by arithmetic.
        (1, "cubic_foot", "L", "28.316846592", "0"),
        (1, "cubic_foot", "dry_quart", "25.714046559", "1e-8"),
        (1, "cubic_foot", "liquid_quart", "29.922077922", "1e-8"),
        # The "8 qt" bag, by arithmetic from the definitions.
        (8, "dry_quart", "L", "8.80977", "1e-5"),
        (8, "liquid_quart", "L", "7.57082", "1e-5"),
        # A layer of 90 x 45 x 10 cm, by arithmetic.
        ("40.5", "L", "dry_quart", "36.777", "0.001"),
        ("40.5", "L", "cubic_foot", "1.4302", "0.001"),
        # UN/ECE Recommendation 20 (revision 17): FTQ, QTD, QTL in m3 and LBR in kg.
        (1, "cubic_foot", "m3", "0.02831685", "5e-9"),
        (1, "dry_quart", "m3", "1.101221e-3", "5e-10"),
        (1, "liquid_quart", "m3", "9.463529e-4", "5e-11"),
        (1, "lb", "kg", "0.45359237", "0"),
    ],
)  # fmt: skip
def test_factors_are_those_of_the_definitions(amount, unit, to, expected, tolerance):
    assert abs(convert(amount, unit, to=to) - Fraction(expected)) <= Fraction(tolerance)


def test_the_classic_error_is_the_liquid_quart():
    # A web page gives the dry quart as 0.033421 ft3; that is the liquid one.
    assert abs(convert(1, "liquid_quart", to="cubic_foot") - Fraction("0.033420")) < Fraction("1e-6")
    assert in_base_unit(1, "dry_quart", base_unit="mL") == 1101
