"""A deed that a form asks for: done once, told with its undo, or refused where the form stands."""

import hashlib
import json
from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from functools import partial
from typing import Any

from django import forms
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError, Refusal
from inventory.services import idempotency
from shop.refusals import status_of
from shop.views.door import actor_of
from shop.views.notices import Undo, tell

KEY = "idempotency_key"
Forms = forms.Form
NOT_PART_OF_THE_DEED = {KEY, "csrfmiddlewaretoken"}


@dataclass(frozen=True, slots=True)
class Done:
    """What has become true, as one sentence; the way back; and where to look at it when not here."""

    sentence: str
    undo: Undo | None = None
    address: str = ""


# The deeds of a page by name: the form that each wants, and what it does with key, form and actor.
Deed = Callable[[str, Any, Actor], Done]
Deeds = Mapping[str, tuple[type[forms.Form], Deed]]


@dataclass(frozen=True, slots=True)
class Answering:
    """How a page answers a deed: `show` renders it anew with a form and a status, `address` is its own."""

    show: Callable[[forms.Form | None, int], HttpResponse]
    address: str


def perform(
    request: HttpRequest, form: forms.Form, *, do: Callable[[Actor], Done], answering: Answering
) -> HttpResponse:
    """Do what the form asks once under its key; whatever was typed stands again when it is refused."""
    if not form.is_valid():
        return answering.show(form, 422)
    try:
        done = once(request, do=do)
    except Refusal as refusal:
        add_faults(form, refusal)
        return answering.show(form, status_of(refusal))
    tell(request, done.sentence, undo=done.undo)
    if getattr(request, "htmx", False):
        if done.address:
            return HttpResponse(status=204, headers={"HX-Redirect": done.address})
        return answering.show(None, 200)
    return redirect(done.address or answering.address)


def answered(
    request: HttpRequest, key: str, deed: str, *, among: Deeds, show: Callable[..., HttpResponse], page: str
) -> HttpResponse:
    """Do one of a page's deeds on the thing of this key, and show the page or lead back to it."""
    if deed not in among:
        raise Http404
    form_class, do = among[deed]
    form = form_class(request.POST, auto_id=f"{deed}-%s")
    answering = Answering(show=partial(show, request, key, deed=deed), address=reverse(page, args=[key]))
    return perform(request, form, do=partial(do, key, form), answering=answering)


def on_edition(among: Deeds, edition: str, *, must_be: Callable[[str, Collection[str]], None]) -> Deeds:
    """The deeds, each refused where the thing is in another edition by now; an undo names none."""
    if not edition:
        return among
    return {name: (form_class, _on_seen(do, edition, must_be)) for name, (form_class, do) in among.items()}


def _on_seen(do: Deed, edition: str, must_be: Callable[[str, Collection[str]], None]) -> Deed:
    def done(key: str, form: Any, actor: Actor) -> Done:
        must_be(key, {edition})
        return do(key, form, actor)

    return done


def once(request: HttpRequest, *, do: Callable[[Actor], Done]) -> Done:
    """Do it now, or answer as when it was done under the same key."""
    actor = actor_of(request)
    key = request.POST.get(KEY, "").strip()
    if not key:
        raise BadInput([FieldError("", _("The form is out of date: load the page again."))])
    found = idempotency.once(
        key, actor=actor, fingerprint=_fingerprint(request), work=lambda: _stored(do(actor))
    )
    sentence, address, undo = found.body["sentence"], found.body["address"], found.body["undo"]
    return Done(sentence, Undo(**undo) if undo else None, address)


def add_faults(form: forms.Form, refusal: Refusal) -> None:
    """Each fault stands at its field; one that has none stands above the form."""
    if not isinstance(refusal, BadInput):
        form.add_error(None, refusal.sentence)
        return
    for fault in refusal.errors:
        name = fault.pointer.rsplit("/", 1)[-1]
        form.add_error(name if name in form.fields else None, fault.detail)


def refusal_of(form: Forms | None) -> str:
    """Why a whole form was refused, for the notice: its form may be far away, or gone by now."""
    return "" if form is None else " ".join(map(str, form.non_field_errors()))


def _stored(done: Done) -> idempotency.Response:
    undo = None if done.undo is None else {"address": done.undo.address, "fields": dict(done.undo.fields)}
    return idempotency.Response(200, {"sentence": done.sentence, "address": done.address, "undo": undo})


def _fingerprint(request: HttpRequest) -> str:
    fields = sorted((name, request.POST.getlist(name)) for name in request.POST)
    deed = [request.path, [pair for pair in fields if pair[0] not in NOT_PART_OF_THE_DEED]]
    return hashlib.sha256(json.dumps(deed).encode()).hexdigest()
