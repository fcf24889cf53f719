"""Orders: the list, the page of one, and every deed that may be done on it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from shop.models import Order
from shop.selectors import order_pages
from shop.selectors import orders as order_selector
from shop.services import orders
from shop.views import order_deeds
from shop.views.deeds import Forms, answered, on_edition, refusal_of
from shop.views.door import screen
from shop.views.lists import listed


@require_safe
@screen
def listing(request: HttpRequest) -> HttpResponse:
    """Orders, newest first; the search answers as one types."""
    rows, states = order_selector.listing, Order.State.values
    return listed(request, here="Orders", rows=rows, states=states, page="shop/orders.html")


@require_safe
@screen
def page(request: HttpRequest, number: str) -> HttpResponse:
    """One order with all that may be done on it."""
    return _shown(request, number, None, 200)


@require_POST
@screen
def deed(request: HttpRequest, number: str, deed: str) -> HttpResponse:
    """Do one thing on an order, as it stood on the page where it was asked for."""
    edition = request.POST.get("edition", "")
    among = on_edition(order_deeds.DEEDS, edition, must_be=orders.must_be)
    return answered(request, number, deed, among=among, show=_shown, page="order")


def _shown(
    request: HttpRequest, number: str, form: Forms | None, status: int, *, deed: str = ""
) -> HttpResponse:
    found = order_pages.read(number)
    context = {
        "here": "Orders",
        "page": found,
        "refusal_notice": refusal_of(form),
        "forms": order_deeds.forms_of(bound=(deed, form)),
        "takes": order_deeds.typed_takes(found.takes, request, deed=deed, refused=form is not None),
        "returns": order_deeds.typed_returns(found.gone, request, deed=deed, refused=form is not None),
    }
    template = "shop/order.html#all" if getattr(request, "htmx", False) else "shop/order.html"
    return render(request, template, context, status=status)
