"""Requests already answered, and news for later."""

from django.db import models
from django.db.models import Q


class IdempotencyKey(models.Model):
    """A write that was asked for under a key, written in the transaction of its effect."""

    actor = models.CharField(max_length=150)
    key = models.CharField(max_length=200)
    fingerprint = models.CharField(max_length=128)
    status = models.PositiveSmallIntegerField(null=True)
    body = models.JSONField(null=True)
    created_at = models.DateTimeField()

    class Meta:
        constraints = [models.UniqueConstraint(fields=["actor", "key"], name="key_once_per_actor")]
        indexes = [models.Index("created_at", name="key_by_age")]

    def __str__(self) -> str:
        return f"{self.actor}: {self.key}"


class OutboxMessage(models.Model):
    """News written in the transaction of the change it tells of; a relay passes it on at least once."""

    topic = models.CharField(max_length=64)
    payload = models.JSONField()
    created_at = models.DateTimeField()
    sent_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        indexes = [models.Index("id", condition=Q(sent_at__isnull=True), name="outbox_unsent")]

    def __str__(self) -> str:
        return f"{self.topic} {self.payload}"
