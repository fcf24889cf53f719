"""Upkeep of the catalogue by hand; the stock ledger can be looked at and nothing more."""

from typing import Any

from django.contrib import admin, messages
from django.forms import BaseFormSet, ModelForm
from django.http import HttpRequest

from inventory import models


class BarcodeRows(admin.TabularInline):
    """An item's barcodes."""

    model = models.Barcode
    extra = 0
    readonly_fields = ("gtin",)


class FormerCodeRows(admin.TabularInline):
    """Codes that an item used to have."""

    model = models.SupersededCode
    extra = 0


class MixPartRows(admin.TabularInline):
    """The parts of a mix."""

    model = models.MixPart
    extra = 0
    autocomplete_fields = ("item",)


@admin.register(models.Item)
class ItemAdmin(admin.ModelAdmin):
    """Items. What has stock rows is switched off, never deleted."""

    list_display = ("code", "name", "kind", "price", "tax_class", "place", "active")
    list_filter = ("active", "kind", "live", "tax_class")
    list_select_related = ("tax_class", "place")
    search_fields = ("code", "name", "barcodes__text")
    autocomplete_fields = ("supplier", "place", "mix")
    inlines = (BarcodeRows, FormerCodeRows)

    def get_readonly_fields(self, request: HttpRequest, obj: models.Item | None = None) -> tuple[str, ...]:
        """A code changes by superseding, and a base unit not at all once the item exists."""
        return ("code", "base_unit") if obj else ()

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Never: stock and history stand on it."""
        return False


@admin.register(models.Mix)
class MixAdmin(admin.ModelAdmin):
    """Recipes."""

    list_display = ("code", "name", "shrinkage_pct", "shrinkage_measured_on", "active")
    search_fields = ("code", "name")
    inlines = (MixPartRows,)

    def save_related(
        self, request: HttpRequest, form: "ModelForm[Any]", formsets: "list[BaseFormSet[Any]]", change: bool
    ) -> None:
        """What was measured of other parts says nothing of the new ones, so it goes unless told anew."""
        super().save_related(request, form, formsets, change)
        mix, told = form.instance, {"shrinkage_pct", "shrinkage_measured_on"} & set(form.changed_data)
        if (
            change
            and mix.shrinkage_pct is not None
            and not told
            and any(one.has_changed() for one in formsets)
        ):
            mix.shrinkage_pct = mix.shrinkage_measured_on = None
            mix.save(update_fields=["shrinkage_pct", "shrinkage_measured_on"])
            sentence = "The measured shrinkage was that of the old parts and is cleared; measure the new mix."
            self.message_user(request, sentence, messages.WARNING)


@admin.register(models.Place)
class PlaceAdmin(admin.ModelAdmin):
    """Shelves and bins."""

    list_display = ("code", "name", "site")
    list_select_related = ("site",)
    search_fields = ("code", "name")


@admin.register(models.Supplier)
class SupplierAdmin(admin.ModelAdmin):
    """Suppliers."""

    list_display = ("code", "name", "lead_time_days", "active")
    search_fields = ("code", "name")


@admin.register(models.TaxClass)
class TaxClassAdmin(admin.ModelAdmin):
    """Sales tax rates."""

    list_display = ("code", "name", "rate")


class LookOnly:
    """Rows that only services write; for pages and rows of a page, of every app."""

    def has_add_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Never."""
        return False

    def has_change_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Never."""
        return False

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        """Never."""
        return False


@admin.register(models.Lot)
class LotAdmin(LookOnly, admin.ModelAdmin):
    """Lots with their states."""

    list_display = ("code", "item", "state", "best_before")
    list_filter = ("state",)
    list_select_related = ("item",)
    search_fields = ("code", "item__code")


@admin.register(models.Movement)
class MovementAdmin(LookOnly, admin.ModelAdmin):
    """The stock ledger, newest first."""

    list_display = ("id", "at", "kind", "item", "lot", "place", "quantity", "reason", "by")
    list_filter = ("kind",)
    list_select_related = ("item", "lot", "place")
    search_fields = ("item__code", "lot__code", "demand_ref")
    ordering = ("-id",)
    show_full_result_count = False
