from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.calc.allocation import first_expired_first_out
from inventory.calc.errors import Impossible

ON = date(2026, 3, 10)
SOON, LATER, PAST = date(2026, 3, 10), date(2026, 9, 1), date(2026, 3, 9)


def lot(code, quantity, best_before=None):
    return {"code": code, "quantity": quantity, "best_before": best_before}


@pytest.mark.parametrize(
    ("lots", "quantity", "taken"),
    [
        ([lot("b", 4, LATER), lot("a", 3, SOON)], 5, [("a", 3), ("b", 2)]),
        ([lot("keeps", 9), lot("b", 1, LATER)], 3, [("b", 1), ("keeps", 2)]),
        ([lot("b", 2, SOON), lot("a", 2, SOON)], 3, [("a", 2), ("b", 1)]),
        ([lot("old", 9, PAST), lot("a", 2, SOON)], 2, [("a", 2)]),
        ([{"code": "undated", "quantity": 2}], 1, [("undated", 1)]),
        ([lot("empty", 0, SOON), lot("a", 2)], 2, [("a", 2)]),
        ([], 0, []),
    ],
)
def test_what_goes_off_first_leaves_first(lots, quantity, taken):
    assert [(t["code"], t["quantity"]) for t in first_expired_first_out(lots, quantity, ON)] == taken


@pytest.mark.parametrize(
    ("lots", "quantity", "argument"),
    [
        ([lot("a", 2)], 3, "quantity"),
        ([lot("a", 9, PAST)], 1, "quantity"),
        ([lot("a", 2)], -1, "quantity"),
        ([lot("a", -2)], 1, "lots"),
        ([lot("a", 2), lot("a", 2)], 1, "lots"),
    ],
)
def test_what_cannot_be_is_refused_by_argument(lots, quantity, argument):
    with pytest.raises(Impossible) as refusal:
        first_expired_first_out(lots, quantity, ON)
    assert refusal.value.argument == argument


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
