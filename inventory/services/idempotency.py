"""A write under a key happens once, however often it is asked for."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.db import connection, transaction
from django.utils import timezone

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from inventory.models import IdempotencyKey

KEPT = timedelta(days=7)
LONGEST_KEY = 200


class KeyReused(BadInput):
    """The key was used before for another request."""

    code = "key_reused"

    def __init__(self) -> None:
        sentence = "Idempotency-Key was used before for another request; use a new key for a new request."
        super().__init__([FieldError("", sentence)])


@dataclass(frozen=True, slots=True)
class Response:
    """What is answered: a status and a JSON body; `replayed` when it was answered before."""

    status: int
    body: Any
    replayed: bool = False


def once(key: str, *, actor: Actor, fingerprint: str, work: Callable[[], Response]) -> Response:
    """The work's response, from doing it now or from the time when it was done.

    The key's row is inserted in the transaction of the effect: a twin waits for it, then replays the
    response. Work that raises leaves no key behind. Keys are the actor's own. Refuses with KeyReused the
    same key with another fingerprint.
    """
    if not 0 < len(key) <= LONGEST_KEY:
        sentence = f"Idempotency-Key must have 1 to {LONGEST_KEY} characters."
        raise BadInput([FieldError("", sentence)])
    with transaction.atomic():
        row_id = _claim(key, actor, fingerprint)
        if row_id is None:
            return _replay(key, actor, fingerprint)
        response = work()
        IdempotencyKey.objects.filter(pk=row_id).update(status=response.status, body=response.body)
        return response


def forget_old() -> int:
    """Keys older than KEPT are gone; returns how many."""
    return IdempotencyKey.objects.filter(created_at__lt=timezone.now() - KEPT).delete()[0]


def _claim(key: str, actor: Actor, fingerprint: str) -> int | None:
    """The new row's id, or None when the key is taken; waits for a twin that is at work."""
    with connection.cursor() as cursor:
        cursor.execute(
            "INSERT INTO inventory_idempotencykey (actor, key, fingerprint, created_at) "
            "VALUES (%s, %s, %s, %s) ON CONFLICT (actor, key) DO NOTHING RETURNING id",
            [actor.name, key, fingerprint, timezone.now()],
        )
        row = cursor.fetchone()
    return None if row is None else int(row[0])


def _replay(key: str, actor: Actor, fingerprint: str) -> Response:
    row = IdempotencyKey.objects.get(actor=actor.name, key=key)
    if row.fingerprint != fingerprint:
        raise KeyReused
    assert row.status is not None  # Written in the transaction that committed the row.
    return Response(row.status, row.body, replayed=True)
