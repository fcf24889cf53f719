"""What may be done on an order: each deed is a form and what it does."""

import json
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from django import forms
from django.http import HttpRequest, QueryDict
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from inventory.services.handing_over import Take
from inventory.services.returning import Returned
from shop.selectors.order_pages import TakeRow
from shop.selectors.orders import Gone
from shop.services import orders, second_thoughts
from shop.views.deeds import Deeds, Done
from shop.views.notices import Undo
from shop.views.quote_forms import WaitForm

MOST_ROWS = 300


class RowsForm(forms.Form):
    """Rows of item, lot and quantity, read from fields that repeat."""

    def clean(self) -> dict[str, Any]:
        """Every row with a quantity above zero; a quantity that is no whole number is named."""
        cleaned = super().clean() or {}
        assert isinstance(self.data, QueryDict)  # Fields that repeat come only from a form.
        names = [self.data.getlist(name) for name in ("item", "lot", "quantity")]
        rows = list(zip(*names, strict=False))[:MOST_ROWS]
        cleaned["rows"] = [row for row in map(self._row, rows) if row is not None]
        return cleaned

    def _row(self, row: tuple[str, str, str]) -> tuple[str, str, int] | None:
        item, lot, typed = (text.strip() for text in row)
        if typed in {"", "0"}:
            return None
        if not _is_whole(typed):
            self.add_error(
                None,
                _("Quantity of %(item)s must be a whole number of at most 9 digits, not %(typed)r.")
                % {"item": item, "typed": typed[:20]},
            )
            return None
        return item, lot, int(typed)


def _is_whole(text: str) -> bool:
    """Whether it is a whole number as the ledger can hold it, or nothing at all."""
    text = text.strip()
    return not text or (text.isdecimal() and len(text) < 10)


class WhyForm(forms.Form):
    """A reason in a few words."""

    why = forms.CharField(label=lazy("why"), required=False, max_length=200)


class NothingMore(forms.Form):
    """A deed that needs nothing to be said."""


class PutBackForm(forms.Form):
    """The rows of a hand-over that was a mistake."""

    rows = forms.JSONField()

    def clean_rows(self) -> list[tuple[str, str, int]]:
        """Item, lot and quantity of each row, as the undo wrote them."""
        rows = self.cleaned_data["rows"]
        try:
            return [(str(item), str(lot), int(quantity)) for item, lot, quantity in rows]
        except (TypeError, ValueError):
            raise forms.ValidationError(_("The rows of this undo cannot be read.")) from None


class ReturnForm(RowsForm):
    """What comes back, in which state, and why."""

    why = forms.CharField(
        label=lazy("why"),
        max_length=200,
        error_messages={"required": lazy("Why must say the reason for the return.")},
    )
    good = forms.BooleanField(label=lazy("good enough to sell again"), required=False)


def forms_of(*, bound: tuple[str, forms.Form | None]) -> dict[str, forms.Form]:
    """The form of each deed; the one that was refused keeps what was typed."""
    made = {name: form_class(auto_id=f"{name}-%s") for name, (form_class, _) in DEEDS.items()}
    name, form = bound
    if form is not None:
        made[name] = form
    return {name.replace("-", "_"): form for name, form in made.items()}


@dataclass(frozen=True, slots=True)
class Typed:
    """A row that is proposed, with the quantity that its field shows and whether that will not do."""

    row: TakeRow | Gone
    text: str
    is_faulty: bool = False


def typed_takes(
    proposed: Sequence[TakeRow], request: HttpRequest, *, deed: str, refused: bool
) -> list[Typed]:
    """What may leave: as proposed, or as it was typed when handing over was refused."""
    rows = [(row, str(row.quantity)) for row in proposed]
    return _as_typed(rows, request if refused and deed == "hand-over" else None)


def typed_returns(gone: Sequence[Gone], request: HttpRequest, *, deed: str, refused: bool) -> list[Typed]:
    """What may come back: nothing of it, or as it was typed when taking back was refused."""
    return _as_typed([(row, "0") for row in gone], request if refused and deed == "return" else None)


