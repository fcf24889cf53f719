"""The catalogue and the opening stock come in from a CSV or XLSX file: looked at first, then all or nothing.

A table with a column `code` holds items, one with `item` and `quantity` holds opening stock; a workbook may
have both. Columns that are absent leave their fields alone; an empty cell empties its field.
"""

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from django.db import connection, transaction
from django.db.models import Exists, OuterRef

from inventory.actors import Actor
from inventory.calc import tables
from inventory.calc.errors import Impossible
from inventory.calc.tables import Row, Table
from inventory.errors import BadInput, FieldError
from inventory.models import Item, Movement, Place, SupersededCode
from inventory.services import catalogue, drafting, receiving
from inventory.services.drafting import Draft
from inventory.services.item_fields import FIELDS, read_field
from inventory.services.lookups import MOST
from inventory.services.receiving import Receipt

STOCK_COLUMNS = ("item", "quantity", "lot", "best_before", "unit_cost", "place")


@dataclass(slots=True)
class Preview:
    """What a file would do: items to add and change, stock to receive, every fault with its row."""

    items: Draft = field(default_factory=Draft)
    stock: list[tuple[int, Receipt]] = field(default_factory=list)
    already_received: int = 0
    faults: list[FieldError] = field(default_factory=list)

    def as_json(self) -> dict[str, Any]:
        """Counts, changes and faults for a screen or a program."""
        return {
            "added": list(self.items.new),
            "changed": [
                {"item": c.code, "field": c.field, "old": _plain(c.old), "new": _plain(c.new)}
                for c in self.items.changes
            ],
            "unchanged": self.items.unchanged,
            "received": len(self.stock),
            "already_received": self.already_received,
            "errors": [{"pointer": fault.pointer, "detail": fault.detail} for fault in self.faults],
        }


def preview(content: bytes, *, name: str) -> Preview:
    """What the file would do, with nothing written. Refuses with BadInput a file that is no table at all."""
    found = Preview()
    items, stock = _by_content(content, name)
    if items is not None:
        _check_columns(items, FIELDS, found)
        known = [{c: cell for c, cell in row.items() if c in FIELDS} for _, row in items.rows]
        found.items = drafting.draft(zip((number for number, _ in items.rows), known, strict=True))
        found.faults += found.items.faults
    if stock is not None:
        _check_columns(stock, STOCK_COLUMNS, found)
        _read_stock(stock, found)
    return found


@transaction.atomic
def run(content: bytes, *, name: str, actor: Actor) -> Preview:
    """All of the file is in the catalogue and on the shelf, or nothing.

    Each row of opening stock is received once, however often the same table is imported: its movement carries
    the table's digest and the row. Opening stock of an item that has moved otherwise is refused. Twins wait
    for each other. Refuses with BadInput naming every row and column that is wrong.
    """
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_xact_lock(hashtext('inventory import'))")
    found = preview(content, name=name)
    if found.faults:
        raise BadInput(found.faults)
    if found.items.new or found.items.changes:
        catalogue.write(found.items, actor=actor)
    if found.stock:
        _receive(found, actor)
    return found


def _by_content(content: bytes, name: str) -> tuple[Table | None, Table | None]:
    try:
        sheets = tables.read(content, name=name)
    except Impossible as fault:
        raise BadInput([FieldError("/file", fault.sentence)]) from fault
    items = [sheet for sheet in sheets if "code" in sheet.columns]
    stock = [sheet for sheet in sheets if {"item", "quantity"} <= set(sheet.columns)]
    if len(items) > 1 or len(stock) > 1:
        raise BadInput([FieldError("/file", f"{name} has two sheets of the same sort; keep one.")])
    if not items and not stock:
        sentence = f"{name} needs a column code (items), or columns item and quantity (opening stock)."
        raise BadInput([FieldError("/file", sentence)])
    return next(iter(items), None), next(iter(stock), None)


def _check_columns(table: Table, known: Iterable[str], found: Preview) -> None:
    for column in table.columns:
        if column not in set(known):
            sentence = f"Row 1, {column} is not a column known here."
            found.faults.append(FieldError(f"/rows/1/{column}", sentence))


