from datetime import date

import pytest

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
