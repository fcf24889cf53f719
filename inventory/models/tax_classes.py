"""Sales tax rates."""

from django.db import models


class TaxClass(models.Model):
    """A group of goods taxed at one rate, in percent."""

    code = models.CharField(max_length=32, unique=True)
    name = models.CharField(max_length=120)
    rate = models.DecimalField(max_digits=6, decimal_places=3, db_default=0)

    class Meta:
        verbose_name_plural = "tax classes"
        constraints = [
            models.CheckConstraint(
                condition=models.Q(rate__gte=0, rate__lte=100), name="tax_rate_is_a_percentage"
            )
        ]

    def __str__(self) -> str:
        return self.code
