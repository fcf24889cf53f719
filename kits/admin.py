"""Looking at facts and putting the shop's own figures in their place; published figures are read-only."""

from typing import Any

from django import forms
from django.contrib import admin
from django.http import HttpRequest

from inventory.actors import Actor
from inventory.admin import LookOnly
from kits.models import Figure, FigureOverride, Profile, StandardKit, Subject
from kits.services import overrides


@admin.register(Subject)
class SubjectAdmin(LookOnly, admin.ModelAdmin):
    """Animals, plants, crews, enclosures and styles."""

    list_display = ["code", "kind", "name", "english_name"]
    list_filter = ["kind"]
    search_fields = ["code", "name", "english_name"]


@admin.register(Figure)
class FigureAdmin(LookOnly, admin.ModelAdmin):
    """Published figures with mark and source."""

    list_display = ["subject", "field", "value", "unit", "mark", "source"]
    list_filter = ["subject__kind", "mark"]
    list_select_related = ["subject"]
    search_fields = ["subject__code", "field"]


class FigureOverrideForm(forms.ModelForm):
    """An own figure, checked as the service checks it."""

    class Meta:
        model = FigureOverride
        fields = ["subject", "field", "value", "why"]

    def clean(self) -> dict[str, Any]:
        """Put each fault beside its field."""
        given = super().clean() or self.cleaned_data
        if {"subject", "field", "why"} <= given.keys() and "value" in given:
            for fault in overrides.faults(
                given["subject"].kind, field=given["field"], value=given["value"], why=given["why"]
            ):
                self.add_error(fault.pointer.removeprefix("/"), fault.detail)
        return given


@admin.register(FigureOverride)
class FigureOverrideAdmin(admin.ModelAdmin):
    """The shop's own figures; Django's permission on this table stands for the right to override a fact."""

    list_display = ["subject", "field", "value", "why", "by", "at"]
    list_select_related = ["subject"]
    form = FigureOverrideForm

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """A changed mind is a new figure: remove this one and add another."""
        return False

    def save_model(self, request: HttpRequest, obj: FigureOverride, form: Any, change: bool) -> None:
        """Write through the service, so that the same checks hold as everywhere."""
        written = overrides.set(
            obj.subject.kind,
            code=obj.subject.code,
            field=obj.field,
            value=obj.value,
            why=obj.why,
            actor=Actor(request.user.get_username(), frozenset({"override_fact"})),
        )
        obj.pk = written.pk


@admin.register(Profile)
class ProfileAdmin(LookOnly, admin.ModelAdmin):
    """What items can do."""

    list_display = ["item", "role", "figures"]
    list_filter = ["role"]
    list_select_related = ["item"]
    search_fields = ["item__code", "item__name"]


@admin.register(StandardKit)
class StandardKitAdmin(LookOnly, admin.ModelAdmin):
    """Saved specs that are sold by a code."""

    list_display = ["code", "name", "fixed_price", "active"]
