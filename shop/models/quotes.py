"""Quotes: what a customer was promised, version by version."""

from django.db import models
from django.db.models import Q


class Quote(models.Model):
    """One kit offered to one customer; `version` names the QuoteVersion that counts."""

    class State(models.TextChoices):
        OPEN = "open"
        ACCEPTED = "accepted"
        LAPSED = "lapsed"
        WITHDRAWN = "withdrawn"

    number = models.CharField(max_length=16, unique=True)
    state = models.CharField(max_length=10, choices=State, default=State.OPEN)
    version = models.PositiveIntegerField(default=1)
    customer = models.ForeignKey(
        "shop.Customer", on_delete=models.PROTECT, null=True, blank=True, related_name="quotes"
    )
    note = models.TextField(blank=True, default="", max_length=2000)
    valid_until = models.DateField()
    hold_until = models.DateTimeField(null=True, blank=True)
    needs_attention = models.TextField(blank=True, default="")
    proposal = models.JSONField(null=True, blank=True)  # the kit worked out again after its hold fell short
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.CharField(max_length=150)

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(state__in=["open", "accepted", "lapsed", "withdrawn"]), name="quote_state_known"
            ),
            models.CheckConstraint(
                condition=Q(state="open") | Q(hold_until__isnull=True), name="quote_held_only_while_open"
            ),
            models.CheckConstraint(condition=Q(version__gte=1), name="quote_version_from_one"),
        ]
        indexes = [
            models.Index(fields=["valid_until"], name="quote_open_valid", condition=Q(state="open")),
            models.Index(fields=["state", "-id"], name="quote_state_newest"),
        ]

    def __str__(self) -> str:
        return self.number

    @property
    def demand_ref(self) -> str:
        """The name under which stock is held for the version that counts."""
        return f"quote {self.number}/{self.version}"


class QuoteVersion(models.Model):
    """One spec and the plan it gave, as the customer saw it. Never changed: a trigger refuses."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="versions")
    version = models.PositiveIntegerField()
    spec = models.JSONField()
    plan = models.JSONField()
    created_at = models.DateTimeField(auto_now_add=True)
    created_by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=128, blank=True, default="")

    class Meta:
        ordering = ["quote_id", "version"]
        constraints = [
            models.UniqueConstraint(fields=["quote", "version"], name="quote_version_once"),
        ]

    def __str__(self) -> str:
        return f"{self.quote.number}/{self.version}"


class Discount(models.Model):
    """What was taken off a quote's price, as a percentage or as an amount, and why."""

    quote = models.OneToOneField(Quote, on_delete=models.CASCADE, related_name="discount")
    percent = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    amount = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    why = models.CharField(max_length=200)
    given_by = models.CharField(max_length=150)
    given_at = models.DateTimeField(auto_now_add=True)
    request_id = models.CharField(max_length=128, blank=True, default="")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(percent__isnull=True, amount__gt=0)
                | Q(amount__isnull=True, percent__gt=0, percent__lte=100),
                name="discount_is_percent_or_amount",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.percent} %" if self.percent is not None else f"{self.amount}"
