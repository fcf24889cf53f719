"""What may be done with prints of many: each deed is a form and what it does."""

import re
from types import MappingProxyType

from django import forms
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy as lazy

from inventory.actors import Actor
from inventory.documents.paper import DPI, SHEETS
from inventory.errors import BadInput, FieldError
from shop.models import PrintJob
from shop.selectors import prints
from shop.services import printing
from shop.views.deeds import Deeds, Done
from shop.views.notices import Undo
from shop.views.quote_forms import NothingMore

DOCUMENTS = {
    PrintJob.Document.BUILD_SHEET: lazy("build sheets of quotes"),
    PrintJob.Document.QUOTE: lazy("quotes"),
    PrintJob.Document.KIT_LABEL: lazy("kit labels of quotes"),
    PrintJob.Document.SHELF_LABEL: lazy("shelf labels of items"),
}
LONGEST = 40_000  # letters: more than the longest print has


class PrintForm(forms.Form):
    """Which document, of which quotes or items, on which paper."""

    document = forms.ChoiceField(
        label=lazy("print"),
        choices=list(DOCUMENTS.items()),
        error_messages={"invalid_choice": lazy("Print must be one of the papers in the list.")},
    )
    targets = forms.CharField(
        label=lazy("numbers or codes"),
        max_length=LONGEST,
        widget=forms.Textarea(attrs={"rows": 5, "autocomplete": "off", "spellcheck": "false"}),
        help_text=lazy("One a line, or scanned one after another."),
        error_messages={"required": lazy("Numbers or codes must name what is to be printed.")},
    )
    paper = forms.ChoiceField(
        label=lazy("paper of sheets"),
        choices=[(name, name.capitalize()) for name in SHEETS],
        required=False,
        error_messages={"invalid_choice": lazy("Paper of sheets must be Letter or A4, not %(value)s.")},
    )
    dpi = forms.TypedChoiceField(
        label=lazy("label printer"),
        choices=[(dpi, f"{dpi} dpi") for dpi in DPI],
        coerce=int,
        required=False,
        error_messages={"invalid_choice": lazy("Label printer must have 203 or 300 dpi, not %(value)s.")},
    )

    def clean_targets(self) -> list[str]:
        """The words of what was typed or scanned."""
        return [word for word in re.split(r"[\s,;]+", self.cleaned_data["targets"]) if word]


class AfterForm(forms.Form):
    """How many came out well."""

    after = forms.IntegerField(
        label=lazy("came out well"),
        min_value=0,
        error_messages={
            "invalid": lazy("Came out well must be a whole number."),
            "min_value": lazy("Came out well must not be below 0."),
            "required": lazy("Came out well must say how many."),
        },
    )


def order(form: PrintForm, actor: Actor) -> Done:
    """Queue a print for the worker."""
    given = form.cleaned_data
    targets = given["targets"]
    if given["document"] != PrintJob.Document.SHELF_LABEL:
        targets = [number.upper() for number in targets]
    wanted = printing.Wanted(
        given["document"], targets, paper=given["paper"] or "letter", dpi=given["dpi"] or DPI[0]
    )
    job = printing.order(wanted, actor=actor)
    undo = Undo(reverse("print_deed", kwargs={"pk": job.pk, "deed": "cancel"}))
    return Done(_("Print %(pk)s is ordered.") % {"pk": job.pk}, undo)


def cancel(pk: str, form: forms.Form, actor: Actor) -> Done:
    """Stop it after what is being drawn."""
    job = printing.cancel(int(pk), actor=actor)
    told = {"pk": pk, "done": job.done, "total": job.total}
    undo = Undo(reverse("print_deed", kwargs={"pk": pk, "deed": "resume"}))
    return Done(_("Print %(pk)s is cancelled; %(done)s of %(total)s are drawn.") % told, undo)


def resume(pk: str, form: forms.Form, actor: Actor) -> Done:
    """Go on where it stopped."""
    printing.resume(int(pk), actor=actor)
    undo = Undo(reverse("print_deed", kwargs={"pk": pk, "deed": "cancel"}))
    return Done(_("Print %(pk)s goes on.") % {"pk": pk}, undo)


def rest(pk: str, form: AfterForm, actor: Actor) -> Done:
    """Print anew what comes after those that came out well."""
    after, most = form.cleaned_data["after"], prints.find(int(pk)).total - 1
    if after > most:
        sentence = _("Came out well must be from 0 to %(most)s.") % {"most": most}
        raise BadInput([FieldError("/after", sentence)])
    job = printing.resume(int(pk), after=after, actor=actor)
    undo = Undo(reverse("print_deed", kwargs={"pk": job.pk, "deed": "cancel"}))
    told = {"pk": job.pk, "rest": job.total, "old": pk}
    return Done(_("Print %(pk)s is ordered: the last %(rest)s of print %(old)s.") % told, undo)


DEEDS: Deeds = MappingProxyType(
    {"cancel": (NothingMore, cancel), "resume": (NothingMore, resume), "rest": (AfterForm, rest)}
)
