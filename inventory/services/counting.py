"""What was counted is what is there."""

from collections.abc import Sequence
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Sum

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from inventory.models import Item, LotBalance, LotState, MovementKind
from inventory.services import adjusting, ledger_entry, lookups
from inventory.services.ledger_entry import Entry
from inventory.services.picking import Choice

REASON = "counted"


@dataclass(frozen=True, slots=True)
class Counted:
    """What was found of an item: in one lot, or in all its good lots together."""

    item: str
    quantity: int
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class Difference:
    """What a count changed."""

    item: str
    lot: str | None
    before: int
    counted: int


@transaction.atomic
def count(lines: Sequence[Counted], *, place: str | None = None, actor: Actor) -> tuple[Difference, ...]:
    """The balances at the place (without one: each item's own shelf) are what was counted.

    Locks the stock rows of the items. A count is a fact: it posts also below what is held, and the newest
    holds lose the difference. Returns every line with what the books said before.
    """
    actor.must("count")
    _check(lines)
    items = lookups.items_by_code(line.item for line in lines)
    ledger_entry.lock(item.pk for item in items.values())
    entries: list[Entry] = []
    differences: list[Difference] = []
    for line in lines:
        item = items[line.item]
        choice = Choice(line.lot, lookups.place_id(place, of=item), past_date_too=True)
        before = _on_hand(item, choice)
        entries += _entries(item, line.quantity - before, choice=choice, place=place)
        differences.append(Difference(item.code, line.lot, before, line.quantity))
    ledger_entry.post(entries, actor=actor)
    return tuple(differences)


def _check(lines: Sequence[Counted]) -> None:
    if not lines:
        raise BadInput([FieldError("/lines", "lines must name at least one item.")])
    seen: dict[str, set[str | None]] = {}
    for index, line in enumerate(lines):
        if not 0 <= line.quantity <= lookups.MOST:
            sentence = "quantity must be a whole number, zero or more."
            raise BadInput([FieldError(f"/lines/{index}/quantity", sentence)])
        lots = seen.setdefault(line.item, set())
        if line.lot in lots or (lots and (line.lot is None or None in lots)):
            sentence = f"item {line.item} is counted twice; count it as a whole, or each lot once."
            raise BadInput([FieldError(f"/lines/{index}/item", sentence)])
        lots.add(line.lot)


def _on_hand(item: Item, choice: Choice) -> int:
    rows = LotBalance.objects.filter(item=item, place=choice.place_id)
    if choice.lot is None:
        rows = rows.filter(lot__state=LotState.GOOD)
    else:
        rows = rows.filter(lot=lookups.lot(choice.lot, of=item))
    return int(rows.aggregate(total=Sum("on_hand"))["total"] or 0)


def _entries(item: Item, difference: int, *, choice: Choice, place: str | None) -> list[Entry]:
    kind = MovementKind.COUNT
    if difference > 0:
        return [
            adjusting.added(item, quantity=difference, reason=REASON, lot=choice.lot, place=place, kind=kind)
        ]
    if difference < 0:
        return adjusting.taken(item, quantity=-difference, reason=REASON, choice=choice, kind=kind)
    return []
