"""Goods come back from a customer."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from inventory.actors import Actor
from inventory.errors import BadInput, Conflict, FieldError
from inventory.models import Item, Lot, LotState, Movement, MovementKind
from inventory.services import ledger_entry, lookups
from inventory.services.ledger_entry import Entry

WITH_CUSTOMER = (MovementKind.HAND_OVER, MovementKind.RETURN, MovementKind.REVERSAL)


@dataclass(frozen=True, slots=True)
class Returned:
    """What comes back of an item; not `good` means that it is set aside in quarantine."""

    item: str
    quantity: int
    lot: str | None = None
    good: bool = True


@transaction.atomic
def take_back(demand_ref: str, *, lines: Sequence[Returned], why: str = "", actor: Actor) -> list[int]:
    """The goods are on hand again: good ones in the lots they left from, others in a quarantined lot.

    Locks the stock rows of the items. Without a lot, what left last comes back first. A quarantined return
    opens a lot of its own, split from the one it left from. Refuses with Conflict more than has left for
    the demand. Returns the movement ids.
    """
    actor.must("return")
    _check(lines)
    items = lookups.items_by_code(line.item for line in lines)
    ledger_entry.lock(item.pk for item in items.values())
    entries: list[Entry] = []
    known = lookups.known_lots(line.lot for line in lines)
    out = _with_customer(items.values(), demand_ref)
    for line in lines:
        item = items[line.item]
        if line.lot is not None:
            lookups.lot_of(item, line.lot, known=known)
        entries += _entries(line, item, out[item.pk], demand_ref=demand_ref, why=why)
    return ledger_entry.post(entries, actor=actor)


def _check(lines: Sequence[Returned]) -> None:
    if not lines:
        raise BadInput([FieldError("/lines", "lines must name at least one item.")])
    for index, line in enumerate(lines):
        lookups.check_quantity(line.quantity, pointer=f"/lines/{index}/quantity")


def _with_customer(items: Iterable[Item], demand_ref: str) -> dict[int, dict[Lot, int]]:
    """Item id -> lot -> how much of it is with the customer, last left first."""
    moved = Movement.objects.filter(item__in=list(items), demand_ref=demand_ref, kind__in=WITH_CUSTOMER)
    totals: dict[int, int] = {}
    for lot_id, parent_id, quantity in moved.order_by("-id").values_list(
        "lot", "lot__split_from", "quantity"
    ):
        home = parent_id or lot_id
        totals[home] = totals.get(home, 0) - quantity
    lots = Lot.objects.in_bulk(list(totals))
    out: dict[int, dict[Lot, int]] = defaultdict(dict)
    for lot_id, quantity in totals.items():
        if quantity > 0:
            out[lots[lot_id].item_id][lots[lot_id]] = quantity
    return out


def _entries(line: Returned, item: Item, out: dict[Lot, int], *, demand_ref: str, why: str) -> list[Entry]:
    entries = []
    left = line.quantity
    for lot in [lot for lot in out if line.lot in (None, lot.code)]:
        comes = min(left, out[lot])
        if comes:
            left -= comes
            out[lot] -= comes
            into = lot if line.good else _set_aside(lot)
            place = lookups.shelf_of(item)
            entries.append(Entry(item.pk, into.pk, place, comes, MovementKind.RETURN, why, demand_ref))
    if left:
        out_there = line.quantity - left
        raise Conflict(
            f"Of {item.name} only {out_there} can come back from {demand_ref}, not {line.quantity}."
        )
    return entries


def _set_aside(lot: Lot) -> Lot:
    return Lot.objects.create(
        code=lookups.next_lot_code(),
        item_id=lot.item_id,
        state=LotState.QUARANTINED,
        standing=False,
        best_before=lot.best_before,
        supplier_id=lot.supplier_id,
        split_from=lot,
        created_at=timezone.now(),
    )
