"""Entity tags (RFC 9110, 8.8.3 and 13.1.1): a deed is done on the state that its caller has seen."""

import re

from rest_framework.exceptions import ParseError
from rest_framework.request import Request

HEADER = "If-Match"
_TAG = r'(?:W/)?"[\x21\x23-\x7e\x80-\xff]*"'
_TAGS = re.compile(rf"\s*,*\s*{_TAG}(?:\s*,\s*(?:{_TAG})?)*\s*")


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
    if not _TAGS.fullmatch(given):
        raise ParseError(f'{HEADER} must be an ETag in its quotes as it was given, several, or "*".')
    return frozenset(found[1:-1] for found in re.findall(_TAG, given) if not found.startswith("W/"))
