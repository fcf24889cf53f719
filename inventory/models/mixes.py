"""Recipes of the shop's own mixes."""

from django.db import models


class Mix(models.Model):
    """A recipe in parts by volume; bagged, it is sold as items."""

    code = models.SlugField(max_length=64, unique=True)
    name = models.CharField(max_length=200)
    note = models.TextField(blank=True, db_default="")
    active = models.BooleanField(db_default=True)

    class Meta:
        verbose_name_plural = "mixes"

    def __str__(self) -> str:
        return self.code


class MixPart(models.Model):
    """One ingredient of a mix; parts are relative volumes."""

    mix = models.ForeignKey(Mix, on_delete=models.CASCADE, related_name="parts")
    item = models.ForeignKey("inventory.Item", on_delete=models.PROTECT, related_name="in_mixes")
    parts = models.DecimalField(max_digits=8, decimal_places=3)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["mix", "item"], name="ingredient_once_per_mix"),
            models.CheckConstraint(condition=models.Q(parts__gt=0), name="mix_part_is_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.mix_id}: {self.parts} of {self.item_id}"
