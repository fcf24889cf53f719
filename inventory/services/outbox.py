"""News is passed on at least once, after the change it tells of has been committed."""

from collections.abc import Callable, Collection, Mapping
from datetime import timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone

from inventory.models import OutboxMessage

BATCH = 100
KEPT = timedelta(days=30)

Send = Callable[[str, Mapping[str, Any], str], None]


def tell(topic: str, *, payload: Mapping[str, Any]) -> None:
    """The message is sent if the transaction that it is written in commits."""
    OutboxMessage.objects.create(topic=topic, payload=dict(payload), created_at=timezone.now())


def relay(*, topics: Collection[str], send: Send) -> int:
    """Waiting messages of these topics are sent, oldest first; returns how many.

    Locks a batch at a time, skipping what another relay has in hand. A crash between sending and commit
    sends again under the same id, so whoever listens must not mind hearing twice.
    """
    sent = 0
    while batch := _relay_batch(topics, send):
        sent += batch
    return sent


def forget_old() -> int:
    """Messages sent longer ago than KEPT are gone; returns how many."""
    return OutboxMessage.objects.filter(sent_at__lt=timezone.now() - KEPT).delete()[0]


@transaction.atomic
def _relay_batch(topics: Collection[str], send: Send) -> int:
    waiting = OutboxMessage.objects.filter(sent_at=None, topic__in=topics).order_by("id")
    batch = list(waiting.select_for_update(skip_locked=True)[:BATCH])
    for message in batch:
        send(message.topic, message.payload, f"outbox-{message.pk}")
    OutboxMessage.objects.filter(pk__in=[message.pk for message in batch]).update(sent_at=timezone.now())
    return len(batch)
