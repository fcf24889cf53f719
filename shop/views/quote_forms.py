"""The forms of a quote's deeds."""

from django import forms
from django.utils.translation import gettext_lazy as lazy

from shop.services.quotes import NOTE_LENGTH

SEARCH = {
    "autocomplete": "off",
    "data-combo": "",
    "data-known": "customer-known",
    "data-remote": "/worktable/offers/?kind=customer&q=",
}
LOCAL = "%Y-%m-%dT%H:%M"


class NothingMore(forms.Form):
    """A deed that needs nothing to be said."""


class HoldForm(forms.Form):
    """How long to hold."""

    until = forms.DateTimeField(
        label=lazy("hold until"),
        required=False,
        input_formats=[LOCAL, "%Y-%m-%dT%H:%M:%S"],
        widget=forms.DateTimeInput(attrs={"type": "datetime-local"}, format=LOCAL),
        error_messages={"invalid": lazy("Hold until must be a day and a time.")},
    )
    partial = forms.BooleanField(required=False, widget=forms.HiddenInput)


class WaitForm(forms.Form):
    """Whether to wait for what is not free."""

    partial = forms.BooleanField(required=False, widget=forms.HiddenInput)


class WhyForm(forms.Form):
    """A reason in a few words."""

    why = forms.CharField(label=lazy("why"), required=False, max_length=200)


class DiscountForm(forms.Form):
    """Either a percentage or an amount, and why."""

    percent = forms.DecimalField(
        label=lazy("percent"),
        required=False,
        max_digits=5,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={"invalid": lazy("Percent must be a number such as 5 or 7.5.")},
    )
    amount = forms.DecimalField(
        label=lazy("or amount"),
        required=False,
        max_digits=10,
        decimal_places=2,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
        error_messages={"invalid": lazy("Amount must be a number such as 12.50.")},
    )
    why = forms.CharField(
        label=lazy("why"),
        max_length=200,
        error_messages={"required": lazy("Why must say the reason for the discount.")},
    )


class NoteForm(forms.Form):
    """A note for the house."""

    note = forms.CharField(
        label=lazy("note"),
        required=False,
        max_length=NOTE_LENGTH,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={
            "max_length": lazy("Note must be at most %(note_length)s characters.")
            % {"note_length": NOTE_LENGTH}
        },
    )


class ContactForm(forms.Form):
    """What somebody told of themselves."""

    name = forms.CharField(
        label=lazy("name"),
        max_length=200,
        error_messages={"required": lazy("Name must say who asked.")},
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    email = forms.CharField(
        label=lazy("e-mail"),
        required=False,
        max_length=254,
        widget=forms.EmailInput(attrs={"autocomplete": "off"}),
    )
    phone = forms.CharField(
        label=lazy("phone"),
        required=False,
        max_length=40,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )


class CustomerForm(ContactForm):
    """Who asked: the customer of this number, picked by that name, or else somebody new."""

    name = forms.CharField(
        label=lazy("name"),
        max_length=200,
        error_messages={"required": lazy("Name must say who asked.")},
        widget=forms.TextInput(attrs=SEARCH),
    )

    known = forms.IntegerField(required=False, min_value=1, max_value=2**62, widget=forms.HiddenInput)