def _read_stock(table: Table, found: Preview) -> None:
    reason = f"opening stock {table.digest()[:16]} row "
    reasons = {number: f"{reason}{number}" for number, _ in table.rows}
    posted = set(Movement.objects.filter(reason__in=reasons.values()).values_list("reason", flat=True))
    open_rows = [(number, row) for number, row in table.rows if reasons[number] not in posted]
    found.already_received = len(table.rows) - len(open_rows)
    known = _items_to_open({row["item"] for _, row in open_rows}, found.items.new, reason)
    places = set(Place.objects.values_list("code", flat=True))
    for number, row in open_rows:
        faults, values = _stock_values(row, known, places)
        found.faults += [
            FieldError(f"/rows/{number}/{column}", f"Row {number}, {column} {sentence}.")
            for column, sentence in faults
        ]
        if not faults:
            found.stock.append((number, Receipt(**values, reason=reasons[number])))


def _items_to_open(codes: Collection[str], new: Collection[str], reason: str) -> dict[str, bool]:
    """Codes that stand for an item -> whether its stock has moved otherwise: opening it would double it."""
    former = dict(SupersededCode.objects.filter(code__in=codes).values_list("code", "item__code"))
    items = Item.objects.filter(code__in={*codes, *former.values()})
    others = Movement.objects.filter(item=OuterRef("pk")).exclude(reason__startswith=reason)
    moved = {
        code: bool(has) for code, has in items.annotate(moved=Exists(others)).values_list("code", "moved")
    }
    return dict.fromkeys(new, False) | moved | {old: moved[code] for old, code in former.items()}


def _stock_values(
    row: Row, known: Mapping[str, bool], places: set[str]
) -> tuple[list[tuple[str, str]], dict[str, Any]]:
    values: dict[str, Any] = {}
    faults: list[tuple[str, str]] = []
    for column, cell in row.items():
        try:
            if column in STOCK_COLUMNS:
                values[column] = _stock_value(column, cell, known, places)
        except ValueError as fault:
            faults.append((column, fault.sentence if isinstance(fault, Impossible) else str(fault)))
    return faults, values


def _stock_value(column: str, cell: str, known: Mapping[str, bool], places: set[str]) -> Any:
    if column == "item":
        return _unmoved(cell, known)
    if column == "quantity":
        return _quantity(cell)
    if not cell:
        return None
    if column == "place":
        return _one_known(cell, places)
    if column == "best_before":
        return _date(cell)
    return read_field("cost", cell) if column == "unit_cost" else read_field("code", cell)


def _unmoved(cell: str, known: Mapping[str, bool]) -> str:
    if known.get(cell):
        raise ValueError(f"{cell} has stock movements already; receive or adjust it instead")
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


def _receive(found: Preview, actor: Actor) -> None:
    try:
        receiving.receive([receipt for _, receipt in found.stock], actor=actor)
    except BadInput as refusal:
        raise BadInput([_with_row(fault, found.stock) for fault in refusal.errors]) from refusal


def _with_row(fault: FieldError, stock: list[tuple[int, Receipt]]) -> FieldError:
    _, _, place = fault.pointer.partition("/lines/")
    index, _, column = place.partition("/")
    if not index.isdigit():
        return fault
    number = stock[int(index)][0]
    return FieldError(f"/rows/{number}/{column}", f"Row {number}, {fault.detail}")


def _plain(value: Any) -> Any:
    if isinstance(value, tuple):
        return "; ".join(value)
    return value if isinstance(value, bool | int) or value is None else str(value)


def describe(found: Mapping[str, Any]) -> str:
    """A preview in one sentence."""
    counted = {
        "items added": len(found["added"]),
        "items changed": len({change["item"] for change in found["changed"]}),
        "items unchanged": found["unchanged"],
        "rows of stock received": found["received"],
        "rows of stock received before": found["already_received"],
    }
    return ", ".join(f"{number} {what}" for what, number in counted.items()) + "."
