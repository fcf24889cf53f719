"""Current figures, moved in the transaction of the movement that changes them."""

from django.db import models
from django.db.models import F, Q


class Stock(models.Model):
    """What may be sold of an item at a site, and how much of that is promised."""

    site = models.ForeignKey("inventory.Site", on_delete=models.PROTECT)
    item = models.ForeignKey("inventory.Item", on_delete=models.PROTECT, related_name="stock")
    sellable = models.BigIntegerField(db_default=0)
    held = models.BigIntegerField(db_default=0)

    class Meta:
        verbose_name_plural = "stock"
        constraints = [
            models.UniqueConstraint(fields=["site", "item"], name="stock_once_per_site_and_item"),
            models.CheckConstraint(
                condition=Q(held__gte=0) & Q(held__lte=F("sellable")), name="held_is_within_sellable"
            ),
        ]

    def __str__(self) -> str:
        return f"item {self.item_id}: {self.sellable} sellable, {self.held} held"


class LotBalance(models.Model):
    """How much of one lot lies at one place."""

    item = models.ForeignKey("inventory.Item", on_delete=models.PROTECT, related_name="balances")
    lot = models.ForeignKey("inventory.Lot", on_delete=models.PROTECT, related_name="balances")
    place = models.ForeignKey("inventory.Place", on_delete=models.PROTECT, related_name="balances")
    on_hand = models.BigIntegerField(db_default=0)

    class Meta:
        indexes = [models.Index("item", condition=Q(on_hand__gt=0), name="balance_on_hand_by_item")]
        constraints = [
            models.UniqueConstraint(fields=["lot", "place"], name="balance_once_per_lot_and_place"),
            models.CheckConstraint(condition=Q(on_hand__gte=0), name="on_hand_not_negative"),
        ]

    def __str__(self) -> str:
        return f"lot {self.lot_id} at place {self.place_id}: {self.on_hand}"
