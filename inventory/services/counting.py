"""What was counted is what is there."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from inventory.models import Item, Lot, MovementKind
from inventory.services import adjusting, ledger_entry, lookups
from inventory.services.ledger_entry import Entry
from inventory.services.picking import Choice, OnHand

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
    place_id = lookups.place_ids([place])[place] if place is not None else None
    lots, standing = _lots(lines, items), lookups.standing_lots(items.values())
    on_hand = OnHand(items.values())
    entries: list[Entry] = []
    differences: list[Difference] = []
    for line in lines:
        item = items[line.item]
        choice = Choice(line.lot, place_id or lookups.shelf_of(item), past_date_too=True)
        before = on_hand.total(item, choice)
        into = standing[item.pk] if line.lot is None else lots[line.lot]
        entries += _entries(item, line.quantity - before, choice=choice, on_hand=on_hand, into=into)
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


def _lots(lines: Sequence[Counted], items: Mapping[str, Item]) -> dict[str, Lot]:
    known = lookups.known_lots(line.lot for line in lines)
    named = [(items[line.item], line.lot) for line in lines if line.lot is not None]
    return {code: lookups.lot_of(item, code, known=known) for item, code in named}


def _entries(item: Item, difference: int, *, choice: Choice, on_hand: OnHand, into: Lot) -> list[Entry]:
    kind = MovementKind.COUNT
    if difference > 0:
        return [Entry(item.pk, into.pk, choice.place_id or lookups.shelf_of(item), difference, kind, REASON)]
    return adjusting.taken(
        item, quantity=-difference, reason=REASON, choice=choice, on_hand=on_hand, kind=kind
    )
