"""The mixes of the house: the list, and one mix judged where it will lie."""

from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe
from django_htmx.http import replace_url

from shop.calc import mix_fields
from shop.models import House
from shop.selectors import house as house_selector
from shop.selectors import mixes
from shop.views import mix_sheet
from shop.views.door import actor_of, screen

BAD_INPUT = 422


@require_safe
@screen
def listing(request: HttpRequest) -> HttpResponse:
    """Every mix at the usual depth of its style."""
    context = {
        "here": "Mixes",
        "rows": [(row, _cost_of(row)) for row in mixes.listing()],
        "today": house_selector.today(House.current()),
    }
    return render(request, "shop/mixes.html", context)


@require_safe
@screen
def page(request: HttpRequest, code: str) -> HttpResponse:
    """One mix as the fields in the address ask for it; a field that says nothing sensible is told so."""
    texts = {name: request.GET.get(name, "")[:100] for name in (mix_fields.STYLE, *mix_fields.NUMBERS)}
    items = request.GET.getlist(mix_fields.WITH)
    study = mixes.study(code)
    asked, faults = mix_fields.read(
        texts,
        items,
        styles=[style.code for style in study.every_style],
        known=[one.item for one in study.usable],
    )
    shown = mixes.page(study, asked)
    context: dict[str, Any] = {
        "here": "Mixes",
        "chosen": items,
        "today": house_selector.today(House.current()),
        **mix_sheet.sheet(shown, asked, texts, faults, with_cost=actor_of(request).may("see_cost")),
    }
    if not getattr(request, "htmx", False):
        return render(request, "shop/mix.html", {**context, "study": study}, status=_status(faults))
    # A fragment is swapped in beside what is being typed, so a half-typed number is no failed request.
    answer = render(request, "shop/mix.html#judged", context)
    said = urlencode(mix_fields.address(texts, items))
    return replace_url(answer, f"{request.path}?{said}" if said else request.path)


def _status(faults: list[Any]) -> int:
    return BAD_INPUT if faults else 200


def _cost_of(row: mixes.MixRow) -> float | None:
    return None if row.cents_per_l is None else row.cents_per_l / mix_sheet.CENTS
