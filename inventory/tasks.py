"""What the inventory does in the background. Every task may run twice without harm."""

from collections.abc import Mapping
from typing import Any

from celery import current_app, shared_task
from django.conf import settings

from inventory.selectors import days
from inventory.services import holding, idempotency, lots, outbox


@shared_task(acks_late=True)
def send_outbox() -> int:
    """Pass waiting news on to the tasks that settings.OUTBOX_HANDLERS names."""
    handlers: Mapping[str, str] = settings.OUTBOX_HANDLERS

    def send(topic: str, payload: Mapping[str, Any], message_id: str) -> None:
        current_app.send_task(handlers[topic], kwargs=dict(payload), task_id=message_id)

    return outbox.relay(topics=list(handlers), send=send)


@shared_task(acks_late=True)
def lapse_overdue_holds() -> int:
    """End the holds that are past their time."""
    return holding.lapse_overdue()


@shared_task(acks_late=True)
def expire_lots() -> int:
    """Take lots past their best-before day off the sellable figure."""
    return lots.expire_due(days.today())


@shared_task(acks_late=True)
def forget_old_messages() -> int:
    """Drop idempotency keys and sent news that nobody asks for any more."""
    return idempotency.forget_old() + outbox.forget_old()
