"""Recipes of the shop's own mixes."""

from datetime import timedelta

from django.core.exceptions import ValidationError
from django.db import models
from django.db.models import Q
from django.utils import timezone

MOST_SHRINKAGE_PCT = 60  # grains that fill each other's voids lose less than half


class Mix(models.Model):
    """A recipe in parts by volume; bagged, it is sold as items."""

    code = models.SlugField(max_length=64, unique=True)
    name = models.CharField(max_length=200)
    note = models.TextField(blank=True, db_default="")
    active = models.BooleanField(db_default=True)
    shrinkage_pct = models.DecimalField(
        "measured shrinkage, %",
        max_digits=3,
        decimal_places=1,
        null=True,
        blank=True,
        help_text="Share of what is poured that vanishes in mixing: 10 L that become 8.4 L are 16 %. "
        "Empty while nobody has measured it: then it is worked out from the grains of the parts.",
    )
    shrinkage_measured_on = models.DateField("measured on", null=True, blank=True)

    class Meta:
        verbose_name_plural = "mixes"
        constraints = [
            models.CheckConstraint(
                condition=Q(shrinkage_pct__isnull=True)
                | Q(shrinkage_pct__gte=0, shrinkage_pct__lte=MOST_SHRINKAGE_PCT),
                name="mix_shrinkage_is_possible",
                violation_error_message="Measured shrinkage must be from 0 to "
                f"{MOST_SHRINKAGE_PCT} %% of what is poured.",
            ),
            models.CheckConstraint(
                condition=Q(shrinkage_pct__isnull=True, shrinkage_measured_on__isnull=True)
                | Q(shrinkage_pct__isnull=False, shrinkage_measured_on__isnull=False),
                name="mix_shrinkage_has_its_day",
                violation_error_message="Measured shrinkage and the day of its measurement "
                "belong together: fill in both or neither.",
            ),
        ]

    def __str__(self) -> str:
        return self.code

    def clean(self) -> None:
        """Nothing is measured in days to come; a shop may lie ahead of the server's own day by one."""
        day = self.shrinkage_measured_on
        if day is not None and day > timezone.localdate() + timedelta(days=1):
            raise ValidationError({"shrinkage_measured_on": "Measured on must not lie in the future."})


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
