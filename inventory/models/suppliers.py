"""Who delivers."""

from django.db import models


class Supplier(models.Model):
    """Somebody goods are bought from."""

    code = models.CharField(max_length=32, unique=True)
    name = models.CharField(max_length=120)
    lead_time_days = models.PositiveSmallIntegerField(db_default=7)
    active = models.BooleanField(db_default=True)

    def __str__(self) -> str:
        return self.name
