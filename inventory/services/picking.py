"""Which lots at which places give what is taken."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from inventory.calc.allocation import first_expired_first_out
from inventory.models import Item, LotBalance, LotState
from inventory.selectors import days


@dataclass(frozen=True, slots=True)
class Portion:
    """A quantity that lies in one lot at one place."""

    lot_id: int
    lot_code: str
    place_id: int
    quantity: int


@dataclass(frozen=True, slots=True)
class Choice:
    """Where to look: one lot or all good ones, one place or all, within their date unless said otherwise."""

    lot: str | None = None
    place_id: int | None = None
    past_date_too: bool = False


class OnHand:
    """What lies where of some items, read once; what is picked is taken off it."""

    def __init__(self, items: Iterable[Item]) -> None:
        """Read the balances in one query; the caller has locked the items' stock rows."""
        rows = LotBalance.objects.filter(item__in=list(items), on_hand__gt=0).select_related("lot")
        self._rows: dict[int, list[LotBalance]] = defaultdict(list)
        for row in rows.order_by("place_id", "lot_id"):
            self._rows[row.item_id].append(row)

    def total(self, item: Item, choice: Choice) -> int:
        """How much there is."""
        return _total(self._chosen(item, choice))

    def pick(self, item: Item, *, quantity: int, choice: Choice) -> tuple[list[Portion], int]:
        """Portions that give the quantity, first expired first, and what is missing of it.

        A named lot is taken in whatever state it is: the caller decides whether that is allowed.
        """
        by_lot: dict[str, list[LotBalance]] = defaultdict(list)
        for row in self._chosen(item, choice):
            by_lot[row.lot.code].append(row)
        there = sum(_total(rows) for rows in by_lot.values())
        taken = first_expired_first_out(
            [
                {"code": code, "quantity": _total(rows), "best_before": rows[0].lot.best_before}
                for code, rows in by_lot.items()
            ],
            min(quantity, there),
            self._first_day(choice),
        )
        portions = [p for lot in taken for p in _from_places(by_lot[lot["code"]], lot["quantity"])]
        return portions, max(0, quantity - there)

    def _chosen(self, item: Item, choice: Choice) -> list[LotBalance]:
        return [row for row in self._rows[item.pk] if self._fits(row, choice)]

    def _fits(self, row: LotBalance, choice: Choice) -> bool:
        lot, best_before = row.lot, row.lot.best_before
        if choice.place_id is not None and row.place_id != choice.place_id:
            return False
        if best_before is not None and best_before < self._first_day(choice):
            return False
        return lot.state == LotState.GOOD if choice.lot is None else lot.code == choice.lot

    def _first_day(self, choice: Choice) -> date:
        return date.min if choice.past_date_too or not self._is_dated else self._today

    @cached_property
    def _is_dated(self) -> bool:
        return any(row.lot.best_before for rows in self._rows.values() for row in rows)

    @cached_property
    def _today(self) -> date:
        return days.today()


def _from_places(rows: Sequence[LotBalance], quantity: int) -> list[Portion]:
    portions = []
    for row in rows:
        takes = min(row.on_hand, quantity)
        if takes:
            portions.append(Portion(row.lot_id, row.lot.code, row.place_id, takes))
            row.on_hand -= takes
            quantity -= takes
    return portions


def _total(rows: Sequence[LotBalance]) -> int:
    return sum(row.on_hand for row in rows)
