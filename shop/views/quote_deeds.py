"""What may be done on a quote: each deed is a form and what it does."""

from collections.abc import Mapping
from datetime import datetime
from types import MappingProxyType
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.urls import reverse
from django.utils.translation import gettext as _

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from shop.models import House
from shop.selectors import pricing
from shop.selectors import quotes as quote_selector
from shop.selectors.quote_pages import QuotePage
from shop.services import customers, quote_holds, quotes, second_thoughts
from shop.services.customers import Contact
from shop.views.deeds import Deeds, Done
from shop.views.notices import Undo
from shop.views.quote_forms import (
    LOCAL,
    ContactForm,
    CustomerForm,
    DiscountForm,
    HoldForm,
    NoteForm,
    NothingMore,
    WaitForm,
    WhyForm,
)


def forms_of(
    page: QuotePage, *, house: House, actor: Actor, bound: tuple[str, forms.Form | None]
) -> dict[str, forms.Form]:
    """The form of each deed with what stands now; the one that was refused keeps what was typed."""
    quote, given = page.quote, page.discount or {}
    zone = ZoneInfo(house.timezone)
    until = quote.hold_until or quote_holds.hold_end(house, None)
    customer = quote.customer
    initial: dict[str, dict[str, Any]] = {
        "hold": {"until": until.astimezone(zone).replace(tzinfo=None)},
        "discount": {name: given.get(name) for name in ("percent", "amount", "why")},
        "note": {"note": quote.note},
        "contact": {name: getattr(customer, name, "") for name in ("name", "email", "phone")},
    }
    made = {
        name: form_class(initial=initial.get(name), auto_id=f"{name}-%s")
        for name, (form_class, _) in DEEDS.items()
    }
    name, form = bound
    if form is not None:
        made[name] = form
    return {name.replace("-", "_"): form for name, form in made.items()}


def hold(number: str, form: HoldForm, actor: Actor) -> Done:
    """Hold all lines, or prolong the hold that stands."""
    before = quote_selector.find(number).hold_until
    typed = form.cleaned_data["until"]
    zone = ZoneInfo(House.current().timezone)
    until = None if typed is None else typed.replace(tzinfo=zone)
    quote = quotes.hold(number, until=until, actor=actor, partial=form.cleaned_data["partial"])
    assert quote.hold_until is not None  # It has just been held.
    told = {"number": number, "ends": f"{quote.hold_until.astimezone(zone):%A %H:%M}"}
    waits = quote_holds.is_waiting(quote)
    undo = _undo(number, "release") if before is None else _undo(number, "hold", _until(before, waits=waits))
    if waits:
        sentence = _(
            "What is free is held for quote %(number)s until %(ends)s; the rest waits for a delivery."
        )
    elif before is None:
        sentence = _("Quote %(number)s is held until %(ends)s.")
    else:
        sentence = _("Quote %(number)s is held until %(ends)s now.")
    return Done(sentence % told, undo)


def release(number: str, form: WhyForm, actor: Actor) -> Done:
    """Let go of all that is held."""
    quote = quote_selector.find(number)
    before, waits = quote.hold_until, quote_holds.is_waiting(quote)
    quotes.release(number, actor=actor, why=form.cleaned_data["why"] or "released at the counter")
    return Done(
        _("Nothing is held for quote %(number)s any more.") % {"number": number},
        _undo(number, "hold", _until(before, waits=waits) if before else {}),
    )


def _until(end: datetime, *, waits: bool) -> dict[str, str]:
    """The fields that hold until a time as before, and wait where it waited."""
    zone = ZoneInfo(House.current().timezone)
    return {"until": f"{end.astimezone(zone):{LOCAL}}"} | ({"partial": "1"} if waits else {})


def accept(number: str, form: WaitForm, actor: Actor) -> Done:
    """Turn the quote into an order."""
    order = quotes.accept(number, actor=actor, partial=form.cleaned_data["partial"])
    cancel = Undo(reverse("order_deed", kwargs={"number": order.number, "deed": "cancel"}))
    address = reverse("order", kwargs={"number": order.number})
    return Done(
        _("Quote %(number)s is order %(order)s now.") % {"number": number, "order": order.number},
        cancel,
        address,
    )


def withdraw(number: str, form: WhyForm, actor: Actor) -> Done:
    """Take the offer back."""
    quotes.withdraw(number, actor=actor, why=form.cleaned_data["why"])
    return Done(_("Quote %(number)s is withdrawn.") % {"number": number}, _undo(number, "reopen"))


def reopen(number: str, form: forms.Form, actor: Actor) -> Done:
    """Offer a withdrawn quote again."""
    second_thoughts.reopen_quote(number, actor=actor)
    return Done(_("Quote %(number)s is open again; it holds nothing.") % {"number": number})


