"""Stock leaves with the customer."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction

from inventory.actors import Actor
from inventory.calc.lines import Line
from inventory.errors import BadInput, Conflict, FieldError
from inventory.models import Hold, HoldChangeKind, Item, Lot, LotState, MovementKind
from inventory.services import ledger_entry, lookups
from inventory.services.ledger_entry import Entry, Stamp
from inventory.services.picking import Choice, OnHand, Portion


@dataclass(frozen=True, slots=True)
class Take:
    """What leaves of an item; without a lot, first expired first."""

    item: str
    quantity: int
    lot: str | None = None


@dataclass(frozen=True, slots=True)
class Left:
    """What has left, from which lot, as which movement."""

    movement_id: int
    item: str
    lot: str
    quantity: int


@transaction.atomic
def hand_over(
    demand_ref: str, *, lines: Sequence[Take | Line] | None = None, actor: Actor
) -> tuple[Left, ...]:
    """These lines, or all that is held for the demand, have left the shop out of what was held for it.

    Locks the stock rows of the items. Lots go first expired first, without those in quarantine or past
    their date; a named lot is taken when it is good. The rest of the demand stays held. Refuses with
    Conflict more than is held for it, or than its lots can give.
    """
    actor.must("hand_over")
    holds = _locked_holds(demand_ref)
    takes = [Take(code, hold.quantity) for code, hold in holds.items()] if lines is None else _takes(lines)
    items = lookups.items_by_code(take.item for take in takes)
    takes = [Take(items[take.item].code, take.quantity, take.lot) for take in takes]
    totals = _totals(takes)
    _refuse_more_than_held(totals, holds, demand_ref)
    stamp = Stamp.of(actor)
    portions = _portions(takes, {item.code: item for item in items.values()})
    cuts = {holds[code].pk: quantity for code, quantity in totals.items()}
    ledger_entry.cut_holds(cuts, kind=HoldChangeKind.HANDED_OVER, why="", stamp=stamp)
    entries = [_entry(item, portion, demand_ref) for item, portion in portions]
    movements = ledger_entry.post(entries, actor=actor)
    return tuple(
        Left(movement, item.code, portion.lot_code, portion.quantity)
        for movement, (item, portion) in zip(movements, portions, strict=True)
    )


def _locked_holds(demand_ref: str) -> dict[str, Hold]:
    active = Hold.objects.filter(demand_ref=demand_ref, ended_at=None)
    items = list(active.values_list("item_id", flat=True))
    ledger_entry.lock(items)
    locked = active.filter(item_id__in=items).select_related("item").order_by("pk")
    holds = {hold.item.code: hold for hold in locked}
    if not holds:
        raise Conflict(f"Nothing is held for {demand_ref}.")
    return holds


def _takes(lines: Sequence[Take | Line]) -> list[Take]:
    if not lines:
        raise BadInput([FieldError("/lines", "lines must name at least one item.")])
    for index, line in enumerate(lines):
        lookups.check_quantity(line.quantity, pointer=f"/lines/{index}/quantity")
    return [line if isinstance(line, Take) else Take(line.item, line.quantity) for line in lines]


def _totals(takes: Sequence[Take]) -> dict[str, int]:
    totals: dict[str, int] = {}
    for take in takes:
        totals[take.item] = totals.get(take.item, 0) + take.quantity
    return totals


def _refuse_more_than_held(totals: Mapping[str, int], holds: Mapping[str, Hold], demand_ref: str) -> None:
    for code, quantity in totals.items():
        held = holds[code].quantity if code in holds else 0
        if quantity > held:
            raise Conflict(f"Of {code} only {held} can leave for {demand_ref}, not {quantity}.")


def _portions(takes: Sequence[Take], items: Mapping[str, Item]) -> list[tuple[Item, Portion]]:
    """Named lots first, so that an open choice does not take what another line names."""
    on_hand, known = OnHand(items.values()), lookups.known_lots(take.lot for take in takes)
    return [
        (items[take.item], portion)
        for take in sorted(takes, key=lambda take: take.lot is None)
        for portion in _from_lots(items[take.item], take, on_hand, known)
    ]


def _from_lots(item: Item, take: Take, on_hand: OnHand, known: Mapping[str, Lot]) -> list[Portion]:
    if take.lot is not None:
        lot = lookups.lot_of(item, take.lot, known=known)
        if lot.state != LotState.GOOD:
            raise Conflict(f"Lot {lot.code} is {lot.state}; it may not leave the shop.")
    portions, missing = on_hand.pick(item, quantity=take.quantity, choice=Choice(take.lot))
    if missing:
        where = f"lot {take.lot}" if take.lot else "good lots within their date"
        raise Conflict(
            f"Of {item.name} only {take.quantity - missing} can leave from {where}, not {take.quantity}."
        )
    return portions


def _entry(item: Item, portion: Portion, demand_ref: str) -> Entry:
    return Entry(
        item_id=item.pk,
        lot_id=portion.lot_id,
        place_id=portion.place_id,
        quantity=-portion.quantity,
        kind=MovementKind.HAND_OVER,
        demand_ref=demand_ref,
    )
