"""Quotes: the list, the page of one, and every deed that may be done on it."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from shop.models import House, Quote
from shop.selectors import pricing, quote_pages
from shop.selectors import quotes as quote_selector
from shop.services import quotes
from shop.views import quote_deeds
from shop.views.deeds import Forms, answered, on_edition, refusal_of
from shop.views.door import actor_of, screen
from shop.views.lists import listed


@require_safe
@screen
def listing(request: HttpRequest) -> HttpResponse:
    """Quotes, newest first; the search answers as one types."""
    rows, states = quote_selector.listing, Quote.State.values
    return listed(
        request,
        here="Quotes",
        rows=rows,
        states=states,
        page="shop/quotes.html",
        told=pricing.with_totals,
    )


@require_safe
@screen
def page(request: HttpRequest, number: str) -> HttpResponse:
    """One quote with all that may be done on it."""
    return _shown(request, number, None, 200)


@require_POST
@screen
def deed(request: HttpRequest, number: str, deed: str) -> HttpResponse:
    """Do one thing on a quote, as it stood on the page where it was asked for."""
    edition = request.POST.get("edition", "")
    among = on_edition(quote_deeds.DEEDS, edition, must_be=quotes.must_be)
    return answered(request, number, deed, among=among, show=_shown, page="quote")


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
