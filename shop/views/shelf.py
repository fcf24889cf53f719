"""The shelf: every item with what is free of it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from inventory.models import Item
from inventory.selectors import items as item_selector
from inventory.selectors import stock
from shop.models import House
from shop.selectors import house as house_selector
from shop.views.door import screen
from shop.views.lists import page_of, search_of

MOST_FOUND = 60


@require_safe
@screen
def listing(request: HttpRequest) -> HttpResponse:
    """Items by code, or what answers to a search as one types."""
    asked = search_of(request)
    found = None if asked else page_of(request, Item.objects.select_related("place").order_by("code"))
    rows = item_selector.find(asked, limit=MOST_FOUND) if found is None else list(found)
    levels = stock.levels_by_code([item.code for item in rows])
    context = {
        "here": "Shelf",
        "found": found,
        "q": asked,
        "rows": [(item, levels[item.code], _status(levels[item.code])) for item in rows],
        "today": house_selector.today(House.current()),
        "query": "",
    }
    template = "shop/shelf.html#rows" if getattr(request, "htmx", False) else "shop/shelf.html"
    return render(request, template, context)


def _status(levels: stock.Levels) -> str:
    return "free" if levels.free > 0 else "none"
