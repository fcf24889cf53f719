"""Where stock lies."""

from django.db import models

MAIN_SITE = 1  # The first migration writes this row; a second site is a second row.
MAIN_PLACE = 1  # Where an item lies when nothing else is said.


class Site(models.Model):
    """One shop or store room with its own stock figures and holds."""

    code = models.CharField(max_length=32, unique=True)
    name = models.CharField(max_length=120)

    def __str__(self) -> str:
        return self.code


class Place(models.Model):
    """One shelf, bin or rack at a site."""

    site = models.ForeignKey(Site, on_delete=models.PROTECT, db_default=MAIN_SITE, related_name="places")
    code = models.CharField(max_length=32)
    name = models.CharField(max_length=120, blank=True, db_default="")

    class Meta:
        constraints = [models.UniqueConstraint(fields=["site", "code"], name="place_code_once_per_site")]

    def __str__(self) -> str:
        return self.code
