"""When the catalogue last changed."""

from django.db import models


class CatalogueVersion(models.Model):
    """A single row; statement triggers raise its number whenever a table of the catalogue changes."""

    version = models.BigIntegerField(db_default=1)

    class Meta:
        constraints = [models.CheckConstraint(condition=models.Q(id=1), name="one_catalogue_version")]

    def __str__(self) -> str:
        return str(self.version)
