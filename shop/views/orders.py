"""Orders: the list, the page of one, and every deed that may be done on it."""

from functools import partial
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from shop.models import House, Order
from shop.selectors import house as house_selector
from shop.selectors import order_pages
from shop.selectors import orders as order_selector
from shop.views import order_deeds
from shop.views.deeds import Answering, Forms, perform, refusal_of
from shop.views.door import screen
from shop.views.lists import page_of, search_of, state_of


@require_safe
@screen
def listing(request: HttpRequest) -> HttpResponse:
    """Orders, newest first; the search answers as one types."""
    asked, state = search_of(request), state_of(request, Order.State.values)
    context = {
        "here": "Orders",
        "found": page_of(request, order_selector.listing(search=asked, state=state)),
        "q": asked,
        "state": state,
        "states": Order.State.values,
        "today": house_selector.today(House.current()),
        "query": urlencode({"q": asked, "state": state}),
    }
    template = "shop/orders.html#rows" if getattr(request, "htmx", False) else "shop/orders.html"
    return render(request, template, context)


@require_safe
@screen
def page(request: HttpRequest, number: str) -> HttpResponse:
    """One order with all that may be done on it."""
    return _shown(request, number, None, 200)


@require_POST
@screen
def deed(request: HttpRequest, number: str, deed: str) -> HttpResponse:
    """Do one thing on an order."""
    try:
        form_class, do = order_deeds.DEEDS[deed]
    except KeyError:
        raise Http404 from None
    form = form_class(request.POST, auto_id=f"{deed}-%s")
    answering = Answering(
        show=partial(_shown, request, number, deed=deed), address=reverse("order", kwargs={"number": number})
    )
    return perform(request, form, do=partial(do, number, form), answering=answering)


def _shown(
    request: HttpRequest, number: str, form: Forms | None, status: int, *, deed: str = ""
) -> HttpResponse:
    found = order_pages.read(number)
    context = {
        "here": "Orders",
        "page": found,
        "refusal_notice": refusal_of(form),
        "forms": order_deeds.forms_of(bound=(deed, form)),
        "takes": order_deeds.typed_takes(found.takes, request, refused=form is not None),
    }
    template = "shop/order.html#all" if getattr(request, "htmx", False) else "shop/order.html"
    return render(request, template, context, status=status)
