"""Undoing one line of the ledger by another."""

from django.db import transaction

from inventory.actors import Actor
from inventory.errors import BadInput, Conflict, FieldError, Unknown
from inventory.models import Movement, MovementKind
from inventory.services import ledger_entry
from inventory.services.ledger_entry import Entry


@transaction.atomic
def reverse(movement_id: int, *, why: str, actor: Actor) -> int:
    """The movement is undone by a line of the opposite quantity that names it; returns the new line's id.

    Locks the item's stock row. A hold that the movement used up or shortened does not come back. Refuses
    with Conflict a second reversal, the reversal of a reversal, half of a move (move it back instead), and
    taking back what is no longer there.
    """
    actor.must("adjust")
    if not why.strip():
        raise BadInput([FieldError("/why", "why must say the reason for undoing it.")])
    movement = Movement.objects.filter(pk=movement_id).first()
    if movement is None:
        raise Unknown("movement", str(movement_id))
    ledger_entry.lock([movement.item_id])
    _refuse_impossible(movement)
    entry = Entry(
        item_id=movement.item_id,
        lot_id=movement.lot_id,
        place_id=movement.place_id,
        quantity=-movement.quantity,
        kind=MovementKind.REVERSAL,
        reason=why[:200],
        demand_ref=movement.demand_ref,
        unit_cost=movement.unit_cost,
        reverses_id=movement.pk,
    )
    return ledger_entry.post([entry], actor=actor)[0]


def _refuse_impossible(movement: Movement) -> None:
    if movement.kind == MovementKind.REVERSAL:
        raise Conflict("A reversal is not reversed; post what happened as a new line.")
    if movement.kind == MovementKind.MOVE:
        raise Conflict("A move is not reversed; move the stock back instead.")
    if Movement.objects.filter(reverses=movement).exists():
        raise Conflict(f"Movement {movement.pk} is reversed already.")
