"""What happened to quotes, orders, staff and settings."""

from django.db import models


class Change(models.Model):
    """One thing that somebody did: who, when, why, in which request. Append-only: a trigger refuses."""

    subject = models.CharField(max_length=160)  # "quote 1042K", "order 1043L", "staff ada", "house"
    what = models.CharField(max_length=40)
    why = models.CharField(max_length=300, blank=True, default="")
    by = models.CharField(max_length=150)
    request_id = models.CharField(max_length=128, blank=True, default="")
    at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["id"]
        indexes = [models.Index(fields=["subject", "id"], name="change_by_subject")]

    def __str__(self) -> str:
        return f"{self.subject}: {self.what} by {self.by}"
