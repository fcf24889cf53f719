"""One box that finds everything: quotes and orders by number, items by code, barcode or name."""

from dataclasses import dataclass
from typing import Any

from inventory.models import Item
from inventory.selectors import items as item_selector
from kits.selectors import fact_sheets
from shop.models import Order, Quote

MOST_NUMBERS = 8
MOST_ITEMS = 20
MOST_FACTS = 8


@dataclass(frozen=True, slots=True)
class Found:
    """What answers to a text, best first; `exact` is the one thing that it can only mean."""

    quotes: list[Quote]
    orders: list[Order]
    items: list[Item]
    facts: list[dict[str, Any]]
    exact: Quote | Order | Item | None


def anything(text: str) -> Found:
    """Whatever answers to the text; at most twelve queries, whatever the size of the shop."""
    asked = text.strip()
    if not asked:
        return Found([], [], [], [], None)
    quotes = list(
        Quote.objects.select_related("customer")
        .filter(number__istartswith=asked)
        .order_by("-id")[:MOST_NUMBERS]
    )
    orders = list(
        Order.objects.select_related("quote__customer")
        .filter(number__istartswith=asked)
        .order_by("-id")[:MOST_NUMBERS]
    )
    items = item_selector.find(asked, limit=MOST_ITEMS)
    numbered: dict[str, Quote | Order] = {found.number: found for found in orders}
    numbered |= {found.number: found for found in quotes}
    exact = numbered.get(asked.upper()) or _only_item(asked, quotes, orders, items)
    return Found(quotes, orders, items, fact_sheets.found(asked, limit=MOST_FACTS), exact)


def _only_item(asked: str, quotes: list[Quote], orders: list[Order], items: list[Item]) -> Item | None:
    """The item that a code or barcode names, or the one thing found at all."""
    if not items:
        return None
    first = items[0]
    if first.code.upper() == asked.upper() or first.barcodes.filter(text=asked).exists():
        return first
    return first if len(items) == 1 and not quotes and not orders else None
