"""Rounding of tax and money."""

from decimal import Decimal

import pytest

from inventory.calc.money import half_up, shared_out, sums, tax_cents


def test_item_and_invoice_basis_may_differ_and_both_are_lawful():
    # Streamlined Sales and Use Tax Agreement, section 324 (Rhode Island 44-18.1-25): the seller elects.
    seven = [(149, "8.25")] * 7
    assert sums(seven, basis="line").tax_cents == 84
    assert sums(seven, basis="total").tax_cents == 86


@pytest.mark.parametrize(
    ("amount", "rounded"),
    # Half up, not half even (0.12, 1.00, 2.68) and not binary floats (0.12, 1.00, 2.67): decimal arithmetic.
    [("0.125", "0.13"), ("1.005", "1.01"), ("2.675", "2.68"), ("-0.125", "-0.13"), ("0.1249", "0.12")],
)
def test_a_half_cent_goes_up(amount, rounded):
    assert half_up(Decimal(amount)) == Decimal(rounded)


@pytest.mark.parametrize(
    ("gross", "rate", "net", "tax"),
    [(1999, "20", 1666, 333), (299, "4", 288, 11)],  # arithmetic; 2.88 x 1.04 would say 3.00
)
def test_an_inclusive_price_parts_into_net_and_tax_and_is_never_recomputed(gross, rate, net, tax):
    assert tax_cents(gross, rate_pct=rate, inclusive=True) == tax
    found = sums([(gross, rate)], inclusive=True)
    assert (found.net_cents, found.tax_cents, found.gross_cents) == (net, tax, gross)


def test_a_discount_is_split_by_largest_remainder():
    # 10.00 over 4.99, 4.99 and 25.00: the method of largest remainder, ties to the lower line.
    assert shared_out(1000, [499, 499, 2500]) == [143, 142, 715]
