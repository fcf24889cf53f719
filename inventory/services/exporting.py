"""The catalogue and the stock on hand as files that the import reads back."""

from collections.abc import Iterator
from typing import Any

from inventory.actors import Actor
from inventory.calc import tables
from inventory.models import Item, LotBalance
from inventory.services.importing import STOCK_COLUMNS
from inventory.services.item_fields import FIELDS, LINKS, LISTS, shown

BATCH = 1000


def items_csv(*, actor: Actor) -> bytes:
    """Every item, in the order of codes; costs only for those who may see them."""
    return tables.as_csv(_item_columns(actor), _items())


def stock_csv(*, actor: Actor) -> bytes:
    """What lies on hand, by item, lot and place."""
    return tables.as_csv(_stock_columns(actor), _stock())


def workbook(*, actor: Actor) -> bytes:
    """Items and stock as the two sheets of an XLSX file."""
    return tables.as_xlsx(
        {"items": (_item_columns(actor), _items()), "stock": (_stock_columns(actor), _stock())}
    )


def _item_columns(actor: Actor) -> list[str]:
    return [name for name in FIELDS if name != "cost" or actor.may("see_cost")]


def _stock_columns(actor: Actor) -> list[str]:
    return [name for name in STOCK_COLUMNS if name != "unit_cost" or actor.may("see_cost")]


def _items() -> Iterator[dict[str, Any]]:
    rows = Item.objects.order_by("code").select_related(*LINKS).prefetch_related(*LISTS)
    for item in rows.iterator(chunk_size=BATCH):
        values = shown(item)
        yield values | {name: "; ".join(values[name]) for name in LISTS}


def _stock() -> Iterator[dict[str, Any]]:
    rows = LotBalance.objects.filter(on_hand__gt=0).select_related("item", "lot", "place")
    for balance in rows.order_by("item__code", "lot__code", "place__code").iterator(chunk_size=BATCH):
        lot = balance.lot
        yield {
            "item": balance.item.code,
            "quantity": balance.on_hand,
            "lot": None if lot.standing else lot.code,
            "best_before": lot.best_before,
            "unit_cost": lot.unit_cost,
            "place": balance.place.code,
        }
