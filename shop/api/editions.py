"""Entity tags (RFC 9110, 8.8.3 and 13.1): deeds on what their caller has seen, and no answer twice."""

import re
from collections.abc import Callable, Collection, Mapping
from typing import Any

from rest_framework.exceptions import ParseError
from rest_framework.request import Request
from rest_framework.response import Response

from inventory.actors import Actor
from shop.api.once import Answer, once, once_if_named

IF_MATCH, IF_NONE_MATCH = "If-Match", "If-None-Match"
_TAG = r'(?:W/)?"[\x21\x23-\x7e\x80-\xff]*"'
_ITEM = re.compile(rf"[ \t]*({_TAG})?[ \t]*(?:,|\Z)")  # one of a list, perhaps empty: read in one pass
# What a quote's lines have free is no part of its tag, so that no cache may keep the answer by it.
NOT_KEPT, KEPT = "no-store", "private, no-cache"
MustBe = Callable[[Collection[str]], None]


def tag(edition: str) -> str:
    """The edition as a strong entity tag."""
    return f'"{edition}"'


def told(document: Mapping[str, Any], edition: str, status: int = 200) -> Answer:
    """The document of a thing in this edition, as a deed answers it."""
    return Answer(status, document, {"ETag": tag(edition)})


def read(request: Request, document: Mapping[str, Any], edition: str, *, cached: str = KEPT) -> Response:
    """The document, or 304 without one when the caller has this edition already."""
    headers = {"ETag": tag(edition), "Cache-Control": cached}
    given = request.headers.get(IF_NONE_MATCH)
    if given is not None and _knows(given, edition):
        return Response(status=304, headers=headers)
    return Response(document, headers=headers)


def deed(request: Request, do: Callable[[Actor], Answer], *, must_be: MustBe) -> Response:
    """Do it once, on an edition that the caller has seen; what was done already is answered as then."""
    return once(request, _on_seen(request, do, must_be))


def change(request: Request, do: Callable[[Actor], Answer], *, must_be: MustBe) -> Response:
    """As `deed`, for a method that may name an Idempotency-Key and need not."""
    return once_if_named(request, _on_seen(request, do, must_be))


def _on_seen(request: Request, do: Callable[[Actor], Answer], must_be: MustBe) -> Callable[[Actor], Answer]:
    def done(actor: Actor) -> Answer:
        given = request.headers.get(IF_MATCH)
        if given is not None and given.strip() != "*":
            # A weak tag stands for no edition here: If-Match compares strongly.
            must_be({one[1:-1] for one in _tags(given, IF_MATCH) if not one.startswith("W/")})
        return do(actor)

    return done


def _knows(given: str, edition: str) -> bool:
    """Weak comparison: a weak tag names its edition as well."""
    if given.strip() == "*":
        return True
    return tag(edition) in {one.removeprefix("W/") for one in _tags(given, IF_NONE_MATCH)}


def _tags(given: str, header: str) -> list[str]:
    """The entity tags of a header's list; refuses with 400 what is none."""
    found: list[str] = []
    at = 0
    while at < len(given) and (item := _ITEM.match(given, at)):
        found += filter(None, [item[1]])
        at = item.end()
    if at < len(given) or not found:
        raise ParseError(f'{header} must be an ETag in its quotes as it was given, several, or "*".')
    return found
