"""What all lists do: search, filter by state, turn pages."""

from collections.abc import Callable, Collection, Iterable
from typing import Any
from urllib.parse import urlencode

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from shop.models import House
from shop.selectors import house as house_selector

LONGEST_SEARCH = 200
ROWS = 40


def listed(
    request: HttpRequest,
    *,
    here: str,
    rows: Callable[..., QuerySet[Any]],
    states: Collection[str],
    page: str,
    told: Callable[..., Iterable[Any]] | None = None,
) -> HttpResponse:
    """A list that is searched and filtered by state; the search answers as one types, with its rows alone.

    `told` adds to the rows of a page what they show beside themselves.
    """
    asked, state = search_of(request), state_of(request, states)
    found, house = page_of(request, rows(search=asked, state=state)), House.current()
    context = {
        "here": here,
        "found": found,
        "rows": found if told is None else told(found, house=house),
        "q": asked,
        "state": state,
        "states": states,
        "today": house_selector.today(house),
        "query": urlencode({"q": asked, "state": state}),
    }
    return render(request, f"{page}#rows" if getattr(request, "htmx", False) else page, context)


def search_of(request: HttpRequest) -> str:
    """What is searched for; NUL, which no database text can hold, is left out."""
    return request.GET.get("q", "").replace("\x00", "").strip()[:LONGEST_SEARCH]


def state_of(request: HttpRequest, states: Collection[str]) -> str:
    """The state asked for, empty for all and for a word that is no state."""
    state = request.GET.get("state", "")
    return state if state in states else ""


def page_of(request: HttpRequest, rows: QuerySet[Any], *, size: int = ROWS, name: str = "page") -> Page[Any]:
    """The page asked for, the nearest one where that is not there."""
    return Paginator(rows, size).get_page(request.GET.get(name))
