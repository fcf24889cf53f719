"""GS1 numbers: worked examples of GS1 member organisations' check digit pages, and demonstration numbers."""

import pytest

from inventory.calc.errors import Impossible
from inventory.calc.gtin import check_digit, is_internal, read


@pytest.mark.parametrize(
    ("body", "digit"),
    [
        ("629104150021", "3"),  # GS1 Hong Kong, check digit calculator page: sum 57
        ("890400021003", "7"),  # GS1 India, check digit page: sum 63
        ("9638507", "4"),  # by the same rule: GTIN-8 96385074
        ("061414199999", "6"),  # by the same rule: GLN 0614141999996
        ("10614141123456789", "7"),  # the SSCC 106141411234567897 of the Digital Link examples (BWIPP wiki)
        ("1950600013435", "9"),  # case code of 9506000134352, computed
    ],
)
def test_check_digits(body, digit):
    assert check_digit(body) == digit


@pytest.mark.parametrize(
    ("scan", "digits"),
    [
        ("036000241457", "00036000241457"),  # the UPC example of GS1's rule for storing 14 digits
        ("96385074", "00000096385074"),
        ("09521234543213", "09521234543213"),  # demonstration prefix 952 (BWIPP wiki)
        ("6291041500213", "06291041500213"),
    ],
)
def test_every_length_is_stored_as_fourteen_digits(scan, digits):
    assert read(scan).digits == digits


def test_a_wrong_check_digit_is_refused_with_the_right_one():
    with pytest.raises(Impossible, match="expected 3"):
        read("6291041500214")


def test_a_swap_of_five_and_zero_goes_unnoticed_by_the_rule():
    # Neighbours that differ by five are the blind spot of weights 3 and 1.
    assert [read(scan).digits for scan in ("6291041500213", "6291041050213")] == [
        "06291041500213",
        "06291041050213",
    ]


def test_every_single_wrong_digit_is_found():
    right = "6291041500213"
    for place, digit in [(p, d) for p in range(13) for d in "0123456789" if d != right[p]]:
        with pytest.raises(Impossible):
            read(right[:place] + digit + right[place + 1 :])


@pytest.mark.parametrize(
    ("digits", "internal"),
    # GS1 General Specifications (2018), section 2.1.13.2: UPC prefix 4 is company-internal.
    [("412345678903", True), ("2012345678900", True), ("0212345678909", True), ("09521234543213", False)],
)
def test_restricted_numbers_are_told_from_global_ones(digits, internal):
    assert is_internal(digits) is internal
