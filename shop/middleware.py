"""One id for each request: taken from the caller or made here, put on the answer, the actor and the log."""

import logging
import re
import uuid
from collections.abc import Callable
from contextvars import ContextVar

from django.http import HttpRequest, HttpResponse

HEADER = "X-Request-ID"
_USABLE = re.compile(r"[A-Za-z0-9._:@+/=-]{1,64}")
_current: ContextVar[str] = ContextVar("request_id", default="")


def current_request_id() -> str:
    """The id of the request being answered, empty outside one."""
    return _current.get()


class RequestId:
    """Middleware that gives every request and its answer the same id."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer the request under its id."""
        given = request.headers.get(HEADER, "")
        request_id = given if _USABLE.fullmatch(given) else uuid.uuid4().hex
        request.request_id = request_id  # type: ignore[attr-defined]
        token = _current.set(request_id)
        try:
            response = self.get_response(request)
        finally:
            _current.reset(token)
        response.headers[HEADER] = request_id
        return response


class RequestIdFilter(logging.Filter):
    """Puts the request id on every log record."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Add the id; never drop a record."""
        record.request_id = _current.get() or "-"
        return True
