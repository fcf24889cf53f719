"""Which lots goods would leave from, before anybody takes them."""

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from inventory.calc.allocation import first_expired_first_out
from inventory.models import LotBalance, LotState
from inventory.selectors import days


@dataclass(frozen=True, slots=True)
class ProposedLot:
    """What leaves from one lot of an item, and where it lies."""

    item: str
    lot: str
    quantity: int
    best_before: date | None
    places: tuple[str, ...]


def first_expired(wanted: Mapping[str, int]) -> dict[str, list[ProposedLot]]:
    """Lots by item code for these quantities, first expired first; one query, two where lots go off.

    Proposes less than is wanted where good lots within their date hold less; the ledger decides again
    when the goods leave.
    """
    rows = LotBalance.objects.filter(item__code__in=list(wanted), on_hand__gt=0, lot__state=LotState.GOOD)
    found = list(rows.select_related("item", "lot", "place").order_by("place__code"))
    today = days.today() if any(row.lot.best_before for row in found) else date.min
    by_item: dict[str, dict[str, list[LotBalance]]] = defaultdict(lambda: defaultdict(list))
    for row in found:
        if row.lot.best_before is None or row.lot.best_before >= today:
            by_item[row.item.code][row.lot.code].append(row)
    return {code: _proposed(code, quantity, by_item[code], today) for code, quantity in wanted.items()}


def _proposed(
    item: str, quantity: int, lots: Mapping[str, list[LotBalance]], today: date
) -> list[ProposedLot]:
    totals = {code: sum(row.on_hand for row in rows) for code, rows in lots.items()}
    taken = first_expired_first_out(
        [
            {"code": code, "quantity": totals[code], "best_before": rows[0].lot.best_before}
            for code, rows in lots.items()
        ],
        min(quantity, sum(totals.values())),
        today,
    )
    return [
        ProposedLot(
            item=item,
            lot=take["code"],
            quantity=take["quantity"],
            best_before=lots[take["code"]][0].lot.best_before,
            places=tuple(row.place.code for row in lots[take["code"]]),
        )
        for take in taken
    ]
