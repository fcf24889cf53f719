"""Saved specs that are sold by a code."""

from django.db import models

from kits.models.subjects import CODE


class StandardKit(models.Model):
    """A build spec saved under a code; without a fixed price it costs what its plan costs today."""

    code = models.CharField(max_length=64, unique=True, validators=[CODE])
    name = models.CharField(max_length=200)
    spec = models.JSONField()
    fixed_price = models.DecimalField(max_digits=10, decimal_places=2, null=True, blank=True)
    active = models.BooleanField(db_default=True)

    class Meta:
        ordering = ["code"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(fixed_price=None) | models.Q(fixed_price__gt=0),
                name="kit_price_is_positive",
            ),
            models.CheckConstraint(condition=~models.Q(name=""), name="kit_is_named"),
        ]

    def __str__(self) -> str:
        return self.code
