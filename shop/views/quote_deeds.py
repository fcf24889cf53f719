"""What may be done on a quote: each deed is a form and what it does."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any
from zoneinfo import ZoneInfo

from django import forms
from django.urls import reverse

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from shop.models import House
from shop.selectors import quotes as quote_selector
from shop.selectors.quote_pages import QuotePage
from shop.services import customers, quote_holds, quotes, second_thoughts
from shop.services.customers import Contact
from shop.services.quotes import NOTE_LENGTH
from shop.views.deeds import Deeds, Done
from shop.views.notices import Undo

LOCAL = "%Y-%m-%dT%H:%M"


class NothingMore(forms.Form):
    """A deed that needs nothing to be said."""


class HoldForm(forms.Form):
    """How long to hold."""

    until = forms.DateTimeField(
        label="hold until",
        required=False,
        input_formats=[LOCAL, "%Y-%m-%dT%H:%M:%S"],
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format=LOCAL),
        error_messages={"invalid": "Hold until must be a day and a time."},
    )


class WhyForm(forms.Form):
    """A reason in a few words."""

    why = forms.CharField(label="why", required=False, max_length=200)


class DiscountForm(forms.Form):
    """Either a percentage or an amount, and why."""

    percent = forms.DecimalField(
        label="percent",
        required=False,
        max_digits=5,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={"invalid": "Percent must be a number such as 5 or 7.5."},
    )
    amount = forms.DecimalField(
        label="or amount",
        required=False,
        max_digits=10,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={"invalid": "Amount must be a number such as 12.50."},
    )
    why = forms.CharField(
        label="why", max_length=200, error_messages={"required": "Why must say the reason for the discount."}
    )


class NoteForm(forms.Form):
    """A note for the house."""

    note = forms.CharField(
        label="note",
        required=False,
        max_length=NOTE_LENGTH,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"max_length": f"Note must be at most {NOTE_LENGTH} characters."},
    )


class CustomerForm(forms.Form):
    """Who asked."""

    name = forms.CharField(
        label="name",
        max_length=200,
        error_messages={"required": "Name must say who asked."},
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    email = forms.CharField(
        label="e-mail",
        required=False,
        max_length=254,
        widget=forms.EmailInput(attrs={"autocomplete": "off"}),
    )
    phone = forms.CharField(
        label="phone", required=False, max_length=40, widget=forms.TextInput(attrs={"autocomplete": "off"})
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
        "customer": {name: getattr(customer, name, "") for name in ("name", "email", "phone")},
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
    quote = quotes.hold(number, until=until, actor=actor)
    assert quote.hold_until is not None  # It has just been held.
    ends = f"{quote.hold_until.astimezone(zone):%A %H:%M}"
    if before is None:
        return Done(f"Quote {number} is held until {ends}.", _undo(number, "release"))
    fields = {"until": f"{before.astimezone(zone):{LOCAL}}"}
    return Done(f"Quote {number} is held until {ends} now.", _undo(number, "hold", fields))


def release(number: str, form: WhyForm, actor: Actor) -> Done:
    """Let go of all that is held."""
    before = quote_selector.find(number).hold_until
    quotes.release(number, actor=actor, why=form.cleaned_data["why"] or "released at the counter")
    zone = ZoneInfo(House.current().timezone)
    fields = {"until": f"{before.astimezone(zone):{LOCAL}}"} if before else {}
    return Done(f"Nothing is held for quote {number} any more.", _undo(number, "hold", fields))


def accept(number: str, form: forms.Form, actor: Actor) -> Done:
    """Turn the quote into an order."""
    order = quotes.accept(number, actor=actor)
    cancel = Undo(reverse("order_deed", kwargs={"number": order.number, "deed": "cancel"}))
    address = reverse("order", kwargs={"number": order.number})
    return Done(f"Quote {number} is order {order.number} now.", cancel, address)


def withdraw(number: str, form: WhyForm, actor: Actor) -> Done:
    """Take the offer back."""
    quotes.withdraw(number, actor=actor, why=form.cleaned_data["why"])
    return Done(f"Quote {number} is withdrawn.", _undo(number, "reopen"))


def reopen(number: str, form: forms.Form, actor: Actor) -> Done:
    """Offer a withdrawn quote again."""
    second_thoughts.reopen_quote(number, actor=actor)
    return Done(f"Quote {number} is open again; it holds nothing.")


def discount(number: str, form: DiscountForm, actor: Actor) -> Done:
    """Lower the price."""
    given = form.cleaned_data
    quotes.discount(number, percent=given["percent"], amount=given["amount"], why=given["why"], actor=actor)
    taken = f"{given['percent']} %" if given["percent"] else f"{given['amount']}"
    return Done(f"{taken} is taken off quote {number}.")


def note(number: str, form: NoteForm, actor: Actor) -> Done:
    """Change the note."""
    before = quote_selector.find(number).note
    quotes.revise(number, note=form.cleaned_data["note"], actor=actor)
    return Done(f"The note on quote {number} is changed.", _undo(number, "note", {"note": before}))


def customer(number: str, form: CustomerForm, actor: Actor) -> Done:
    """Write down who asked, or correct it."""
    quote = quote_selector.find(number)
    contact = Contact(**form.cleaned_data)
    if quote.customer is not None:
        contact = Contact(**form.cleaned_data, note=quote.customer.note)
        customers.change(quote.customer.pk, contact=contact, actor=actor)
    else:
        second_thoughts.name_customer(number, customer=customers.add(contact, actor=actor), actor=actor)
    return Done(f"Quote {number} is for {contact.name}.")


def today(number: str, form: forms.Form, actor: Actor) -> Done:
    """Take today's prices and stock: the same spec worked out again as a new version."""
    quote = quote_selector.find(number)
    version = quote_selector.current_version(quote)
    revised = quotes.revise(number, spec=version.spec, expected_version=quote.version, actor=actor)
    return Done(f"Quote {number} is at version {revised.version}, worked out with today's prices and stock.")


def proposal(number: str, form: forms.Form, actor: Actor) -> Done:
    """Take the kit that was worked out again after stock fell short."""
    quote = quote_selector.find(number)
    if quote.proposal is None:
        raise BadInput([FieldError("", f"Nothing is proposed for quote {number} any more.")])
    revised = quotes.revise(number, spec=quote.proposal["spec"], expected_version=quote.version, actor=actor)
    return Done(f"Quote {number} is at version {revised.version}, from what is free.")


def _undo(number: str, deed: str, fields: Mapping[str, str] | None = None) -> Undo:
    return Undo(reverse("quote_deed", kwargs={"number": number, "deed": deed}), fields or {})


DEEDS: Deeds = MappingProxyType(
    {
        "hold": (HoldForm, hold),
        "release": (WhyForm, release),
        "accept": (NothingMore, accept),
        "withdraw": (WhyForm, withdraw),
        "reopen": (NothingMore, reopen),
        "discount": (DiscountForm, discount),
        "note": (NoteForm, note),
        "customer": (CustomerForm, customer),
        "today": (NothingMore, today),
        "proposal": (NothingMore, proposal),
    }
)
