"""Scan, or find anything."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.views.decorators.http import require_safe

from inventory.models import Item
from shop.models import Order, Quote
from shop.selectors import finding
from shop.views.door import screen
from shop.views.lists import search_of


@require_safe
@screen
def find(request: HttpRequest) -> HttpResponse:
    """Open the one thing that the text can only mean, else list what it may mean."""
    asked = search_of(request)
    found = finding.anything(asked)
    if found.exact is not None:
        return redirect(address_of(found.exact))
    return render(request, "shop/find.html", {"asked": asked, "found": found})


def address_of(found: Quote | Order | Item) -> str:
    """The page of a thing that was found."""
    if isinstance(found, Item):
        return reverse("item", kwargs={"code": found.code})
    name = "quote" if isinstance(found, Quote) else "order"
    return reverse(name, kwargs={"number": found.number})
