"""Looking at what the counter remembers. Nothing is changed here: its rows are written by services."""

from django.contrib import admin
from django.utils.translation import gettext_lazy as _

from inventory.admin import LookOnly
from shop.models import Change, Customer, House, Order, OrderLine, Quote, QuoteVersion, StaffMember, StaffRole

admin.site.site_header = admin.site.site_title = _("Catalogue and people")
admin.site.index_title = _("What is looked after here")


class VersionLines(LookOnly, admin.TabularInline):
    """The versions of a quote."""

    model = QuoteVersion
    fields = readonly_fields = ("version", "created_at", "created_by")


class OrderLines(LookOnly, admin.TabularInline):
    """The lines of an order."""

    model = OrderLine
    fields = readonly_fields = (
        "position",
        "item",
        "name",
        "quantity",
        "each",
        "discount",
        "total",
        "handed_over",
    )


class RoleLines(LookOnly, admin.TabularInline):
    """The roles of a person."""

    model = StaffRole


@admin.register(Quote)
class QuoteAdmin(LookOnly, admin.ModelAdmin):
    """Quotes."""

    list_display = ("number", "state", "version", "customer", "valid_until", "hold_until", "needs_attention")
    list_filter = ("state",)
    list_select_related = ("customer",)
    search_fields = ("number", "customer__name")
    inlines = (VersionLines,)


@admin.register(Order)
class OrderAdmin(LookOnly, admin.ModelAdmin):
    """Orders."""

    list_display = ("number", "state", "quote", "gross", "currency", "needs_attention", "created_at")
    list_filter = ("state",)
    list_select_related = ("quote",)
    search_fields = ("number", "quote__number", "quote__customer__name")
    inlines = (OrderLines,)


@admin.register(StaffMember)
class StaffMemberAdmin(LookOnly, admin.ModelAdmin):
    """People."""

    list_display = ("username", "is_active", "must_change_password", "last_login")
    fields = ("username", "is_active", "must_change_password", "last_login", "date_joined")
    search_fields = ("username",)
    inlines = (RoleLines,)


@admin.register(Customer)
class CustomerAdmin(LookOnly, admin.ModelAdmin):
    """Customers."""

    list_display = ("name", "email", "phone", "created_at")
    search_fields = ("name", "email")


@admin.register(Change)
class ChangeAdmin(LookOnly, admin.ModelAdmin):
    """The diary."""

    list_display = ("at", "subject", "what", "why", "by", "request_id")
    search_fields = ("subject", "by", "request_id")


@admin.register(House)
class HouseAdmin(LookOnly, admin.ModelAdmin):
    """The house's settings."""

    list_display = ("name", "town", "timezone", "currency")
