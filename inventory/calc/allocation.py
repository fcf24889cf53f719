"""Which lots a quantity is taken from."""

from collections.abc import Sequence
from datetime import date
from typing import NotRequired, TypedDict

from inventory.calc.errors import Impossible

__all__ = ["first_expired_first_out"]


class LotOffered(TypedDict):
    """A lot on the shelf as JSON; best_before absent or null means it does not go off."""

    code: str
    quantity: int
    best_before: NotRequired[date | None]


class LotTaken(TypedDict):
    """What is taken from one lot."""

    code: str
    quantity: int


def first_expired_first_out(lots: Sequence[LotOffered], quantity: int, on: date) -> list[LotTaken]:
    """Quantities to take from lots so that what goes off first leaves first.

    Formula: lots in order of best_before (none = last), then code; each gives min(what it has, what is left).
    Args:
        lots: lots at hand, each with a code, a quantity [base unit] >= 0 and a best_before date or null.
        quantity: how much is wanted [base unit], >= 0.
        on: the day of taking; a lot is past its date when best_before is earlier than this day.
    Returns: what each lot gives, in order of taking, lots that give nothing left out [base unit].
    Raises: Impossible naming quantity when it is negative or more than the lots within their date hold, or
        naming lots when one has a negative quantity or a code stands twice.
    Valid: any number of lots.
    Source: common practice (first expired, first out), no source.
    Example:
        >>> first_expired_first_out([{"code": "b", "quantity": 4, "best_before": date(2026, 5, 1)},
        ...     {"code": "a", "quantity": 3, "best_before": date(2026, 3, 1)}], 5, date(2026, 2, 1))
        [{'code': 'a', 'quantity': 3}, {'code': 'b', 'quantity': 2}]
    """
    _check(lots, quantity)
    taken: list[LotTaken] = []
    left = quantity
    for lot in sorted(lots, key=_order):
        gives = 0 if _is_past(lot, on) else min(lot["quantity"], left)
        if gives:
            taken.append({"code": lot["code"], "quantity": gives})
            left -= gives
    if left:
        raise Impossible(
            "quantity", f"{quantity} is wanted but the lots within their date hold {quantity - left}."
        )
    return taken


def _order(lot: LotOffered) -> tuple[bool, date, str]:
    best_before = lot.get("best_before")
    return best_before is None, best_before or date.max, lot["code"]


def _is_past(lot: LotOffered, on: date) -> bool:
    best_before = lot.get("best_before")
    return best_before is not None and best_before < on


def _check(lots: Sequence[LotOffered], quantity: int) -> None:
    if quantity < 0:
        raise Impossible("quantity", "must not be negative.")
    if any(lot["quantity"] < 0 for lot in lots):
        raise Impossible("lots", "hold a negative quantity.")
    if len({lot["code"] for lot in lots}) < len(lots):
        raise Impossible("lots", "name one code twice.")
