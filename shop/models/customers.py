"""The people whom quotes are made for."""

from django.db import models


class Customer(models.Model):
    """Somebody who asked for a kit. Only the name is required."""

    name = models.CharField(max_length=200)
    email = models.EmailField(blank=True, default="")
    phone = models.CharField(max_length=40, blank=True, default="")
    note = models.TextField(blank=True, default="", max_length=2000)
    created_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~models.Q(name=""), name="customer_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name
