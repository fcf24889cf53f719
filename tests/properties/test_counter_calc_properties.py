"""An agreed price adds up to the cent."""

from hypothesis import given
from hypothesis import strategies as st

from shop.calc.agreed import agreed
from tests.unit.shop.test_counter_calc import line, plan


@given(st.lists(st.integers(1, 5000), min_size=1, max_size=12), st.integers(0, 5000))
def test_line_totals_and_discount_add_up_to_the_cent(cents, taken):
    priced = plan(*(line("A", 1, f"{c // 100}.{c % 100:02d}") for c in cents))
    taken = min(taken, sum(cents))
    price = agreed(priced, discount_cents=taken, basis="total", inclusive=False)
    assert sum(ln.discount_cents for ln in price.lines) == taken
    assert price.net_cents == sum(cents) - taken
    assert price.gross_cents == price.net_cents + price.tax_cents
