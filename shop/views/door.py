"""The door of every screen: who comes in, and what is told when a deed is refused."""

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _

from inventory.actors import Actor
from inventory.errors import NotAllowed, Refusal
from shop.permissions import actor_for
from shop.refusals import status_of

View = Callable[..., HttpResponseBase]
# Whoever goes back in the browser must not meet a state that is over, nor what the person before them saw.
NOT_KEPT = "private, no-store"


def screen(view: View) -> View:
    """Let staff in; answer a refusal that the view does not answer itself, for fragments and whole pages.

    Whoever is not signed in is asked to, and a deed in the middle is kept. The view finds the Actor as
    `request.actor`.
    """

    @wraps(view)
    def opened(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        answer = let_in(request, *args, **kwargs)
        answer.headers.setdefault("Cache-Control", NOT_KEPT)
        return answer

    def let_in(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not request.user.is_authenticated:
            from shop.views import sign_in

            return sign_in.ask(request)
        if getattr(request.user, "must_change_password", False):
            return redirect("password")
        try:
            request.actor = _reader(request)  # type: ignore[attr-defined]
            return view(request, *args, **kwargs)
        except Refusal as refusal:
            return refused(request, refusal)

    return opened


def actor_of(request: HttpRequest) -> Actor:
    """The person at work, as the services know them."""
    actor: Actor = request.actor  # type: ignore[attr-defined]
    return actor


def refused(request: HttpRequest, refusal: Refusal) -> HttpResponse:
    """The one translation of a refusal: a notice beside what stands, or a page that says it."""
    status = status_of(refusal)
    if getattr(request, "htmx", False):
        return _noticed(request, refusal.sentence, status=status)
    return render(request, "shop/refused.html", {"refusal": refusal.sentence}, status=status)


def _noticed(request: HttpRequest, sentence: str, *, status: int) -> HttpResponse:
    answer = render(request, "shop/notices.html", {"refusal": sentence}, status=status)
    answer["HX-Retarget"], answer["HX-Reswap"] = "#notices", "innerHTML"
    return answer


def not_found(request: HttpRequest, exception: Exception) -> HttpResponse:
    """The page of an address where nothing is."""
    return _told(request, _("There is nothing at this address."), status=404)


def out_of_date(request: HttpRequest, reason: str = "") -> HttpResponse:
    """The page for a form whose token does not count any more."""
    if "HX-Request" in request.headers:  # asked before any middleware could say that it is a fragment
        sentence = _("This page is out of date, and nothing was done: load it again and do it once more.")
        return _noticed(request, sentence, status=403)
    sentence = _("This form is out of date: go back, load the page again and send it once more.")
    return _told(request, sentence, status=403)


def _told(request: HttpRequest, sentence: str, *, status: int) -> HttpResponse:
    user = getattr(request, "user", None)
    if user is not None and user.is_authenticated and not hasattr(request, "actor"):
        request.actor = actor_for(user)  # type: ignore[attr-defined]
    context = {"refusal": sentence, "is_missing": status == 404}
    return render(request, "shop/refused.html", context, status=status)


def _reader(request: HttpRequest) -> Actor:
    actor = actor_for(request.user, getattr(request, "request_id", ""))
    if not actor.abilities:
        raise NotAllowed(actor.name, "read")
    return actor
