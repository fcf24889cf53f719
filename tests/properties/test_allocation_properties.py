"""Lots leave in order and in full."""

from datetime import date

from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.allocation import first_expired_first_out
from tests.unit.inventory.test_allocation import ON, lot

DAYS = st.none() | st.dates(date(2026, 1, 1), date(2026, 12, 31))


LOTS = st.dictionaries(st.text("abc", min_size=1, max_size=3), st.tuples(st.integers(0, 9), DAYS), max_size=6)


@given(LOTS, st.data())
def test_it_gives_exactly_the_quantity_from_good_lots_and_empties_earlier_ones(by_code, data):
    lots = [lot(code, *rest) for code, rest in by_code.items()]
    fit = [one for one in lots if one["best_before"] is None or one["best_before"] >= ON]
    quantity = data.draw(st.integers(0, sum(one["quantity"] for one in fit)))
    taken = {t["code"]: t["quantity"] for t in first_expired_first_out(lots, quantity, ON)}
    assert sum(taken.values()) == quantity
    assert set(taken) <= {one["code"] for one in fit}
    order = sorted(fit, key=lambda one: (one["best_before"] or date.max, one["code"]))
    touched = [one for one in order if one["code"] in taken]
    assert all(taken[one["code"]] == one["quantity"] for one in touched[:-1])
