"""What is known of animals, plants, crews, enclosures, styles and media, with mark and source."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from kits.selectors import fact_sheets
from shop.views.door import screen
from shop.views.lists import search_of

HERE = "Workings"


@require_safe
@screen
def listing(request: HttpRequest, kind: str = "animal") -> HttpResponse:
    """The subjects of one kind, or those that answer to a search as one types."""
    asked = search_of(request)
    context = {
        "here": HERE,
        "kind": kind,
        "kinds": fact_sheets.KINDS,
        "q": asked,
        "subjects": fact_sheets.listed(kind, search=asked),
    }
    fragment = getattr(request, "htmx", False)
    return render(request, "shop/facts.html#rows" if fragment else "shop/facts.html", context)


@require_safe
@screen
def one(request: HttpRequest, kind: str, code: str) -> HttpResponse:
    """One subject: every figure with its unit, its mark and where it was read."""
    sheet = fact_sheets.sheet(kind, code)
    context: dict[str, Any] = {"here": HERE, "sheet": sheet, "marks": fact_sheets.MARKS.values()}
    return render(request, "shop/fact.html", context)
