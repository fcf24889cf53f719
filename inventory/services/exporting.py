"""The catalogue and the stock on hand as files that the import reads back."""

from collections.abc import Iterator
from typing import Any

from inventory.actors import Actor
from inventory.calc import tables
from inventory.models import Item, Lot, LotBalance, LotChange, LotState
from inventory.services.extra_columns import NO_EXTRA, Columns, ExtraColumns
from inventory.services.item_fields import FIELDS, LINKS, LISTS, shown
from inventory.services.linking import RATE_COLUMN
from inventory.services.opening_stock import STOCK_COLUMNS

BATCH = 1000


def items_csv(*, actor: Actor, extra: ExtraColumns = NO_EXTRA) -> bytes:
    """Every item, in the order of codes; costs only for those who may see them."""
    theirs = extra.table()
    return tables.as_csv(_item_columns(actor, theirs), _items(theirs))


def stock_csv(*, actor: Actor) -> bytes:
    """What lies on hand, by item, lot and place; what is held or promised is no part of it."""
    return tables.as_csv(_stock_columns(actor), _stock())


def workbook(*, actor: Actor, extra: ExtraColumns = NO_EXTRA) -> bytes:
    """Items and stock as the two sheets of an XLSX file."""
    theirs = extra.table()
    return tables.as_xlsx(
        {
            "items": (_item_columns(actor, theirs), _items(theirs)),
            "stock": (_stock_columns(actor), _stock()),
        }
    )


def _item_columns(actor: Actor, theirs: Columns) -> list[str]:
    columns = [name for name in FIELDS if name != "cost" or actor.may("see_cost")]
    columns.insert(columns.index("tax_class") + 1, RATE_COLUMN)
    return [*columns, *theirs[0]]


def _stock_columns(actor: Actor) -> list[str]:
    return [name for name in STOCK_COLUMNS if name != "unit_cost" or actor.may("see_cost")]


def _items(theirs: Columns) -> Iterator[dict[str, Any]]:
    rows = Item.objects.order_by("code").select_related(*LINKS).prefetch_related(*LISTS)
    for item in rows.iterator(chunk_size=BATCH):
        values = shown(item)
        lists = {name: "; ".join(values[name]) for name in LISTS}
        yield values | lists | {RATE_COLUMN: item.tax_class.rate} | dict(theirs[1].get(item.code, {}))


def _stock() -> Iterator[dict[str, Any]]:
    rows = LotBalance.objects.filter(on_hand__gt=0).select_related("item", "lot", "place")
    whys = _whys_of_quarantine()
    for balance in rows.order_by("item__code", "lot__code", "place__code").iterator(chunk_size=BATCH):
        lot = balance.lot
        yield {
            "item": balance.item.code,
            "quantity": balance.on_hand,
            "lot": None if lot.standing else lot.code,
            "best_before": lot.best_before,
            "unit_cost": lot.unit_cost,
            "place": balance.place.code,
            "quarantined_because": whys.get(lot.pk),
        }


def _whys_of_quarantine() -> dict[int, str]:
    """Lot id -> the reason it is in quarantine for, so that nothing suspicious is sold elsewhere."""
    lots = Lot.objects.filter(state=LotState.QUARANTINED)
    whys = dict.fromkeys(lots.values_list("pk", flat=True), "in quarantine")
    told = LotChange.objects.filter(lot__in=lots, new_state=LotState.QUARANTINED).exclude(why="")
    return whys | dict(told.order_by("pk").values_list("lot_id", "why"))
