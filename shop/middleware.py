"""What every request and answer carries: an id, what browsers may do, and how long the session lasts."""

import logging
import re
import time
import uuid
from collections.abc import Callable
from contextvars import ContextVar

from django.conf import settings
from django.http import HttpRequest, HttpResponse

HEADER = "X-Request-ID"
_USABLE = re.compile(r"[A-Za-z0-9._:@+/=-]{1,64}")
_current: ContextVar[str] = ContextVar("request_id", default="")


def current_request_id() -> str:
    """The id of the request being answered, empty outside one."""
    return _current.get()


class RequestId:
    """Middleware that gives every request, its answer, its actor and its log lines the same id."""

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


class PagePolicies:
    """Middleware that tells browsers which of their powers a page of the shop never needs."""

    POLICY = ", ".join(f"{power}=()" for power in ("camera", "geolocation", "microphone", "payment", "usb"))

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer with the policy on top."""
        response = self.get_response(request)
        response.headers.setdefault("Permissions-Policy", self.POLICY)
        return response


class SessionClock:
    """Middleware that knows when a session ends, prolongs one in use and tells the page how long it has.

    A session is written again only when more than half of it is over, so reading a page costs no write.
    """

    HEADER = "X-Session-Seconds"
    ENDS = "ends"

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Answer, and say on the answer for how many seconds the session still lasts."""
        if request.path.startswith("/api/"):
            return self.get_response(request)
        if request.user.is_authenticated and self._left(request) < settings.SESSION_COOKIE_AGE / 2:
            self.prolong(request)
        response = self.get_response(request)
        if request.user.is_authenticated:  # also whoever has just signed in
            response.headers[self.HEADER] = str(self._left(request))
        return response

    @classmethod
    def prolong(cls, request: HttpRequest) -> None:
        """The session lasts its full time from now."""
        request.session[cls.ENDS] = int(time.time()) + settings.SESSION_COOKIE_AGE

    def _left(self, request: HttpRequest) -> int:
        return max(int(request.session.get(self.ENDS, 0)) - int(time.time()), 0)
