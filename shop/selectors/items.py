"""Items as the counter reads them: facts, price and stock in one shape."""

from collections.abc import Iterable
from typing import Any

from django.db.models import QuerySet

from inventory.errors import Unknown
from inventory.models import Item
from inventory.selectors import items as item_selector
from inventory.selectors import stock
from inventory.selectors.stock import Levels

MOST_FOUND = 50


def found(search: str, *, with_cost: bool) -> list[dict[str, Any]]:
    """The best matches for a text, code or barcode, best first; without a text, the first by code."""
    if search:
        matches: Iterable[Item] = item_selector.find(search, limit=MOST_FOUND)
        codes = [item.code for item in matches]
    else:
        codes = list(Item.objects.order_by("code").values_list("code", flat=True)[:MOST_FOUND])
    rows = {item.code: item for item in _whole(codes)}
    levels = stock.levels_by_code(codes)
    return [_shown(rows[code], levels[code], with_cost=with_cost) for code in codes]


def detail(code: str, *, with_cost: bool) -> dict[str, Any]:
    """One item with its lots, first expired first; raises Unknown."""
    item = _whole([code]).first()
    if item is None:
        raise Unknown("item", code)
    lots = [
        {
            "lot": row.lot.code,
            "place": row.place.code,
            "state": row.lot.state,
            "best_before": None if row.lot.best_before is None else row.lot.best_before.isoformat(),
            "on_hand": row.on_hand,
        }
        for row in stock.balances(code)
    ]
    levels = stock.levels_by_code([code])[code]
    return {**_shown(item, levels, with_cost=with_cost), "lots": lots}


def _whole(codes: Iterable[str]) -> QuerySet[Item]:
    rows = Item.objects.filter(code__in=list(codes)).select_related("tax_class", "place")
    return rows.prefetch_related("barcodes")


def _shown(item: Item, levels: Levels, *, with_cost: bool) -> dict[str, Any]:
    return {
        "item": item.code,
        "name": item.name,
        "kind": item.kind,
        "base_unit": item.base_unit,
        "unit": item.unit_name,
        "price": str(item.price),
        **({"cost": str(item.cost)} if with_cost else {}),
        "tax_rate_pct": str(item.tax_class.rate),
        "family": item.family,
        "place": None if item.place is None else item.place.code,
        "live": item.live,
        "active": item.active,
        "barcodes": [barcode.text for barcode in item.barcodes.all()],
        "on_hand": levels.on_hand,
        "sellable": levels.sellable,
        "held": levels.held,
        "free": levels.free,
    }
