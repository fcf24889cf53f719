"""Which lots at which places give what is taken."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from django.utils import timezone

from inventory.calc.allocation import first_expired_first_out
from inventory.models import Item, LotBalance, LotState

NOTHING: Mapping[tuple[int, int], int] = {}


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


def pick(
    item: Item, *, quantity: int, choice: Choice, given: Mapping[tuple[int, int], int] = NOTHING
) -> tuple[list[Portion], int]:
    """Portions that give the quantity, first expired first, and what is missing of it.

    Reads the balances of one item; the caller has locked its stock row. A named lot is taken in whatever
    state it is: the caller decides whether that is allowed. `given` is what other lines take already, by
    lot and place.
    """
    rows = _rows(item, choice)
    for row in rows:
        row.on_hand -= given.get((row.lot_id, row.place_id), 0)
    by_lot: dict[str, list[LotBalance]] = defaultdict(list)
    for row in rows:
        by_lot[row.lot.code].append(row)
    on = date.min if choice.past_date_too else timezone.now().date()
    there = sum(row.on_hand for row in rows if row.lot.best_before is None or row.lot.best_before >= on)
    taken = first_expired_first_out(
        [
            {"code": code, "quantity": _total(lot_rows), "best_before": lot_rows[0].lot.best_before}
            for code, lot_rows in by_lot.items()
        ],
        min(quantity, there),
        on,
    )
    portions = [p for lot in taken for p in _from_places(by_lot[lot["code"]], lot["quantity"])]
    return portions, max(0, quantity - there)


def _rows(item: Item, choice: Choice) -> list[LotBalance]:
    rows = (
        LotBalance.objects.filter(item=item, on_hand__gt=0)
        .select_related("lot")
        .order_by("place_id", "lot_id")
    )
    if choice.place_id is not None:
        rows = rows.filter(place_id=choice.place_id)
    if choice.lot is not None:
        return list(rows.filter(lot__code=choice.lot))
    return list(rows.filter(lot__state=LotState.GOOD))


def _from_places(rows: Sequence[LotBalance], quantity: int) -> list[Portion]:
    portions = []
    for row in rows:
        takes = min(row.on_hand, quantity)
        if takes:
            portions.append(Portion(row.lot_id, row.lot.code, row.place_id, takes))
            quantity -= takes
    return portions


def _total(rows: Sequence[LotBalance]) -> int:
    return sum(row.on_hand for row in rows)
