"""Corrections at the shelf, each with its reason."""

from django.db import models, transaction

from inventory.actors import Actor
from inventory.errors import BadInput, Conflict, FieldError
from inventory.models import Item, MovementKind
from inventory.services import ledger_entry, lookups
from inventory.services.ledger_entry import Entry
from inventory.services.picking import Choice, OnHand


class Reason(models.TextChoices):
    """Why stock is corrected."""

    BREAKAGE = "breakage"
    DISPLAY_USE = "display_use", "display use"
    OPENED_BAG = "opened_bag", "opened bag"
    SPOILED = "spoiled"
    FOUND_ON_SHELF = "found_on_shelf", "found on shelf"
    COUNT = "count"
    CORRECTION = "correction"


TAKING = frozenset({Reason.BREAKAGE, Reason.DISPLAY_USE, Reason.OPENED_BAG, Reason.SPOILED})
ADDING = frozenset({Reason.FOUND_ON_SHELF})


@transaction.atomic
def adjust(
    item: str,
    *,
    quantity: int,
    reason: str,
    lot: str | None = None,
    place: str | None = None,
    actor: Actor,
) -> list[int]:
    """The stock of the item has changed by a signed quantity, for this reason; returns the movement ids.

    Locks the item's stock row. A fact always posts, also below what is held: the newest holds lose the
    difference. What is taken without naming a lot comes out of good lots, first expired first; what is found
    goes into the named lot, or the standing one. Refuses with BadInput a sign that the reason cannot have,
    Conflict to take more than lies there.
    """
    actor.must("adjust")
    _check(quantity, reason)
    row = lookups.item(item)
    place_id = lookups.place_ids([place])[place] if place is not None else None
    ledger_entry.lock([row.pk])
    known = lookups.known_lots([lot])
    if quantity > 0:
        into = lookups.found_in(row, lot, known=known, standing=lookups.standing_lots([row]))
        at = place_id or lookups.shelf_of(row)
        entries = [Entry(row.pk, into.pk, at, quantity, MovementKind.ADJUSTMENT, reason)]
    else:
        if lot is not None:
            lookups.lot_of(row, lot, known=known)
        choice = Choice(lot=lot, place_id=place_id, past_date_too=True)
        entries = taken(row, quantity=-quantity, reason=reason, choice=choice, on_hand=OnHand([row]))
    return ledger_entry.post(entries, actor=actor)


def taken(
    item: Item,
    *,
    quantity: int,
    reason: str,
    choice: Choice,
    on_hand: OnHand,
    kind: MovementKind = MovementKind.ADJUSTMENT,
) -> list[Entry]:
    """The entries that take a quantity out; refuses with Conflict more than lies there."""
    portions, missing = on_hand.pick(item, quantity=quantity, choice=choice)
    if missing:
        there = f"lot {choice.lot}" if choice.lot else "good lots"
        raise Conflict(f"Of {item.name} only {quantity - missing} can be taken from {there}, not {quantity}.")
    return [Entry(item.pk, p.lot_id, p.place_id, -p.quantity, kind, reason) for p in portions]


def _check(quantity: int, reason: str) -> None:
    lookups.check_quantity(quantity, signed=True)
    if reason not in Reason.values:
        raise BadInput([FieldError("/reason", f"reason must be one of {', '.join(Reason.values)}.")])
    if quantity > 0 and reason in TAKING:
        raise BadInput([FieldError("/quantity", f"quantity must be negative: {reason} takes stock away.")])
    if quantity < 0 and reason in ADDING:
        raise BadInput([FieldError("/quantity", f"quantity must be above zero: {reason} adds stock.")])
