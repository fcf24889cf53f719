"""The stock ledger."""

from django.db import models
from django.db.models import Q


class MovementKind(models.TextChoices):
    """What happened to the goods."""

    RECEIPT = "receipt"
    HAND_OVER = "hand_over", "hand over"
    RETURN = "return"
    ADJUSTMENT = "adjustment"
    COUNT = "count"
    MOVE = "move"
    MIXING = "mixing"
    REVERSAL = "reversal"


class Movement(models.Model):
    """One line of the stock ledger. Append-only; a mistake is put right by a reversing line."""

    item = models.ForeignKey("inventory.Item", on_delete=models.PROTECT, related_name="movements")
    lot = models.ForeignKey("inventory.Lot", on_delete=models.PROTECT, related_name="movements")
    place = models.ForeignKey("inventory.Place", on_delete=models.PROTECT, related_name="movements")
    quantity = models.BigIntegerField()
    kind = models.CharField(max_length=12, choices=MovementKind)
    reason = models.CharField(max_length=200, blank=True, db_default="")
    demand_ref = models.CharField(max_length=64, blank=True, db_default="")
    unit_cost = models.DecimalField(max_digits=12, decimal_places=4, null=True, blank=True)
    reverses = models.OneToOneField(
        "self", null=True, blank=True, on_delete=models.PROTECT, related_name="reversed_by"
    )
    at = models.DateTimeField()
    by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=64, blank=True, db_default="")

    class Meta:
        indexes = [
            models.Index("item", models.F("id").desc(), name="movement_by_item_newest"),
            models.Index("demand_ref", condition=~Q(demand_ref=""), name="movement_by_demand"),
        ]
        constraints = [
            models.CheckConstraint(condition=~Q(quantity=0), name="movement_moves_something"),
            models.CheckConstraint(condition=Q(kind__in=MovementKind.values), name="movement_kind_is_known"),
            models.CheckConstraint(
                condition=Q(kind="reversal", reverses__isnull=False)
                | (~Q(kind="reversal") & Q(reverses__isnull=True)),
                name="only_a_reversal_reverses",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} of {self.quantity}, lot {self.lot_id}"
