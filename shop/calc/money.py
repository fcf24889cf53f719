"""The counter's door to the arithmetic of money, which stands in the lowest room so that plans use it too."""

from inventory.calc.money import Basis, Sums, cents, half_up, shared_out, sums, tax_cents

__all__ = ["Basis", "Sums", "cents", "half_up", "shared_out", "sums", "tax_cents"]
