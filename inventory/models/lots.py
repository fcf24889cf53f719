"""Deliveries and batches."""

from django.core.validators import RegexValidator
from django.db import models

LOT_CODE_PATTERN = r"^[A-Za-z0-9][A-Za-z0-9._-]*$"
LOT_CODE = RegexValidator(LOT_CODE_PATTERN, "Use letters, digits, dot, hyphen and underscore.")


class LotState(models.TextChoices):
    """Whether a lot may be sold."""

    GOOD = "good"
    QUARANTINED = "quarantined"
    EXPIRED = "expired"
    SPENT = "spent"


class Lot(models.Model):
    """One delivery or batch of an item. Only good lots count as sellable; a spent lot has nothing left."""

    code = models.CharField(max_length=80, unique=True, validators=[LOT_CODE])
    item = models.ForeignKey("inventory.Item", on_delete=models.PROTECT, related_name="lots")
    state = models.CharField(max_length=12, choices=LotState, db_default=LotState.GOOD)
    standing = models.BooleanField(db_default=False)
    best_before = models.DateField(null=True, blank=True)
    unit_cost = models.DecimalField(max_digits=12, decimal_places=4, null=True, blank=True)
    supplier = models.ForeignKey("inventory.Supplier", null=True, blank=True, on_delete=models.PROTECT)
    split_from = models.ForeignKey("self", null=True, blank=True, on_delete=models.PROTECT)
    created_at = models.DateTimeField()

    class Meta:
        indexes = [
            models.Index(
                "best_before",
                condition=models.Q(state="good", best_before__isnull=False),
                name="lot_good_by_best_before",
            )
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["item"], condition=models.Q(standing=True), name="one_standing_lot_per_item"
            ),
            models.CheckConstraint(condition=models.Q(state__in=LotState.values), name="lot_state_is_known"),
            models.CheckConstraint(
                condition=~models.Q(standing=True, state="spent"), name="standing_lot_is_never_spent"
            ),
        ]

    def __str__(self) -> str:
        return self.code


class LotChange(models.Model):
    """One change of a lot's state. Append-only."""

    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="changes")
    old_state = models.CharField(max_length=12, choices=LotState)
    new_state = models.CharField(max_length=12, choices=LotState)
    why = models.CharField(max_length=200)
    at = models.DateTimeField()
    by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=64, blank=True, db_default="")

    def __str__(self) -> str:
        return f"{self.lot_id}: {self.old_state} to {self.new_state}"
