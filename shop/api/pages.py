"""Lists, fifty rows at a time."""

from collections.abc import Callable, Collection
from typing import Any

from django.db.models import QuerySet
from rest_framework.pagination import PageNumberPagination
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.errors import BadInput, FieldError

LONGEST_SEARCH = 200


class Pages(PageNumberPagination):
    """Fifty rows a page, at most two hundred."""

    page_size = 50
    page_size_query_param = "page_size"
    max_page_size = 200


def page(request: Request, rows: QuerySet[Any], shown: Callable[[Any], dict[str, Any]]) -> Response:
    """One page of a list as `{count, next, previous, results}`."""
    pages = Pages()
    found = pages.paginate_queryset(rows, request) or []
    return pages.get_paginated_response([shown(row) for row in found])


def search_of(request: Request) -> str:
    """What is searched for; NUL, which no database text can hold, is left out."""
    return request.query_params.get("search", "").replace("\x00", "").strip()[:LONGEST_SEARCH]


def state_of(request: Request, states: Collection[str]) -> str:
    """The state asked for, empty for all; refuses a word that is no state."""
    state = request.query_params.get("state", "")
    if state and state not in states:
        raise BadInput([FieldError("/state", f"state must be one of {', '.join(states)}.")])
    return state
