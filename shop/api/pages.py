"""Lists, fifty rows at a time."""

from collections.abc import Callable
from typing import Any

from django.db.models import QuerySet
from rest_framework.pagination import PageNumberPagination
from rest_framework.request import Request
from rest_framework.response import Response


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
