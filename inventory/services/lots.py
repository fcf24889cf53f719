"""Whether a lot may be sold."""

from datetime import date

from django.db import transaction

from inventory.actors import SYSTEM, Actor
from inventory.errors import Conflict
from inventory.models import Lot, LotState
from inventory.selectors import days
from inventory.services import ledger_entry, lookups


@transaction.atomic
def quarantine(code: str, *, why: str, actor: Actor) -> Lot:
    """Nothing of the lot may be sold; the newest holds lose what is now short. Twice is the same as once.

    Locks the stock rows of its item.
    """
    actor.must("quarantine")
    lot = lookups.lot(code)
    ledger_entry.restate([lot], state=LotState.QUARANTINED, why=why, actor=actor)
    lot.refresh_from_db()
    return lot


@transaction.atomic
def release(code: str, *, why: str = "", actor: Actor) -> Lot:
    """The lot may be sold again unless its date is past; demands that wait for the item are filled.

    Locks the stock rows of its item. Refuses with Conflict a lot that is not in quarantine.
    """
    actor.must("quarantine")
    lot = lookups.lot(code)
    ledger_entry.lock([lot.item_id])
    lot.refresh_from_db()
    if lot.state != LotState.QUARANTINED:
        raise Conflict(f"Lot {lot.code} is not in quarantine; it is {lot.state}.")
    past = lot.best_before is not None and lot.best_before < days.today()
    ledger_entry.restate([lot], state=LotState.EXPIRED if past else LotState.GOOD, why=why, actor=actor)
    lot.refresh_from_db()
    return lot


@transaction.atomic
def expire_due(on: date, *, actor: Actor = SYSTEM) -> int:
    """Good lots whose best-before day lies before `on` may not be sold; returns how many expired.

    Locks the stock rows of their items.
    """
    due = list(Lot.objects.filter(state=LotState.GOOD, best_before__lt=on).order_by("pk"))
    ledger_entry.restate(due, state=LotState.EXPIRED, why="past its best-before day", actor=actor)
    return len(due)
