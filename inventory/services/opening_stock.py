"""Opening stock as a file gives it: only into items that have not moved yet, each row once."""

from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import partial
from typing import Any

from django.db.models import Exists, OuterRef

from inventory.actors import Actor
from inventory.calc.errors import Impossible
from inventory.calc.tables import Row, Table
from inventory.errors import BadInput, FieldError
from inventory.models import Item, Movement, Place, SupersededCode
from inventory.services import lots, receiving
from inventory.services.item_fields import read_field
from inventory.services.lookups import MOST
from inventory.services.receiving import Receipt

STOCK_COLUMNS = ("item", "quantity", "lot", "best_before", "unit_cost", "place", "quarantined_because")
LONGEST_WHY = 200


@dataclass(slots=True)
class Opening:
    """The rows to receive, why some of them are set aside, and every fault with its row."""

    receipts: list[tuple[int, Receipt]] = field(default_factory=list)
    set_aside: dict[int, str] = field(default_factory=dict)
    already_received: int = 0
    faults: list[FieldError] = field(default_factory=list)


def read(table: Table, *, new_items: Collection[str], new_places: Iterable[str]) -> Opening:
    """What the table would receive; items and places that are about to be made count as known."""
    reason = f"opening stock {table.digest()[:16]} row "
    reasons = {number: f"{reason}{number}" for number, _ in table.rows}
    posted = set(Movement.objects.filter(reason__in=reasons.values()).values_list("reason", flat=True))
    open_rows = [(number, row) for number, row in table.rows if reasons[number] not in posted]
    found = Opening(already_received=len(table.rows) - len(open_rows))
    known = _items_to_open({row["item"] for _, row in open_rows}, new_items, reason)
    places = {*Place.objects.values_list("code", flat=True), *new_places}
    for number, row in open_rows:
        faults, values = _values(row, known, places)
        found.faults += [
            FieldError(f"/rows/{number}/{column}", f"Row {number}, {column} {sentence}.")
            for column, sentence in faults
        ]
        if not faults:
            if why := values.pop("quarantined_because", None):
                found.set_aside[number] = why
            found.receipts.append((number, Receipt(**values, reason=reasons[number])))
    return found


def receive(opening: Opening, *, actor: Actor) -> None:
    """The goods are on hand, those under suspicion in quarantine. Refuses with BadInput naming rows."""
    if not opening.receipts:
        return
    try:
        received = receiving.receive([receipt for _, receipt in opening.receipts], actor=actor)
    except BadInput as refusal:
        raise BadInput([_with_row(fault, opening.receipts) for fault in refusal.errors]) from refusal
    for (number, _), line in zip(opening.receipts, received, strict=True):
        if number in opening.set_aside:
            lots.quarantine(line.lot, why=opening.set_aside[number], actor=actor)


def _items_to_open(codes: Collection[str], new: Collection[str], reason: str) -> dict[str, bool]:
    """Codes that stand for an item -> whether its stock has moved otherwise: opening it would double it."""
    former = dict(SupersededCode.objects.filter(code__in=codes).values_list("code", "item__code"))
    items = Item.objects.filter(code__in={*codes, *former.values()})
    others = Movement.objects.filter(item=OuterRef("pk")).exclude(reason__startswith=reason)
    moved = {
        code: bool(has) for code, has in items.annotate(moved=Exists(others)).values_list("code", "moved")
    }
    return dict.fromkeys(new, False) | moved | {old: moved[code] for old, code in former.items()}


def _values(
    row: Row, known: Mapping[str, bool], places: set[str]
) -> tuple[list[tuple[str, str]], dict[str, Any]]:
    values: dict[str, Any] = {}
    faults: list[tuple[str, str]] = []
    for column, cell in row.items():
        try:
            if column in STOCK_COLUMNS:
                values[column] = _value(column, cell, known, places)
        except ValueError as fault:
            faults.append((column, fault.sentence if isinstance(fault, Impossible) else str(fault)))
    return faults, values


def _value(column: str, cell: str, known: Mapping[str, bool], places: set[str]) -> Any:
    if column == "item":
        return _unmoved(cell, known)
    if column == "quantity":
        return _quantity(cell)
    if not cell:
        return None
    return _one_known(read_field("place", cell), places) if column == "place" else READERS[column](cell)


def _unmoved(cell: str, known: Mapping[str, bool]) -> str:
    if known.get(cell):
        raise ValueError(
            f"{cell} has stock movements already, and opening stock only goes into items that have not "
            "moved yet; receive or adjust it instead"
        )
    return _one_known(cell, known)


def _one_known(cell: str, known: Collection[str]) -> str:
    if not cell:
        raise ValueError("is missing")
    if cell not in known:
        raise ValueError(f"{cell!r} is not known; add it first")
    return cell


def _quantity(cell: str) -> int:
    if not (cell.isascii() and cell.isdigit() and len(cell) < 17 and 0 < int(cell) <= MOST):
        raise ValueError(f"must be a whole number above zero, not {cell!r}")
    return int(cell)


def _date(cell: str) -> date:
    try:
        return date.fromisoformat(cell)
    except ValueError:
        raise ValueError(f"must be a date like 2026-01-31, not {cell!r}") from None


def _why(cell: str) -> str:
    if len(cell) > LONGEST_WHY:
        raise ValueError(f"is longer than {LONGEST_WHY} characters")
    return cell


READERS: Mapping[str, Callable[[str], Any]] = {
    "lot": partial(read_field, "code"),
    "best_before": _date,
    "unit_cost": partial(read_field, "cost"),
    "quarantined_because": _why,
}


def _with_row(fault: FieldError, stock: list[tuple[int, Receipt]]) -> FieldError:
    _, _, place = fault.pointer.partition("/lines/")
    index, _, column = place.partition("/")
    if not index.isdigit():
        return fault
    number = stock[int(index)][0]
    return FieldError(f"/rows/{number}/{column}", f"Row {number}, {fault.detail}")
