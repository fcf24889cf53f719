"""One item: where it lies, who it is promised to, what happened to it, and what may be done."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from kits.selectors import fact_sheets
from shop.selectors import item_pages
from shop.views import item_deeds
from shop.views.deeds import Forms, answered, refusal_of
from shop.views.door import screen
from shop.views.lists import page_of

MOVEMENTS = 15


@require_safe
@screen
def page(request: HttpRequest, code: str) -> HttpResponse:
    """One item with all that may be done at its shelf."""
    return _shown(request, code, None, 200)


@require_POST
@screen
def deed(request: HttpRequest, code: str, deed: str) -> HttpResponse:
    """Do one thing at the shelf of an item."""
    return answered(request, code, deed, among=item_deeds.DEEDS, show=_shown, page="item")


def _shown(
    request: HttpRequest, code: str, form: Forms | None, status: int, *, deed: str = ""
) -> HttpResponse:
    found = item_pages.read(code)
    moves = page_of(request, item_pages.movements(code), size=MOVEMENTS, name="page")
    context = {
        "here": "Shelf",
        "page": found,
        "facts": fact_sheets.of_item(found.item.code),
        "refusal_notice": refusal_of(form),
        "found": moves,
        "query": "",
        "last": item_pages.last_adjustment(code),
        "forms": item_deeds.forms_of(found, bound=(deed, form)),
    }
    is_fragment = getattr(request, "htmx", False)
    part = "#moves" if is_fragment and request.method == "GET" else "#all" if is_fragment else ""
    return render(request, f"shop/item.html{part}", context, status=status)
