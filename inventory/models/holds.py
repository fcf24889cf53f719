"""Stock promised to a named demand."""

from django.db import models
from django.db.models import Q

STILL_ON = Q(ended_at__isnull=True)


class HoldChangeKind(models.TextChoices):
    """Why a hold's quantity changed."""

    HELD = "held"
    FILLED = "filled"
    TRANSFERRED = "transferred"
    RELEASED = "released"
    LAPSED = "lapsed"
    SHORTENED = "shortened"
    HANDED_OVER = "handed_over", "handed over"


class Hold(models.Model):
    """Stock of one item promised to one demand until a time; `until` empty means until it is handed over.

    A later row is a newer promise: ids are given out while the stock row is locked. Site and item
    together refer to the stock row, which a hold has locked anyway, so that holding touches no other row.
    """

    site = models.ForeignKey("inventory.Site", on_delete=models.PROTECT, db_constraint=False)
    item = models.ForeignKey("inventory.Item", on_delete=models.PROTECT, db_constraint=False, db_index=False)
    demand_ref = models.CharField(max_length=64)
    quantity = models.BigIntegerField()
    until = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField()
    created_by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=64, blank=True, db_default="")
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [
            models.Index("item", condition=STILL_ON, name="hold_active_by_item"),
            models.Index("until", condition=STILL_ON & Q(until__isnull=False), name="hold_active_by_until"),
        ]
        constraints = [
            models.UniqueConstraint(
                fields=["demand_ref", "item", "site"],
                condition=STILL_ON,
                name="one_active_hold_per_demand_and_item",
            ),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True, quantity__gt=0) | Q(ended_at__isnull=False, quantity=0),
                name="hold_ends_when_nothing_is_held",
            ),
            models.CheckConstraint(condition=~Q(demand_ref=""), name="hold_names_its_demand"),
        ]

    def __str__(self) -> str:
        return f"{self.demand_ref}: {self.quantity} of item {self.item_id}"


class HoldChange(models.Model):
    """One change of a hold's quantity; their sum is what is still held. Append-only."""

    hold = models.ForeignKey(Hold, on_delete=models.PROTECT, related_name="changes")
    kind = models.CharField(max_length=12, choices=HoldChangeKind)
    quantity = models.BigIntegerField()
    demand_ref = models.CharField(max_length=64)
    why = models.CharField(max_length=200, blank=True, db_default="")
    at = models.DateTimeField()
    by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=64, blank=True, db_default="")

    def __str__(self) -> str:
        return f"{self.demand_ref}: {self.kind} {self.quantity}"


class Want(models.Model):
    """What a partly held demand still waits for; receipts fill the oldest first. Zero once ended."""

    site = models.ForeignKey("inventory.Site", on_delete=models.PROTECT, db_constraint=False)
    item = models.ForeignKey("inventory.Item", on_delete=models.PROTECT, db_constraint=False, db_index=False)
    demand_ref = models.CharField(max_length=64)
    quantity = models.BigIntegerField()
    until = models.DateTimeField(null=True, blank=True)
    created_at = models.DateTimeField()
    created_by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=64, blank=True, db_default="")
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [models.Index("item", "id", condition=STILL_ON, name="want_active_by_item_oldest")]
        constraints = [
            models.UniqueConstraint(
                fields=["demand_ref", "item", "site"],
                condition=STILL_ON,
                name="one_active_want_per_demand_and_item",
            ),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True, quantity__gt=0)
                | Q(ended_at__isnull=False, quantity__gte=0),
                name="want_asks_for_something",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.demand_ref} waits for {self.quantity} of item {self.item_id}"
