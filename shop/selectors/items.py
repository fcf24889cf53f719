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
FACTS = (
    *("content_quantity", "content_unit", "length_mm", "width_mm", "height_mm", "mass_g", "lead_time_days"),
    *("fragile", "liquid", "electrical", "keep_min_c", "keep_max_c", "maximum_watts", "tracks_lots"),
    "preference",
)


def found(search: str, *, with_cost: bool) -> list[dict[str, Any]]:
    """The best matches for a text, code or barcode, best first; without a text, the first by code."""
    if search:
        matches: Iterable[Item] = item_selector.find(search, limit=MOST_FOUND)
        codes = [item.code for item in matches]
    else:
        codes = list(Item.objects.order_by("code").values_list("code", flat=True)[:MOST_FOUND])
    rows = {item.code: item for item in _whole(code__in=codes)}
    levels = stock.levels_by_code(codes)
    return [_shown(rows[code], levels[code], with_cost=with_cost) for code in codes]


def detail(code: str, *, with_cost: bool) -> dict[str, Any]:
    """One item, by its code or a former one, with its lots, first expired first; raises Unknown."""
    item = _whole(code__in=[code]).first() or _whole(superseded_codes__code=code).first()
    if item is None:
        raise Unknown("item", code)
    code = item.code
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
    return {**_shown(item, levels, with_cost=with_cost), **_facts(item), "lots": lots}


def _whole(**wanted: Any) -> QuerySet[Item]:
    rows = Item.objects.filter(**wanted)
    return rows.select_related("tax_class", "place", "supplier", "mix").prefetch_related("barcodes")


def _facts(item: Item) -> dict[str, Any]:
    """What else is known of it: pack, size, supply and care."""
    return {
        **{name: getattr(item, name) for name in FACTS},
        "watts": None if item.watts is None else float(item.watts),
        "supplier": None if item.supplier is None else item.supplier.code,
        "mix": None if item.mix is None else item.mix.code,
        "superseded_codes": sorted(old.code for old in item.superseded_codes.all()),
    }


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
