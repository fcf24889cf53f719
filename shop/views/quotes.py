"""Quotes: the list, the page of one, and every deed that may be done on it."""

from functools import partial
from urllib.parse import urlencode

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from shop.models import House, Quote
from shop.selectors import house as house_selector
from shop.selectors import quote_pages
from shop.selectors import quotes as quote_selector
from shop.views import quote_deeds
from shop.views.deeds import Answering, Forms, perform, refusal_of
from shop.views.door import actor_of, screen
from shop.views.lists import page_of, search_of, state_of


@require_safe
@screen
def listing(request: HttpRequest) -> HttpResponse:
    """Quotes, newest first; the search answers as one types."""
    asked, state = search_of(request), state_of(request, Quote.State.values)
    found = page_of(request, quote_selector.listing(search=asked, state=state))
    house = House.current()
    context = {
        "here": "Quotes",
        "found": found,
        "q": asked,
        "state": state,
        "states": Quote.State.values,
        "today": house_selector.today(house),
        "query": urlencode({"q": asked, "state": state}),
    }
    template = "shop/quotes.html#rows" if getattr(request, "htmx", False) else "shop/quotes.html"
    return render(request, template, context)


@require_safe
@screen
def page(request: HttpRequest, number: str) -> HttpResponse:
    """One quote with all that may be done on it."""
    return _shown(request, number, None, 200)


@require_POST
@screen
def deed(request: HttpRequest, number: str, deed: str) -> HttpResponse:
    """Do one thing on a quote."""
    try:
        form_class, do = quote_deeds.DEEDS[deed]
    except KeyError:
        raise Http404 from None
    form = form_class(request.POST, prefix=None, auto_id=f"{deed}-%s")
    answering = Answering(
        show=partial(_shown, request, number, deed=deed), address=reverse("quote", kwargs={"number": number})
    )
    return perform(request, form, do=partial(do, number, form), answering=answering)


def _shown(
    request: HttpRequest, number: str, form: Forms | None, status: int, *, deed: str = ""
) -> HttpResponse:
    compare = request.GET.get("compare", "")
    house = House.current()
    found = quote_pages.read(number, house=house, compare=int(compare) if compare.isdecimal() else None)
    context = {
        "here": "Quotes",
        "page": found,
        "refusal_notice": refusal_of(form),
        "forms": quote_deeds.forms_of(found, house=house, actor=actor_of(request), bound=(deed, form)),
    }
    is_fragment = bool(getattr(request, "htmx", False))
    return render(
        request, "shop/quote.html#all" if is_fragment else "shop/quote.html", context, status=status
    )
