"""What the shop does in the background."""

from celery import shared_task

from shop.services import backups, pulse


@shared_task
def heartbeat() -> None:
    """Prove that tasks come through from beat to a worker."""
    pulse.note_task_ran()


@shared_task
def back_up_nightly() -> None:
    """Make the nightly backup when it is due."""
    backups.back_up_when_due()
