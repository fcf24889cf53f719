"""Entity tags (RFC 9110, 8.8.3 and 13.1.1): a deed is done on the state that its caller has seen."""

import re

from rest_framework.exceptions import ParseError
from rest_framework.request import Request

HEADER = "If-Match"
_TAG = r'(?:W/)?"[\x21\x23-\x7e\x80-\xff]*"'
_ITEM = re.compile(rf"[ \t]*({_TAG})?[ \t]*(?:,|\Z)")  # one of a list, perhaps empty: read in one pass


def tag(edition: str) -> str:
    """The edition as a strong entity tag."""
    return f'"{edition}"'


def wanted_editions(request: Request) -> frozenset[str] | None:
    """The editions that a deed may be done on; None when any will do.

    A weak tag stands for no edition here: If-Match compares strongly. Refuses with 400 what is no list
    of entity tags.
    """
    given = request.headers.get(HEADER)
    if given is None or given.strip() == "*":
        return None
    return frozenset(found[1:-1] for found in _tags(given) if not found.startswith("W/"))


def _tags(given: str) -> list[str]:
    found: list[str] = []
    at = 0
    while at < len(given) and (item := _ITEM.match(given, at)):
        found += filter(None, [item[1]])
        at = item.end()
    if at < len(given) or not found:
        raise ParseError(f'{HEADER} must be an ETag in its quotes as it was given, several, or "*".')
    return found
