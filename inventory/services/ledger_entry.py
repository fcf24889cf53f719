"""The one door to the stock ledger: what is posted here moves every figure that depends on it.

Only the services of this room come through. Callers lock first, look at the figures, decide and post.
"""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from django.db import connection, transaction
from django.utils import timezone

from inventory.actors import Actor
from inventory.errors import Conflict
from inventory.models import Lot, LotBalance, LotChange, LotState, Movement, Place
from inventory.selectors import days


@dataclass(frozen=True, slots=True)
class Entry:
    """One line to be written into the ledger."""

    item_id: int
    lot_id: int
    place_id: int
    quantity: int
    kind: str
    reason: str = ""
    demand_ref: str = ""
    unit_cost: Decimal | None = None
    reverses_id: int | None = None


@dataclass(frozen=True, slots=True)
class Stamp:
    """When, by whom and in which request."""

    at: datetime
    by: str
    request_id: str

    @classmethod
    def of(cls, actor: Actor) -> "Stamp":
        """The actor's stamp, now."""
        return cls(timezone.now(), actor.name, actor.request_id)

    @property
    def columns(self) -> tuple[datetime, str, str]:
        """The three values in the order in which the SQL functions take them."""
        return self.at, self.by, self.request_id


def lock(item_ids: Iterable[int]) -> None:
    """Lock the stock rows of these items, in id order, until the transaction ends."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT inventory_lock(%s)", [sorted(set(item_ids))])


@transaction.atomic
def post(entries: Sequence[Entry], *, actor: Actor) -> list[int]:
    """Write the entries and move lot balances and sellable figures with them; returns the movement ids.

    Locks the stock rows of the items. Refuses with Conflict to take more from a lot at a place than lies
    there. Where a fact leaves less than is held, overdue and then the newest holds lose the difference;
    where it leaves more, wants are filled, oldest first.
    """
    entries = [entry for entry in entries if entry.quantity]
    if not entries:
        return []
    lock(entry.item_id for entry in entries)
    stamp = Stamp.of(actor)
    _move_balances(entries)
    movements = Movement.objects.bulk_create(_movement(entry, stamp) for entry in entries)
    _wake(entries, stamp)
    _move_sellable(_sellable_moves(entries), why=_why(entries), stamp=stamp)
    _retire({entry.lot_id for entry in entries if entry.quantity < 0}, stamp)
    return [movement.pk for movement in movements]


@transaction.atomic
def restate(lots: Sequence[Lot], *, state: LotState, why: str, actor: Actor) -> None:
    """Put lots into another state; what they hold leaves or joins the sellable figure at once.

    Locks the stock rows of their items, then reads the states again.
    """
    lock(lot.item_id for lot in lots)
    current = list(Lot.objects.filter(pk__in=[lot.pk for lot in lots]).exclude(state=state).order_by("pk"))
    stamp = Stamp.of(actor)
    moves: dict[tuple[int, int], int] = defaultdict(int)
    for lot in current:
        sign = (state == LotState.GOOD) - (lot.state == LotState.GOOD)
        for site_id, on_hand in _on_hand_by_site(lot.pk).items():
            moves[site_id, lot.item_id] += sign * on_hand
    _write_states(current, state=state, why=why, stamp=stamp)
    _move_sellable(moves, why=f"{state.label}: {why}", stamp=stamp)


def cut_holds(cuts: Mapping[int, int], *, kind: str, why: str, topic: str = "", stamp: Stamp) -> None:
    """Take quantities off holds (hold id -> how much). The caller has locked the stock rows."""
    if cuts:
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT inventory_cut_holds(%s, %s, %s, %s, %s, %s, %s, %s)",
                [list(cuts), list(cuts.values()), kind, why, topic, *stamp.columns],
            )


def _movement(entry: Entry, stamp: Stamp) -> Movement:
    return Movement(
        item_id=entry.item_id,
        lot_id=entry.lot_id,
        place_id=entry.place_id,
        quantity=entry.quantity,
        kind=entry.kind,
        reason=entry.reason,
        demand_ref=entry.demand_ref,
        unit_cost=entry.unit_cost,
        reverses_id=entry.reverses_id,
        at=stamp.at,
        by=stamp.by,
        request_id=stamp.request_id,
    )


def _move_balances(entries: Sequence[Entry]) -> None:
    moves: dict[tuple[int, int, int], int] = defaultdict(int)
    for entry in entries:
        moves[entry.item_id, entry.lot_id, entry.place_id] += entry.quantity
    LotBalance.objects.bulk_create(
        (
            LotBalance(item_id=item, lot_id=lot, place_id=place, on_hand=0)
            for item, lot, place in sorted(moves)
        ),
        ignore_conflicts=True,
    )
    rows = LotBalance.objects.filter(lot_id__in={lot for _, lot, _ in moves}).select_related("lot", "place")
    changed = [row for row in rows if (row.item_id, row.lot_id, row.place_id) in moves]
    for row in changed:
        move = moves[row.item_id, row.lot_id, row.place_id]
        if row.on_hand + move < 0:
            raise Conflict(
                f"Lot {row.lot.code} holds {row.on_hand} at place {row.place.code}; "
                f"{-move} cannot be taken from it."
            )
        row.on_hand += move
    LotBalance.objects.bulk_update(changed, ["on_hand"])


def _sellable_moves(entries: Sequence[Entry]) -> dict[tuple[int, int], int]:
    good = set(
        Lot.objects.filter(pk__in={entry.lot_id for entry in entries}, state=LotState.GOOD)
        .values_list("pk", flat=True)
    )  # fmt: skip
    sites = dict(
        Place.objects.filter(pk__in={entry.place_id for entry in entries}).values_list("pk", "site_id")
    )
    moves: dict[tuple[int, int], int] = defaultdict(int)
    for entry in entries:
        if entry.lot_id in good:
            moves[sites[entry.place_id], entry.item_id] += entry.quantity
    return moves


def _move_sellable(moves: Mapping[tuple[int, int], int], *, why: str, stamp: Stamp) -> None:
    for site_id in sorted({site_id for site_id, _ in moves}):
        items = [(item, move) for (site, item), move in sorted(moves.items()) if site == site_id and move]
        if not items:
            continue
        with connection.cursor() as cursor:
            cursor.execute(
                "SELECT inventory_change_sellable(%s, %s, %s, %s, %s, %s, %s)",
                [
                    site_id,
                    [item for item, _ in items],
                    [move for _, move in items],
                    why[:200],
                    *stamp.columns,
                ],
            )


def _why(entries: Sequence[Entry]) -> str:
    return ", ".join(dict.fromkeys(entry.reason or entry.kind for entry in entries))


def _wake(entries: Sequence[Entry], stamp: Stamp) -> None:
    """A lot that had nothing left is good again when something comes back to it within its date."""
    lots = list(
        Lot.objects.filter(
            pk__in={entry.lot_id for entry in entries if entry.quantity > 0}, state=LotState.SPENT
        )
    )
    if not lots:
        return
    today = days.today()
    past = [lot for lot in lots if lot.best_before is not None and lot.best_before < today]
    good = [lot for lot in lots if lot not in past]
    _write_states(good, state=LotState.GOOD, why="stock came back", stamp=stamp)
    _write_states(past, state=LotState.EXPIRED, why="stock came back past its best-before day", stamp=stamp)


def _retire(lot_ids: Collection[int], stamp: Stamp) -> None:
    """A good lot with nothing left is spent; the figures do not move by it."""
    lots = Lot.objects.filter(pk__in=lot_ids, state=LotState.GOOD, standing=False).exclude(
        balances__on_hand__gt=0
    )
    _write_states(list(lots), state=LotState.SPENT, why="nothing is left", stamp=stamp)


def _write_states(lots: Sequence[Lot], *, state: LotState, why: str, stamp: Stamp) -> None:
    if not lots:
        return
    LotChange.objects.bulk_create(
        LotChange(
            lot_id=lot.pk,
            old_state=lot.state,
            new_state=state,
            why=why[:200],
            at=stamp.at,
            by=stamp.by,
            request_id=stamp.request_id,
        )
        for lot in lots
    )
    Lot.objects.filter(pk__in=[lot.pk for lot in lots]).update(state=state)


def _on_hand_by_site(lot_id: int) -> dict[int, int]:
    by_site: dict[int, int] = defaultdict(int)
    for site_id, on_hand in LotBalance.objects.filter(lot_id=lot_id).values_list("place__site_id", "on_hand"):
        by_site[site_id] += on_hand
    return by_site
