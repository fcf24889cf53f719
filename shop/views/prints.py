"""Prints of many at once: what the worker has drawn, and what is to be printed next."""

from functools import partial
from typing import Any

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST, require_safe

from shop.models import House
from shop.selectors import house as house_selector
from shop.selectors import prints
from shop.views import print_deeds
from shop.views.deeds import Answering, Forms, perform, refusal_of
from shop.views.door import screen
from shop.views.lists import page_of, search_of
from shop.views.print_deeds import AfterForm, PrintForm


@require_safe
@screen
def listing(request: HttpRequest) -> HttpResponse:
    """Prints, newest first, and the form for another one."""
    return _shown(request, None, 200)


@require_safe
@screen
def one(request: HttpRequest, pk: int) -> HttpResponse:
    """One row, which asks for itself again while its print is under way."""
    context = {"job": prints.find(pk), "alone": True, "turned": _turned(request)}
    return render(request, "shop/print_row.html", context)


@require_POST
@screen
def order(request: HttpRequest) -> HttpResponse:
    """Order a print."""
    form = PrintForm(request.POST, auto_id="order-%s")
    return perform(request, form, do=partial(print_deeds.order, form), answering=_answering(request))


@require_POST
@screen
def deed(request: HttpRequest, pk: int, deed: str) -> HttpResponse:
    """Cancel a print, let it go on, or print the rest of it."""
    if deed not in print_deeds.DEEDS:
        raise Http404
    form_class, do = print_deeds.DEEDS[deed]
    form = form_class(request.POST)
    return perform(request, form, do=partial(do, str(pk), form), answering=_answering(request, of=pk))


def _answering(request: HttpRequest, *, of: int | None = None) -> Answering:
    return Answering(show=partial(_shown, request, of=of), address=reverse("prints") + _turned(request))


def _turned(request: HttpRequest) -> str:
    """The page of the list that the reader has turned to, as every address of its rows carries it."""
    page = request.GET.get("page", "")
    return f"?page={page}" if page.isascii() and page.isdigit() and len(page) < 7 else ""


def _shown(request: HttpRequest, form: Forms | None, status: int, *, of: int | None = None) -> HttpResponse:
    """All of the page; a deed on the print `of` swaps the rows only, so that an order half typed stays."""
    is_order = isinstance(form, PrintForm)
    context = {
        "here": "Prints",
        "found": page_of(request, prints.listing()),
        "query": "",
        "turned": _turned(request),
        "today": house_selector.today(House.current()),
        "form": form if is_order else PrintForm(initial=_initial(request), auto_id="order-%s"),
        "refused": _refused(of, form),
        "refusal_notice": refusal_of(form),
    }
    fragment = ("#all" if of is None else "#rows") if getattr(request, "htmx", False) else ""
    return render(request, f"shop/prints.html{fragment}", context, status=status)


def _refused(pk: int | None, form: forms.Form | None) -> dict[str, Any]:
    """What was typed in the small form of a row and why it will not do; nothing when it was not that."""
    if not isinstance(form, AfterForm) or "after" not in form.errors:
        return {}
    why = " ".join(map(str, form.errors["after"]))
    return {"pk": pk, "after": form["after"].value() or "", "why": why}


def _initial(request: HttpRequest) -> dict[str, Any]:
    """What a list of quotes, orders or items found, ready to be printed; paper as it was the last time."""
    source, asked = request.GET.get("from", ""), search_of(request)
    document, targets = prints.found_in(source, search=asked, state=request.GET.get("state", ""))
    return {**prints.last_paper(), "document": document, "targets": "\n".join(targets)}
