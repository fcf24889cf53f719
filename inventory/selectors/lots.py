"""Lots, where they came from and who got them."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any

from django.db.models import QuerySet, Sum
from django.db.models.functions import Coalesce

from inventory.errors import Unknown
from inventory.models import Lot, Movement, MovementKind

COMING = (MovementKind.RECEIPT, MovementKind.MIXING, MovementKind.RETURN)


@dataclass(frozen=True, slots=True)
class Step:
    """One thing that happened to a lot: goods that came into it, or left for a demand."""

    lot: str
    item: str
    kind: str
    quantity: int
    demand_ref: str
    at: str
    by: str


@dataclass(frozen=True, slots=True)
class Trace:
    """A lot with what it came from and the demands that it went to."""

    lot: str
    item: str
    state: str
    back: tuple[Step, ...]
    forward: tuple[Step, ...]

    def as_json(self) -> Mapping[str, Any]:
        """The published shape."""
        return asdict(self)


def of_item(item_code: str) -> QuerySet[Lot]:
    """Lots of an item with their `on_hand`, first expired first; one query."""
    lots = Lot.objects.filter(item__code=item_code).annotate(on_hand=Coalesce(Sum("balances__on_hand"), 0))
    return lots.order_by("best_before", "code")


def trace(lot_code: str) -> Trace:
    """Where a lot came from and which demands got some of it, returned parts included.

    Five queries at most: the lot, its family by splitting, and their movements. A reversed movement and its
    reversal cancel out and are left out.
    """
    lot = Lot.objects.select_related("item").filter(code=lot_code).first()
    if lot is None:
        raise Unknown("lot", lot_code)
    back = [step for member in _ancestors(lot) for step in _steps(member, kinds=COMING)]
    forward = [
        step
        for member in (lot, *Lot.objects.filter(split_from=lot).order_by("pk"))
        for step in _steps(member, kinds=(MovementKind.HAND_OVER, MovementKind.RETURN))
    ]
    return Trace(lot.code, lot.item.code, lot.state, tuple(back), tuple(forward))


def _ancestors(lot: Lot) -> list[Lot]:
    family = [lot]
    while family[-1].split_from_id is not None:
        family.append(Lot.objects.get(pk=family[-1].split_from_id))
    return family


def _steps(lot: Lot, *, kinds: tuple[MovementKind, ...]) -> list[Step]:
    movements = Movement.objects.filter(lot=lot, kind__in=kinds, reversed_by=None).select_related("item")
    return [
        Step(
            lot=lot.code,
            item=movement.item.code,
            kind=movement.kind,
            quantity=movement.quantity,
            demand_ref=movement.demand_ref,
            at=movement.at.isoformat(),
            by=movement.by,
        )
        for movement in movements.order_by("pk")
    ]
