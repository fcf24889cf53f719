"""The catalogue and the opening stock come in from a CSV or XLSX file: looked at first, then all or nothing.

A table with a column `code` holds items, one with `item` and `quantity` holds opening stock; a workbook may
have both. Columns that are absent leave their fields alone; an empty cell empties its field. Places,
suppliers, mixes and, where their rate is given, tax classes that rows name are made along with them.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from itertools import chain
from typing import Any

from django.db import connection, transaction

from inventory.actors import Actor
from inventory.calc import tables
from inventory.calc.errors import Impossible
from inventory.calc.tables import Table
from inventory.errors import BadInput, FieldError
from inventory.services import catalogue, drafting, linking, opening_stock
from inventory.services.drafting import Change, Draft
from inventory.services.extra_columns import NO_EXTRA, ExtraColumns, ExtraDraft, ExtraRow, NothingToDo
from inventory.services.item_fields import FIELDS
from inventory.services.linking import RATE_COLUMN, Missing
from inventory.services.opening_stock import STOCK_COLUMNS, Opening


@dataclass(slots=True)
class Preview:
    """What a file would do: items to add and change, stock to receive, every fault with its row."""

    items: Draft = field(default_factory=Draft)
    also: Missing = field(default_factory=Missing)
    extra: ExtraDraft = field(default_factory=NothingToDo)
    stock: Opening = field(default_factory=Opening)
    bad_columns: list[FieldError] = field(default_factory=list)
    bad_stock_columns: list[FieldError] = field(default_factory=list)
    sheets: tuple[str, str] = ("", "")  # What a workbook that holds both calls them.

    @property
    def faults(self) -> list[FieldError]:
        """Everything that is wrong with the file, each once, from the first row down; items before stock."""
        items = chain(self.bad_columns, self.items.faults, self.also.faults, self.extra.faults)
        stock = chain(self.bad_stock_columns, self.stock.faults)
        return [*_in_order(items, self.sheets[0]), *_in_order(stock, self.sheets[1])]

    @property
    def changes(self) -> list[Change]:
        """Everything of items known before that would read otherwise."""
        return [*self.items.changes, *(c for c in self.extra.changes if c.code not in self.items.new)]

    def as_json(self) -> dict[str, Any]:
        """Counts, changes and faults for a screen or a program."""
        changed, in_fields = ({c.code for c in some} for some in (self.changes, self.items.changes))
        return {
            "added": list(self.items.new),
            "changed": [
                {"item": c.code, "field": c.field, "old": _plain(c.old), "new": _plain(c.new)}
                for c in self.changes
            ],
            "unchanged": self.items.unchanged - len(changed - in_fields),
            "also_made": self.also.as_json(),
            "received": len(self.stock.receipts),
            "already_received": self.stock.already_received,
            "errors": [{"pointer": fault.pointer, "detail": fault.detail} for fault in self.faults],
        }


def preview(content: bytes, *, name: str, extra: ExtraColumns = NO_EXTRA) -> Preview:
    """What the file would do, with nothing written. Refuses with BadInput a file that is no table at all."""
    found = Preview()
    items, stock = _by_content(content, name)
    places = [row.get("place", "") for _, row in stock.rows] if stock else []
    if items is not None and stock is not None:
        found.sheets = (items.name, stock.name)
    found.also = linking.missing(items.rows if items else (), places=places)
    if items is not None:
        _read_items(items, extra, found)
    if stock is not None:
        found.bad_stock_columns += _unknown_columns(
            column for column in stock.columns if column not in STOCK_COLUMNS
        )
        found.stock = opening_stock.read(
            stock, new_items=found.items.new, new_places=found.also.codes["place"]
        )
    return found


@transaction.atomic
def run(content: bytes, *, name: str, actor: Actor, extra: ExtraColumns = NO_EXTRA) -> Preview:
    """All of the file is in the catalogue and on the shelf, or nothing.

    Each row of opening stock is received once, however often the same table is imported: its movement carries
    the table's digest and the row. Opening stock of an item that has moved otherwise is refused. Twins wait
    for each other. Refuses with BadInput naming every row and column that is wrong.
    """
    with connection.cursor() as cursor:
        cursor.execute("SELECT pg_advisory_xact_lock(hashtext('inventory import'))")
    found = preview(content, name=name, extra=extra)
    if found.faults:
        raise BadInput(found.faults)
    linking.make(found.also, actor=actor)
    if found.items.new or found.items.changes:
        catalogue.write(found.items, actor=actor)
    found.extra.write(actor=actor)
    opening_stock.receive(found.stock, actor=actor)
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


def _read_items(table: Table, extra: ExtraColumns, found: Preview) -> None:
    theirs = [column for column in table.columns if column not in FIELDS and extra.knows(column)]
    known = {*FIELDS, *theirs, RATE_COLUMN}
    found.bad_columns += _unknown_columns(column for column in table.columns if column not in known)
    rows = [(number, {c: cell for c, cell in row.items() if c in FIELDS}) for number, row in table.rows]
    found.items = drafting.draft(rows, also=found.also.by_link())
    if theirs:
        found.extra = extra.draft(
            [ExtraRow(number, row["code"], {c: row[c] for c in theirs}) for number, row in table.rows]
        )


def _unknown_columns(columns: Iterable[str]) -> list[FieldError]:
    return [
        FieldError(f"/rows/1/{column}", f"Row 1, {column} is not a column known here.") for column in columns
    ]


def _in_order(faults: Iterable[FieldError], sheet: str) -> list[FieldError]:
    """Each fault once, from the first row down, and its sheet where there is more than one."""
    ordered = sorted(dict.fromkeys(faults), key=lambda fault: _row_of(fault.pointer))
    if not sheet:
        return ordered
    return [FieldError(f"/{sheet}{fault.pointer}", f"Sheet {sheet}: {fault.detail}") for fault in ordered]


def _row_of(pointer: str) -> int:
    number = pointer.removeprefix("/rows/").partition("/")[0]
    return int(number) if number.isdigit() else 0


def _plain(value: Any) -> Any:
    if isinstance(value, list | tuple):
        return "; ".join(map(str, value))
    return value if isinstance(value, bool | int) or value is None else str(value)


def describe(found: Mapping[str, Any], *, only_looked: bool = False) -> str:
    """What a file did, or would do, in a sentence; what is made besides in another."""
    counted = {
        "items added": len(found["added"]),
        "items changed": len({change["item"] for change in found["changed"]}),
        "items unchanged": found["unchanged"],
        "rows of stock received": found["received"],
        "rows of stock received before": found["already_received"],
    }
    counts = ", ".join(f"{number} {what}" for what, number in counted.items())
    if not found["also_made"]:
        return f"{counts}."
    made = "Would also be made" if only_looked else "Also made"
    return f"{counts}.\n{made}: {linking.describe(found['also_made'])}."
