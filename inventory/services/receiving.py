"""Deliveries come in."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db import transaction
from django.utils import timezone

from inventory.actors import Actor
from inventory.errors import BadInput, Conflict, FieldError
from inventory.models import Item, Lot, LotState, MovementKind
from inventory.selectors import days
from inventory.services import ledger_entry, lookups
from inventory.services.ledger_entry import Entry


@dataclass(frozen=True, slots=True)
class Receipt:
    """One line of a delivery, in the item's base unit."""

    item: str
    quantity: int
    lot: str | None = None
    best_before: date | None = None
    unit_cost: Decimal | None = None
    place: str | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Received:
    """Where one line of a delivery went."""

    movement_id: int
    item: str
    lot: str
    quantity: int


@transaction.atomic
def receive(lines: Sequence[Receipt], *, actor: Actor) -> tuple[Received, ...]:
    """The goods are on hand in their lots, and demands that waited for them are filled, oldest first.

    Locks the stock rows of the items. A lot code that the item has already is joined; a line without one
    opens a lot for an item that tracks lots, or that goes off, else goes into the standing lot while
    that is good. Goods past their date go into an expired lot. Refuses with BadInput naming the line,
    Unknown an item or place.
    """
    actor.must("receive")
    _check(lines)
    items = lookups.items_by_code(line.item for line in lines)
    ledger_entry.lock(item.pk for item in items.values())
    places = lookups.place_ids(line.place for line in lines)
    lots = _lots(lines, items)
    entries = [
        Entry(
            item_id=lot.item_id,
            lot_id=lot.pk,
            place_id=lookups.shelf_of(items[line.item]) if line.place is None else places[line.place],
            quantity=line.quantity,
            kind=MovementKind.RECEIPT,
            reason=line.reason,
            unit_cost=line.unit_cost,
        )
        for line, lot in zip(lines, lots, strict=True)
    ]
    movements = ledger_entry.post(entries, actor=actor)
    return tuple(
        Received(movement, items[line.item].code, lot.code, line.quantity)
        for movement, line, lot in zip(movements, lines, lots, strict=True)
    )


def _check(lines: Sequence[Receipt]) -> None:
    if not lines:
        raise BadInput([FieldError("/lines", "lines must name at least one item.")])
    for index, line in enumerate(lines):
        lookups.check_quantity(line.quantity, pointer=f"/lines/{index}/quantity")
        if line.lot is not None:
            lookups.check_code(line.lot, pointer=f"/lines/{index}/lot")
        if line.unit_cost is not None and not 0 <= line.unit_cost < 10**8:
            sentence = "unit_cost must be zero or more and below a hundred million."
            raise BadInput([FieldError(f"/lines/{index}/unit_cost", sentence)])


def _lots(lines: Sequence[Receipt], items: Mapping[str, Item]) -> list[Lot]:
    known = lookups.known_lots(line.lot for line in lines)
    standing = lookups.standing_lots(items.values())
    lots = []
    for index, line in enumerate(lines):
        item = items[line.item]
        if line.lot is not None and line.lot in known:
            lot = _joined(known[line.lot], line, item, index)
        elif line.lot is None and _goes_into_standing_lot(line, item, standing[item.pk]):
            lot = standing[item.pk]
        else:
            lot = _opened(line, item)
        known[lot.code] = lot
        lots.append(lot)
    return lots


def _goes_into_standing_lot(line: Receipt, item: Item, standing: Lot) -> bool:
    return line.best_before is None and not item.tracks_lots and standing.state == LotState.GOOD


def _joined(lot: Lot, line: Receipt, item: Item, index: int) -> Lot:
    if lot.item_id != item.pk:
        sentence = f"lot {lot.code} belongs to another item; give this delivery a lot code of its own."
        raise BadInput([FieldError(f"/lines/{index}/lot", sentence)])
    if line.best_before is not None and lot.best_before != line.best_before:
        raise Conflict(
            f"best_before: lot {lot.code} has {lot.best_before or 'no date'}, not {line.best_before}."
        )
    return lot


def _opened(line: Receipt, item: Item) -> Lot:
    now = timezone.now()
    past = line.best_before is not None and line.best_before < days.today()
    lot = Lot(
        code=line.lot or lookups.next_lot_code(),
        item=item,
        state=LotState.EXPIRED if past else LotState.GOOD,
        best_before=line.best_before,
        unit_cost=line.unit_cost,
        supplier_id=item.supplier_id,
        standing=False,
        created_at=now,
    )
    lot.save()
    return lot