def discount(number: str, form: DiscountForm, actor: Actor) -> Done:
    """Lower the price."""
    given, undo = form.cleaned_data, _undo_discount(number)
    quotes.discount(number, percent=given["percent"], amount=given["amount"], why=given["why"], actor=actor)
    taken = f"{given['percent']} %" if given["percent"] else f"{given['amount']}"
    return Done(_("%(taken)s is taken off quote %(number)s.") % {"taken": taken, "number": number}, undo)


def full_price(number: str, form: forms.Form, actor: Actor) -> Done:
    """Take nothing off any more."""
    undo = _undo_discount(number)
    quotes.full_price(number, actor=actor)
    return Done(_("Nothing is taken off quote %(number)s any more.") % {"number": number}, undo)


def _undo_discount(number: str) -> Undo:
    """The way back to the discount that stands now, or to none."""
    given = pricing.discount_of(quote_selector.find(number))
    if given is None:
        return _undo(number, "full-price")
    fields = {"percent": given.percent, "amount": given.amount, "why": given.why}
    return _undo(
        number, "discount", {name: str(value) for name, value in fields.items() if value is not None}
    )


def note(number: str, form: NoteForm, actor: Actor) -> Done:
    """Change the note."""
    before = quote_selector.find(number).note
    quotes.revise(number, note=form.cleaned_data["note"], actor=actor)
    return Done(
        _("The note on quote %(number)s is changed.") % {"number": number},
        _undo(number, "note", {"note": before}),
    )


def customer(number: str, form: CustomerForm, actor: Actor) -> Done:
    """Say who asked: somebody known here, or somebody new."""
    given, undo = form.cleaned_data, _undo_customer(number)
    names = {name: given[name] for name in ("name", "email", "phone")}
    found = customers.get(given["known"]) if given["known"] else customers.add(Contact(**names), actor=actor)
    quotes.name_customer(number, customer=found, actor=actor)
    return Done(_("Quote %(number)s is for %(name)s.") % {"number": number, "name": found.name}, undo)


def nobody(number: str, form: forms.Form, actor: Actor) -> Done:
    """Name no customer."""
    undo = _undo_customer(number)
    quotes.name_customer(number, customer=None, actor=actor)
    return Done(_("Quote %(number)s names no customer.") % {"number": number}, undo)


def contact(number: str, form: ContactForm, actor: Actor) -> Done:
    """Correct what is known of the customer."""
    before = quote_selector.find(number).customer
    if before is None:
        raise BadInput(
            [FieldError("/name", _("Quote %(number)s names no customer yet.") % {"number": number})]
        )
    fields = {name: getattr(before, name) for name in ("name", "email", "phone")}
    changed = customers.change(before.pk, contact=Contact(**form.cleaned_data, note=before.note), actor=actor)
    return Done(
        _("What is known of %(name)s is corrected.") % {"name": changed.name},
        _undo(number, "contact", fields),
    )


def _undo_customer(number: str) -> Undo:
    """The way back to the customer whom the quote names now, or to nobody."""
    before = quote_selector.find(number).customer
    if before is None:
        return _undo(number, "nobody")
    return _undo(number, "customer", {"known": str(before.pk), "name": before.name})


def today(number: str, form: forms.Form, actor: Actor) -> Done:
    """Take today's prices and stock: the same spec worked out again as a new version."""
    quote = quote_selector.find(number)
    version = quote_selector.current_version(quote)
    revised = quotes.revise(number, spec=version.spec, expected_version=quote.version, actor=actor)
    return Done(
        _("Quote %(number)s is at version %(version)s, worked out with today's prices and stock.")
        % {"number": number, "version": revised.version}
    )


def proposal(number: str, form: forms.Form, actor: Actor) -> Done:
    """Take the kit that was worked out again after stock fell short."""
    quote = quote_selector.find(number)
    if quote.proposal is None:
        raise BadInput(
            [FieldError("", _("Nothing is proposed for quote %(number)s any more.") % {"number": number})]
        )
    revised = quotes.revise(number, spec=quote.proposal["spec"], expected_version=quote.version, actor=actor)
    return Done(
        _("Quote %(number)s is at version %(version)s, from what is free.")
        % {"number": number, "version": revised.version}
    )


def _undo(number: str, deed: str, fields: Mapping[str, str] | None = None) -> Undo:
    return Undo(reverse("quote_deed", kwargs={"number": number, "deed": deed}), fields or {})


DEEDS: Deeds = MappingProxyType(
    {
        "hold": (HoldForm, hold),
        "release": (WhyForm, release),
        "accept": (WaitForm, accept),
        "withdraw": (WhyForm, withdraw),
        "reopen": (NothingMore, reopen),
        "discount": (DiscountForm, discount),
        "note": (NoteForm, note),
        "full-price": (NothingMore, full_price),
        "customer": (CustomerForm, customer),
        "nobody": (NothingMore, nobody),
        "contact": (ContactForm, contact),
        "today": (NothingMore, today),
        "proposal": (NothingMore, proposal),
    }
)
