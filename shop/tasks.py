"""What the shop does in the background. Every task may run twice without harm."""

from celery import shared_task
from django.core.management import call_command

from shop.services import attention, backups, printing, pulse, quotes, sign_ins


@shared_task
def heartbeat() -> None:
    """Prove that tasks come through from beat to a worker."""
    pulse.note_task_ran()


@shared_task
def back_up_nightly() -> None:
    """Make the nightly backup when it is due."""
    backups.back_up_when_due()


@shared_task
def look_after_demand(demand_ref: str) -> bool:
    """A hold was shortened or lapsed, or a waiting demand was filled: tell its quote or order."""
    return attention.look_after(demand_ref)


@shared_task
def lapse_quotes() -> int:
    """End the quotes whose last day is over."""
    return quotes.lapse_due()


@shared_task
def draw_print(pk: int) -> str:
    """Draw what is missing of a print; a second worker on the same print does no harm."""
    return printing.run(pk)


@shared_task
def forget_old_prints() -> int:
    """Clear away the files of old prints."""
    return printing.forget_old()


@shared_task
def forget_old_sessions() -> None:
    """Clear away the sessions that have ended."""
    call_command("clearsessions")


@shared_task
def forget_old_sign_ins() -> int:
    """Clear away failed tries that lock nobody out any more, and what is known of sign-ins long ago."""
    return sign_ins.forget_old()