def _as_typed(
    rows: Sequence[tuple[TakeRow, str] | tuple[Gone, str]], request: HttpRequest | None
) -> list[Typed]:
    if request is None:
        return [Typed(row, usual) for row, usual in rows]
    names = (request.POST.getlist(name) for name in ("item", "lot", "quantity"))
    typed = {(item, lot): quantity for item, lot, quantity in zip(*names, strict=False)}
    texts = [typed.get((row.item, row.lot), usual) for row, usual in rows]
    most: Counter[str] = Counter()
    asked: Counter[str] = Counter()
    for (row, _usual), text in zip(rows, texts, strict=True):
        most[row.item] += row.quantity
        asked[row.item] += int(text) if _is_whole(text) else 0
    return [
        Typed(row, text, not _is_whole(text) or (int(text or 0) > 0 and asked[row.item] > most[row.item]))
        for (row, _usual), text in zip(rows, texts, strict=True)
    ]


def hand_over(number: str, form: RowsForm, actor: Actor) -> Done:
    """Let these rows leave."""
    rows = form.cleaned_data["rows"]
    if not rows:
        raise BadInput([FieldError("", _("Quantity must be above zero on at least one row."))])
    order = orders.hand_over(number, lines=[Take(i, q, lot or None) for i, lot, q in rows], actor=actor)
    left = _("Some of it is still to go.") if order.is_open else _("Everything has left.")
    pieces = sum(quantity for *_, quantity in rows)
    return Done(
        _("%(pieces)s left with the customer. %(left)s") % {"pieces": pieces, "left": left},
        _undo(number, "put-back", {"rows": json.dumps(rows)}),
    )


def put_back(number: str, form: PutBackForm, actor: Actor) -> Done:
    """Undo a hand-over."""
    rows = [Returned(item, quantity, lot or None) for item, lot, quantity in form.cleaned_data["rows"]]
    second_thoughts.put_back(number, lines=rows, actor=actor)
    return Done(_("The hand-over is undone; the goods are held for this order again."))


def give_back(number: str, form: ReturnForm, actor: Actor) -> Done:
    """Take goods back from the customer."""
    given = form.cleaned_data
    if not given["rows"]:
        raise BadInput([FieldError("", _("Quantity must be above zero on at least one row."))])
    rows = [
        Returned(item, quantity, lot or None, good=given["good"]) for item, lot, quantity in given["rows"]
    ]
    second_thoughts.take_back(number, lines=rows, why=given["why"], actor=actor)
    if given["good"]:
        return Done(_("What came back is back in its lots."))
    return Done(_("What came back is in quarantine."))


def hold_again(number: str, form: WaitForm, actor: Actor) -> Done:
    """Hold what is missing, or what is free of it while the rest waits."""
    if form.cleaned_data["partial"]:
        orders.hold_again(number, actor=actor, partial=True)
        return Done(
            _("What is free is held for order %(number)s; the rest waits for a delivery.")
            % {"number": number}
        )
    orders.hold_again(number, actor=actor)
    return Done(_("All that is outstanding is held for order %(number)s again.") % {"number": number})


def cancel(number: str, form: WhyForm, actor: Actor) -> Done:
    """Give the order up."""
    orders.cancel(number, actor=actor, why=form.cleaned_data["why"])
    return Done(
        _("Order %(number)s is cancelled; what has not left is free again.") % {"number": number},
        _undo(number, "reopen"),
    )


def reopen(number: str, form: forms.Form, actor: Actor) -> Done:
    """Take a cancelled order up again."""
    second_thoughts.reopen_order(number, actor=actor)
    return Done(_("Order %(number)s is open again and holds what is outstanding.") % {"number": number})


def _undo(number: str, deed: str, fields: Mapping[str, str] | None = None) -> Undo:
    return Undo(reverse("order_deed", kwargs={"number": number, "deed": deed}), fields or {})


DEEDS: Deeds = MappingProxyType(
    {
        "hand-over": (RowsForm, hand_over),
        "put-back": (PutBackForm, put_back),
        "return": (ReturnForm, give_back),
        "hold-again": (WaitForm, hold_again),
        "cancel": (WhyForm, cancel),
        "reopen": (NothingMore, reopen),
    }
)
