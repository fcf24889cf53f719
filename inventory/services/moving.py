"""Stock goes from one place to another."""

from django.db import transaction

from inventory.actors import Actor
from inventory.errors import BadInput, Conflict, FieldError
from inventory.models import MovementKind
from inventory.services import ledger_entry, lookups
from inventory.services.ledger_entry import Entry
from inventory.services.picking import Choice, OnHand


@transaction.atomic
def move(
    item: str, *, quantity: int, from_place: str, to_place: str, lot: str | None = None, actor: Actor
) -> list[int]:
    """The quantity lies at the other place, in the same lots; returns the movement ids.

    Locks the item's stock row. Without a lot, good lots move first expired first. Refuses with Conflict to
    move more than lies there, BadInput to move to where it is.
    """
    actor.must("move")
    lookups.check_quantity(quantity)
    row = lookups.item(item)
    places = lookups.place_ids([from_place, to_place])
    source, target = places[from_place], places[to_place]
    if source == target:
        raise BadInput([FieldError("/to_place", "to_place must be another place than from_place.")])
    if lot is not None:
        lookups.lot_of(row, lot, known=lookups.known_lots([lot]))
    ledger_entry.lock([row.pk])
    choice = Choice(lot=lot, place_id=source, past_date_too=True)
    portions, missing = OnHand([row]).pick(row, quantity=quantity, choice=choice)
    if missing:
        raise Conflict(
            f"Of {row.name} only {quantity - missing} can be moved from {from_place}, not {quantity}."
        )
    reason = f"{from_place} to {to_place}"
    entries = [
        Entry(row.pk, portion.lot_id, place_id, sign * portion.quantity, MovementKind.MOVE, reason)
        for portion in portions
        for place_id, sign in ((source, -1), (target, 1))
    ]
    return ledger_entry.post(entries, actor=actor)
