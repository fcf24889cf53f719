"""What all lists do: search, filter by state, turn pages."""

from collections.abc import Collection
from typing import Any

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet
from django.http import HttpRequest

LONGEST_SEARCH = 200
ROWS = 40


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
