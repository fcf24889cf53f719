"""Holding stock for a demand: all lines or none, letting go, and passing on."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from django.db import IntegrityError, connection, transaction
from django.utils import timezone

from inventory.actors import SYSTEM, Actor
from inventory.calc.lines import Line
from inventory.errors import BadInput, Conflict, FieldError, NotEnoughStock, Short, Unknown
from inventory.models import MAIN_SITE, Hold, HoldChange, HoldChangeKind, Item, Want
from inventory.services import ledger_entry
from inventory.services.ledger_entry import Stamp

HOLD_SQL = "SELECT item, wanted, free FROM inventory_hold(%s, %s, %s, %s, %s, %s, %s, %s, %s)"
ITEMS_OF_DEMAND_SQL = """
    SELECT item_id FROM inventory_hold WHERE demand_ref = %s AND ended_at IS NULL
    UNION SELECT item_id FROM inventory_want WHERE demand_ref = %s AND ended_at IS NULL
    UNION SELECT id FROM inventory_item WHERE code = ANY (%s)
"""
LONGEST_DEMAND_REF = 64
MOST = 2**53  # whole numbers that every JSON reader keeps exact


@dataclass(frozen=True, slots=True)
class Held:
    """What a demand now has: lines held, and lines that wait for a receipt."""

    demand_ref: str
    lines: tuple[Line, ...]
    wanted: tuple[Line, ...] = ()


def hold(
    demand_ref: str,
    *,
    lines: Sequence[Line],
    until: datetime | None,
    actor: Actor,
    partial: bool = False,
) -> Held:
    """All lines are held for the demand until a time, or (partial) what is free is and the rest waits.

    One round trip; locks the stock rows of the items in id order; lapses overdue holds on short items when
    that is enough. Refuses with NotEnoughStock, having changed nothing; Unknown for a code that is no item;
    Conflict when the demand already holds one of the items.
    """
    actor.must("hold")
    _check(demand_ref, lines)
    now = timezone.now()
    if until is not None and until <= now:
        raise BadInput([FieldError("/until", "until must lie in the future.")])
    parameters = hold_parameters(demand_ref, lines=lines, until=until, actor=actor, partial=partial, now=now)
    with connection.cursor() as cursor:
        try:
            cursor.execute(HOLD_SQL, parameters)
        except IntegrityError as error:
            raise _translated(error, demand_ref) from error
        rows = cursor.fetchall()
    return _outcome(demand_ref, lines, rows, partial=partial)


def hold_parameters(
    demand_ref: str,
    *,
    lines: Sequence[Line],
    until: datetime | None,
    actor: Actor,
    partial: bool = False,
    now: datetime | None = None,
) -> list[Any]:
    """The parameters of HOLD_SQL, in order."""
    return [
        MAIN_SITE,
        demand_ref,
        [line.item for line in lines],
        [line.quantity for line in lines],
        until,
        partial,
        now or timezone.now(),
        actor.name,
        actor.request_id,
    ]


@transaction.atomic
def release(demand_ref: str, *, actor: Actor, why: str = "") -> int:
    """Nothing is held for the demand any more, and it waits for nothing; returns how many holds ended.

    Locks the stock rows of its items. Releasing twice is the same as once.
    """
    if not actor.may("cancel"):
        actor.must("hold")
    return _let_go(demand_ref, _lock_demand(demand_ref), why=why, stamp=Stamp.of(actor))


@transaction.atomic
def transfer(old_ref: str, *, new_ref: str, until: datetime | None, actor: Actor) -> Held:
    """What was held for one demand is held for another (or the same) until another time, at its old age.

    Locks the stock rows of its items. Refuses with Conflict when nothing is held or wanted for the old
    demand, or when the new one already holds one of the items.
    """
    actor.must("hold")
    _check_demand(new_ref)
    items = _lock_demand(old_ref)
    stamp, holds = Stamp.of(actor), list(_active(Hold, old_ref, items).select_related("item").order_by("pk"))
    wants = list(_active(Want, old_ref, items).select_related("item").order_by("pk"))
    if not holds and not wants:
        raise Conflict(f"Nothing is held for {old_ref}.")
    _refuse_clash(old_ref, new_ref, [row.item_id for row in (*holds, *wants)])
    _active(Hold, old_ref, items).update(demand_ref=new_ref, until=until)
    HoldChange.objects.bulk_create(_passed_on(row, old_ref, new_ref, stamp) for row in holds)
    _active(Want, old_ref, items).update(demand_ref=new_ref, until=until)
    return Held(new_ref, _lines(holds), _lines(wants))


@transaction.atomic
def rehold(
    old_ref: str,
    *,
    new_ref: str,
    lines: Sequence[Line],
    until: datetime | None,
    actor: Actor,
    partial: bool = False,
) -> Held:
    """The old demand's stock is free again and these lines are held for the new one, or nothing has changed.

    What was waited for loses its place in the queue. Locks the stock rows of both in one go. Refuses as
    `hold` does.
    """
    actor.must("hold")
    _check(new_ref, lines)
    items = _lock_demand(old_ref, also=[line.item for line in lines])
    _let_go(old_ref, items, why=f"held again for {new_ref}", stamp=Stamp.of(actor))
    return hold(new_ref, lines=lines, until=until, actor=actor, partial=partial)


@transaction.atomic
def lock_all(demand_ref: str, *, items: Collection[str] = ()) -> None:
    """Lock what a demand holds and waits for, and these items, in one go and in the order of all locks.

    For callers that do several things to one demand in one transaction: each of them locks again, and would
    lock more than the one before, out of order.
    """
    _lock_demand(demand_ref, also=items)


@transaction.atomic
def fill_waiting(demand_ref: str, *, actor: Actor) -> None:
    """What is free by now of the demand's items is held for those who wait for them, oldest first.

    Locks the stock rows of its items.
    """
    actor.must("hold")
    stamp, items = Stamp.of(actor), _lock_demand(demand_ref)
    with connection.cursor() as cursor:
        cursor.execute("SELECT inventory_fill_wants(%s, %s, %s, %s, %s)", [MAIN_SITE, items, *stamp.columns])


@transaction.atomic
def lapse_overdue(*, item_ids: Collection[int] | None = None, actor: Actor = SYSTEM) -> int:
    """Holds and wants past their time have ended (of these items, or of all); returns how many holds."""
    now = timezone.now()
    overdue = Hold.objects.filter(ended_at=None, until__lte=now)
    if item_ids is not None:
        overdue = overdue.filter(item_id__in=item_ids)
    items = sorted(set(overdue.values_list("item_id", flat=True)))
    ledger_entry.lock(items)
    with connection.cursor() as cursor:
        cursor.execute("SELECT inventory_lapse(%s, %s, %s, %s)", [items, now, actor.name, actor.request_id])
        (lapsed,) = cursor.fetchone()
    wants = Want.objects.filter(ended_at=None, until__lte=now)
    (wants if item_ids is None else wants.filter(item_id__in=item_ids)).update(ended_at=now)
    return int(lapsed)


def _outcome(
    demand_ref: str, lines: Sequence[Line], rows: Sequence[tuple[str, int, int | None]], *, partial: bool
) -> Held:
    for item, _, free in rows:
        if free is None:
            raise Unknown("item", item)
    short = [Short(item, int(wanted), int(free or 0)) for item, wanted, free in rows]
    if short and not partial:
        raise NotEnoughStock(_named(_in_order(short, lines)))
    left = {row.item: row.wanted - row.free for row in short}
    totals: dict[str, int] = {}
    for line in lines:
        totals[line.item] = totals.get(line.item, 0) + line.quantity
    held = ((item, quantity - left.get(item, 0)) for item, quantity in totals.items())
    return Held(
        demand_ref,
        tuple(Line(item, quantity) for item, quantity in held if quantity),
        tuple(Line(item, left[item]) for item in totals if item in left),
    )


def _in_order(short: Sequence[Short], lines: Sequence[Line]) -> list[Short]:
    place = {line.item: index for index, line in reversed(list(enumerate(lines)))}
    return sorted(short, key=lambda row: place[row.item])


def _named(short: Sequence[Short]) -> list[Short]:
    """The same with the names that people know the items by."""
    names = dict(Item.objects.filter(code__in=[row.item for row in short]).values_list("code", "name"))
    return [replace(row, name=names.get(row.item, "")) for row in short]


def _translated(error: IntegrityError, demand_ref: str) -> Exception:
    if "one_active_hold_per_demand_and_item" in str(error) or "one_active_want_per" in str(error):
        return Conflict(f"Stock is already held for {demand_ref}.")
    return error


def _check(demand_ref: str, lines: Sequence[Line]) -> None:
    _check_demand(demand_ref)
    if not lines:
        raise BadInput([FieldError("/lines", "lines must name at least one item.")])
    faults = [
        FieldError(f"/lines/{index}/quantity", f"quantity of {line.item} must be a whole number above zero.")
        for index, line in enumerate(lines)
        if not 0 < line.quantity <= MOST
    ]
    if faults:
        raise BadInput(faults)


def _check_demand(demand_ref: str) -> None:
    if not 0 < len(demand_ref) <= LONGEST_DEMAND_REF:
        sentence = f"demand_ref must have 1 to {LONGEST_DEMAND_REF} characters."
        raise BadInput([FieldError("/demand_ref", sentence)])


def _active(model: Any, demand_ref: str, items: Collection[int]) -> Any:
    return model.objects.filter(demand_ref=demand_ref, ended_at=None, item_id__in=items)


def _lock_demand(demand_ref: str, *, also: Collection[str] = ()) -> list[int]:
    """Lock the items of a demand, and of some codes, all in one go; returns their ids.

    What is held for the demand meanwhile, on other items, comes after us: whoever calls keeps to these items,
    because locking more of them now would break the order of locks.
    """
    with connection.cursor() as cursor:
        cursor.execute(ITEMS_OF_DEMAND_SQL, [demand_ref, demand_ref, list(also)])
        items = [item_id for (item_id,) in cursor.fetchall()]
    ledger_entry.lock(items)
    return items


def _let_go(demand_ref: str, items: Collection[int], *, why: str, stamp: Stamp) -> int:
    cuts = dict(_active(Hold, demand_ref, items).order_by("pk").values_list("pk", "quantity"))
    ledger_entry.cut_holds(cuts, kind=HoldChangeKind.RELEASED, why=why[:200], stamp=stamp)
    _active(Want, demand_ref, items).update(ended_at=stamp.at)
    return len(cuts)


def _refuse_clash(old_ref: str, new_ref: str, item_ids: Collection[int]) -> None:
    if old_ref == new_ref:
        return
    if any(_active(model, new_ref, item_ids).exists() for model in (Hold, Want)):
        raise Conflict(f"Stock is already held for {new_ref}.")


def _passed_on(row: Hold, old_ref: str, new_ref: str, stamp: Stamp) -> HoldChange:
    return HoldChange(
        hold_id=row.pk,
        kind=HoldChangeKind.TRANSFERRED,
        quantity=0,
        demand_ref=new_ref,
        why=f"from {old_ref}"[:200],
        at=stamp.at,
        by=stamp.by,
        request_id=stamp.request_id,
    )


def _lines(rows: Sequence[Hold] | Sequence[Want]) -> tuple[Line, ...]:
    return tuple(Line(row.item.code, row.quantity) for row in rows)
