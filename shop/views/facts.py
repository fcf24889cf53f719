"""What is known of animals, plants, crews, enclosures, styles and media, with mark and source."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_safe

from kits.selectors import fact_sheets
from shop.views.door import screen
from shop.views.lists import search_of

HERE = "Workings"
KINDS = {
    "animal": gettext_lazy("animals"),
    "plant": gettext_lazy("plants"),
    "cleanup": gettext_lazy("clean-up crews"),
    "enclosure": gettext_lazy("enclosures"),
    "style": gettext_lazy("styles"),
    "medium": gettext_lazy("growing media"),
    "mix": gettext_lazy("mixes"),
}


@require_safe
@screen
def listing(request: HttpRequest, kind: str = "animal") -> HttpResponse:
    """The subjects of one kind, or those that answer to a search as one types."""
    asked = search_of(request)
    subjects = [_called(subject) for subject in fact_sheets.listed(kind, search=asked)]
    context = {
        "here": HERE,
        "kind": kind,
        "kinds": KINDS.items(),
        "kind_words": KINDS[kind],
        "q": asked,
        "subjects": sorted(subjects, key=lambda subject: subject["called"].casefold()),
        "has_latin": any(subject["latin"] for subject in subjects),
    }
    fragment = getattr(request, "htmx", False)
    return render(request, "shop/facts.html#rows" if fragment else "shop/facts.html", context)


@require_safe
@screen
def one(request: HttpRequest, kind: str, code: str) -> HttpResponse:
    """One subject: every figure with its unit, its mark and where it was read."""
    sheet = fact_sheets.sheet(kind, code)
    context: dict[str, Any] = {
        "here": HERE,
        "sheet": sheet,
        "marks": fact_sheets.MARKS.values(),
        "kind_words": KINDS[kind],
        **_called({"name": sheet.name, "english_name": sheet.english_name}),
    }
    return render(request, "shop/fact.html", context)


def _called(subject: dict[str, Any]) -> dict[str, Any]:
    """A subject by the name that people call it, with its Latin name where it has both."""
    english, name = subject["english_name"], subject["name"]
    return {**subject, "called": english or name, "latin": name if english and english != name else ""}
