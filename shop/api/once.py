"""A deed happens once under its Idempotency-Key; the same key again gets the first answer."""

import hashlib
import json
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from django.db import transaction
from rest_framework.exceptions import ParseError
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.actors import Actor
from inventory.services import idempotency
from shop.api.authentication import actor_of

HEADER = "Idempotency-Key"
REPLAYED = "Idempotency-Replayed"


@dataclass(frozen=True, slots=True)
class Answer:
    """What a deed answers."""

    status: int
    body: Any
    headers: dict[str, str] = field(default_factory=dict)


def once(request: Request, do: Callable[[Actor], Answer]) -> Response:
    """Do it now, or answer as when it was done; a refused deed leaves its key unused."""
    actor = actor_of(request)
    found = idempotency.once(
        _key(request), actor=actor, fingerprint=_fingerprint(request), work=lambda: _stored(do(actor))
    )
    answer = found.body
    headers = {**answer["headers"], **({REPLAYED: "true"} if found.replayed else {})}
    return Response(answer["body"], status=found.status, headers=headers)


def once_if_named(request: Request, do: Callable[[Actor], Answer]) -> Response:
    """Once under its key when it names one; else now and whenever it is asked for."""
    if HEADER in request.headers:
        return once(request, do)
    with transaction.atomic():
        answer = do(actor_of(request))
    return Response(answer.body, status=answer.status, headers=answer.headers)


def _stored(answer: Answer) -> idempotency.Response:
    return idempotency.Response(answer.status, {"body": answer.body, "headers": answer.headers})


def _key(request: Request) -> str:
    key = request.headers.get(HEADER, "").strip()
    if not key:
        raise ParseError(f"The header {HEADER} is missing: every POST that writes needs one.")
    if not (len(key) <= idempotency.LONGEST_KEY and key.isprintable()):
        raise ParseError(
            f"The header {HEADER} must be printable, at most {idempotency.LONGEST_KEY} characters."
        )
    return key


def _fingerprint(request: Request) -> str:
    body = json.dumps(request.data, sort_keys=True, separators=(",", ":"))
    deed = f"{request.method} {request.path}\n{body}"
    return hashlib.sha256(deed.encode()).hexdigest()
