"""What lies on the demo shop's shelves on its first day: received through the ledger like any delivery."""

from collections.abc import Iterator
from datetime import date, timedelta
from decimal import Decimal

from django.utils import timezone

from inventory.actors import SYSTEM
from inventory.services import lots, receiving
from inventory.services.receiving import Receipt
from shop.demo import tables

OPENING = "opening stock"
CAGE = "QUARANTINE"


def load() -> None:
    """Receive everything in one delivery, then set aside the lots that are under suspicion."""
    costs = {row["code"]: Decimal(row["cost"]) for row in tables.item_rows()}
    in_lots = tables.rows("lots")
    receipts = [*_without_lots(), *_by_lot(in_lots, costs, today=timezone.localdate())]
    receiving.receive(receipts, actor=SYSTEM)
    for row in in_lots:
        if row["state"] == "quarantined":
            lots.quarantine(row["lot"], why=row["why"], actor=SYSTEM)


def _without_lots() -> Iterator[Receipt]:
    for row in tables.item_rows():
        if row["stock"] not in {"", "0"}:
            yield Receipt(row["code"], int(row["stock"]), unit_cost=Decimal(row["cost"]), reason=OPENING)


def _by_lot(rows: list[dict[str, str]], costs: dict[str, Decimal], *, today: date) -> Iterator[Receipt]:
    for row in rows:
        days = row["best_before_in_days"]
        yield Receipt(
            row["item"],
            int(row["quantity"]),
            lot=row["lot"],
            best_before=today + timedelta(days=int(days)) if days else None,
            unit_cost=costs[row["item"]],
            place=CAGE if row["state"] == "quarantined" else None,
            reason=OPENING,
        )
