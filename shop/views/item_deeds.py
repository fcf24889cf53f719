"""What may be done at the shelf of an item: each deed is a form and what it does."""

from types import MappingProxyType
from typing import Any

from django import forms
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from inventory.actors import Actor
from inventory.errors import Conflict
from inventory.services import adjusting, receiving, reversing
from inventory.services.adjusting import Reason
from inventory.services.receiving import Receipt
from shop.selectors import item_pages
from shop.selectors.item_pages import ItemPage
from shop.views.deeds import Deeds, Done
from shop.views.notices import Undo

LARGEST = 10**9
TOO_MANY = "Quantity is beyond what any shelf holds."
WHOLE = {
    "invalid": "Quantity must be a whole number.",
    "required": "Quantity must say how many.",
    "max_value": TOO_MANY,
    "min_value": TOO_MANY,
}


class ReceiveForm(forms.Form):
    """What came in."""

    quantity = forms.IntegerField(
        label=lazy("quantity"),
        min_value=1,
        max_value=LARGEST,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
        error_messages=WHOLE | {"min_value": "Quantity must be above zero."},
    )
    lot = forms.CharField(
        label=lazy("lot"),
        required=False,
        max_length=80,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )
    best_before = forms.DateField(
        label=lazy("best before"),
        required=False,
        widget=forms.DateInput(attrs={"type": "date"}, format="%Y-%m-%d"),
        error_messages={"invalid": lazy("Best before must be a day.")},
    )
    place = forms.CharField(
        label=lazy("to place"),
        required=False,
        max_length=32,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )


class AdjustForm(forms.Form):
    """By how much the books are wrong, and why."""

    quantity = forms.IntegerField(
        label=lazy("by (\N{MINUS SIGN} takes away)"),
        min_value=-LARGEST,
        max_value=LARGEST,
        widget=forms.TextInput(attrs={"inputmode": "text", "autocomplete": "off"}),
        error_messages=WHOLE,
    )
    reason = forms.ChoiceField(
        label=lazy("reason"),
        choices=[("", "choose a reason"), *Reason.choices],
        error_messages={
            "required": lazy("Reason must say why the stock is corrected."),
            "invalid_choice": lazy("Reason must be one of the list, not %(value)s."),
        },
    )
    lot = forms.ChoiceField(label=lazy("lot"), required=False)
    place = forms.ChoiceField(label=lazy("place"), required=False)

    def __init__(self, *args: Any, page: ItemPage | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        rows = page.balances if page else []
        typed = [self.data.get(name, "") for name in ("lot", "place")]
        for name, code, blank in (
            ("lot", typed[0], "first expired"),
            ("place", typed[1], "anywhere"),
        ):
            known = dict.fromkeys(getattr(row, name).code for row in rows)
            codes = list(known) + ([code] if code and code not in known else [])
            chooser = self.fields[name]
            assert isinstance(chooser, forms.ChoiceField)
            chooser.choices = [("", blank), *((code, code) for code in codes)]

    def clean_quantity(self) -> int:
        """Zero corrects nothing."""
        quantity = int(self.cleaned_data["quantity"])
        if quantity == 0:
            raise forms.ValidationError(_("Quantity must not be zero."))
        return quantity


class NothingMore(forms.Form):
    """A deed that needs nothing to be said."""


class UndoForm(forms.Form):
    """Which line of the ledger is undone; without one, the newest correction."""

    movement = forms.IntegerField(required=False, widget=forms.HiddenInput)


def forms_of(page: ItemPage, *, bound: tuple[str, forms.Form | None]) -> dict[str, forms.Form]:
    """The form of each deed; the one that was refused keeps what was typed."""
    place = page.item.place.code if page.item.place else ""
    made: dict[str, forms.Form] = {
        "receive": ReceiveForm(auto_id="receive-%s", initial={"place": place}),
        "adjust": AdjustForm(auto_id="adjust-%s", page=page),
        "found": NothingMore(auto_id="found-%s"),
        "undo": UndoForm(auto_id="undo-%s"),
    }
    name, form = bound
    if form is not None:
        made[name] = form
    return made


def receive(code: str, form: ReceiveForm, actor: Actor) -> Done:
    """Take a delivery in."""
    given = form.cleaned_data
    line = Receipt(
        item=code,
        quantity=given["quantity"],
        lot=given["lot"].strip() or None,
        best_before=given["best_before"],
        place=given["place"].strip() or None,
    )
    (received,) = receiving.receive([line], actor=actor)
    return Done(
        _("%(quantity)s received into lot %(lot)s.") % {"quantity": received.quantity, "lot": received.lot},
        _undo(code, received.movement_id),
    )


def adjust(code: str, form: AdjustForm, actor: Actor) -> Done:
    """Correct the books."""
    given = form.cleaned_data
    movements = adjusting.adjust(
        code,
        quantity=given["quantity"],
        reason=given["reason"],
        lot=given["lot"] or None,
        place=given["place"] or None,
        actor=actor,
    )
    words = Reason(given["reason"]).label
    undo = _undo(code, movements[0]) if len(movements) == 1 else None
    return Done(
        _("Stock corrected by %(quantity)s: %(words)s.")
        % {"quantity": f"{given['quantity']:+d}", "words": words},
        undo,
    )


def found(code: str, form: forms.Form, actor: Actor) -> Done:
    """One more was on the shelf than in the books."""
    (movement,) = adjusting.adjust(code, quantity=1, reason=Reason.FOUND_ON_SHELF, actor=actor)
    return Done(_("One more, found on the shelf."), _undo(code, movement))


def undo(code: str, form: UndoForm, actor: Actor) -> Done:
    """Reverse a correction or a delivery by a line of the opposite quantity."""
    movement = form.cleaned_data["movement"]
    if movement is None:
        newest = item_pages.last_adjustment(code)
        if newest is None:
            raise Conflict(_("There is no correction left to undo."))
        movement = newest.pk
    reversing.reverse(movement, why="undone at the counter", actor=actor)
    return Done(_("Undone: a reversing line stands in the ledger."))


def _undo(code: str, movement: int) -> Undo:
    return Undo(reverse("item_deed", kwargs={"code": code, "deed": "undo"}), {"movement": str(movement)})


DEEDS: Deeds = MappingProxyType(
    {
        "receive": (ReceiveForm, receive),
        "adjust": (AdjustForm, adjust),
        "found": (NothingMore, found),
        "undo": (UndoForm, undo),
    }
)
