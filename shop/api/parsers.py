"""Request bodies: strict JSON of a sensible size."""

from collections.abc import Mapping
from typing import IO, Any

from rest_framework.exceptions import APIException, ParseError
from rest_framework.parsers import BaseParser

from shop.calc import strict_json

LARGEST_BODY_BYTES = 2_000_000  # a count of 10,000 lines is about 1 MB


class TooLarge(APIException):
    """The body is larger than anything this interface takes."""

    status_code = 413
    default_detail = f"The body is larger than {LARGEST_BODY_BYTES} bytes."
    default_code = "too_large"


class StrictJSONParser(BaseParser):
    """JSON without NaN, Infinity, twin keys, bottomless nesting or bodies of many megabytes."""

    media_type = "application/json"

    def parse(
        self, stream: IO[Any], media_type: str | None = None, parser_context: Mapping[str, Any] | None = None
    ) -> Any:
        """The value of the body; refuses with 400 or 413."""
        raw = stream.read(LARGEST_BODY_BYTES + 1)
        if len(raw) > LARGEST_BODY_BYTES:
            raise TooLarge
        try:
            return strict_json.loads(raw)
        except strict_json.BadJson as error:
            raise ParseError(f"The body cannot be read as JSON. {error}") from None
