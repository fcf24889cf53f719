"""The diary of the counter: one row for everything that somebody did."""

from inventory.actors import Actor
from shop.models import Change

LONGEST_WHY = 300


def record(subject: str, *, what: str, actor: Actor, why: str = "") -> None:
    """Write down who did what and why, in the transaction of the deed itself."""
    Change.objects.create(
        subject=subject, what=what, why=why[:LONGEST_WHY], by=actor.name, request_id=actor.request_id
    )
