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


@dataclass(frozen=True, slots=True)
class Books:
    """What the books say of the items that are counted."""

    on_hand: OnHand
    known: Mapping[str, Lot]
    standing: Mapping[int, Lot]


@transaction.atomic
def count(lines: Sequence[Counted], *, place: str | None = None, actor: Actor) -> tuple[Difference, ...]:
    """The balances at the place (without one: each item's own shelf) are what was counted.

    Locks the stock rows of the items. A count is a fact: it posts also below what is held, and the newest
    holds lose the difference. Returns every line with what the books said before.
    """
    actor.must("count")
    items = lookups.items_by_code(line.item for line in lines)
    _check(lines, items)
    ledger_entry.lock(item.pk for item in items.values())
    place_id = lookups.place_ids([place])[place] if place is not None else None
    books = Books(
        OnHand(items.values()),
        lookups.known_lots(line.lot for line in lines),
        lookups.standing_lots(items.values()),
    )
    entries: list[Entry] = []
    differences: list[Difference] = []
    for line in lines:
        item = items[line.item]
        at = place_id or lookups.shelf_of(item)
        before, posts = _compared(line, item, books, place_id=at)
        entries += posts
        differences.append(Difference(item.code, line.lot, before, line.quantity))
    ledger_entry.post(entries, actor=actor)
    return tuple(differences)


def _check(lines: Sequence[Counted], items: Mapping[str, Item]) -> None:
    if not lines:
        raise BadInput([FieldError("/lines", "lines must name at least one item.")])
    seen: dict[int, set[str | None]] = {}
    for index, line in enumerate(lines):
        if not 0 <= line.quantity <= lookups.MOST:
            sentence = "quantity must be a whole number, zero or more."
            raise BadInput([FieldError(f"/lines/{index}/quantity", sentence)])
        lots = seen.setdefault(items[line.item].pk, set())
        if line.lot in lots or (lots and (line.lot is None or None in lots)):
            sentence = f"item {line.item} is counted twice; count it as a whole, or each lot once."
            raise BadInput([FieldError(f"/lines/{index}/item", sentence)])
        lots.add(line.lot)


def _compared(line: Counted, item: Item, books: Books, *, place_id: int) -> tuple[int, list[Entry]]:
    """What the books say, and the entries that make them say what was counted."""
    if line.lot is not None:
        lookups.lot_of(item, line.lot, known=books.known)
    choice = Choice(line.lot, place_id, past_date_too=True)
    before = books.on_hand.total(item, choice)
    difference, kind = line.quantity - before, MovementKind.COUNT
    if difference > 0:
        into = lookups.found_in(item, line.lot, known=books.known, standing=books.standing)
        return before, [Entry(item.pk, into.pk, place_id, difference, kind, REASON)]
    return before, adjusting.taken(
        item, quantity=-difference, reason=REASON, choice=choice, on_hand=books.on_hand, kind=kind
    )
