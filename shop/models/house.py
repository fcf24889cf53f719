"""What the house decides once: its name, money, hours, limits and the electricity it runs on."""

from datetime import time
from decimal import Decimal
from typing import Self

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models


class House(models.Model):
    """The shop's own settings. Exactly one row, made on first use."""

    class TaxBasis(models.TextChoices):
        TOTAL = "total", "once per rate on the summed base"
        LINE = "line", "per line"

    class DemoState(models.TextChoices):
        UNDECIDED = "undecided"
        LOADED = "loaded"
        NEVER = "never"

    id = models.PositiveSmallIntegerField(primary_key=True, default=1, editable=False)
    name = models.CharField(max_length=120, default="The shop")
    town = models.CharField(max_length=120, blank=True, default="")
    timezone = models.CharField(max_length=64, default="America/Chicago")
    currency = models.CharField(max_length=3, default="USD")
    tax_basis = models.CharField(max_length=5, choices=TaxBasis, default=TaxBasis.TOTAL)
    prices_include_tax = models.BooleanField(default=False)
    electricity_price = models.DecimalField(max_digits=8, decimal_places=4, default=Decimal("0.17"))
    breaker_a = models.DecimalField(max_digits=6, decimal_places=2, default=Decimal("15"))
    volts = models.DecimalField(max_digits=6, decimal_places=2, default=Decimal("120"))
    closing_time = models.TimeField(default=time(18, 0))
    hold_days = models.PositiveSmallIntegerField(default=3)
    hold_days_max = models.PositiveSmallIntegerField(default=14)
    quote_days = models.PositiveSmallIntegerField(default=14)
    counter_discount_pct = models.DecimalField(
        max_digits=5,
        decimal_places=2,
        default=Decimal("10"),
        validators=[MinValueValidator(0), MaxValueValidator(100)],
    )
    demo_state = models.CharField(max_length=10, choices=DemoState, default=DemoState.UNDECIDED)

    class Meta:
        verbose_name_plural = "house"
        constraints = [
            models.CheckConstraint(condition=models.Q(id=1), name="house_is_one_row"),
            models.CheckConstraint(
                condition=models.Q(tax_basis__in=["total", "line"]), name="house_tax_basis"
            ),
            models.CheckConstraint(
                condition=models.Q(demo_state__in=["undecided", "loaded", "never"]), name="house_demo_state"
            ),
            models.CheckConstraint(
                condition=models.Q(counter_discount_pct__gte=0, counter_discount_pct__lte=100),
                name="house_discount_is_a_percentage",
            ),
            models.CheckConstraint(
                condition=models.Q(hold_days__lte=models.F("hold_days_max")), name="house_hold_within_maximum"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @classmethod
    def current(cls) -> Self:
        """The one row, made with its defaults when the shop is new."""
        house, _ = cls.objects.get_or_create(id=1)
        return house
