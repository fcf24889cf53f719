"""Every error as an RFC 9457 problem document, translated in this one place."""

import logging
from collections.abc import Iterator, Mapping, Sequence
from http import HTTPStatus
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import InterfaceError, OperationalError
from django.http import Http404, HttpRequest, HttpResponseBase, JsonResponse
from django.views import defaults
from rest_framework.exceptions import APIException, ValidationError
from rest_framework.response import Response
from rest_framework.views import set_rollback

from inventory.errors import BadInput, FieldError, NotEnoughStock, Refusal, Unknown, summary
from shop.refusals import status_of

MEDIA_TYPE = "application/problem+json"
RETRY_AFTER_S = "5"
_log = logging.getLogger(__name__)


def handle(exc: Exception, context: Mapping[str, Any]) -> Response:
    """DRF's exception handler: no answer of the API is an error in any other shape."""
    set_rollback()
    path = context["request"].path
    if isinstance(exc, Unknown):
        exc = _named_in_body(exc, context["request"])
    if isinstance(exc, Refusal):
        return _response(refusal(exc, path))
    if isinstance(exc, ValidationError):
        return _response(invalid(exc, path))
    if isinstance(exc, Http404 | PermissionDenied):
        status = 404 if isinstance(exc, Http404) else 403
        return _response(problem(status, path=path))
    if isinstance(exc, APIException):
        headers = {"Retry-After": f"{int(wait)}"} if (wait := getattr(exc, "wait", None)) else {}
        if header := getattr(exc, "auth_header", None):
            headers["WWW-Authenticate"] = header
        return _response(problem(exc.status_code, path=path, detail=str(exc.detail)), headers)
    return _unexpected(exc, path)


def problem(status: int, *, path: str, detail: str = "", **extra: Any) -> dict[str, Any]:
    """One problem document; `extra` are its extension members.

    A program finds every fault under `errors`; one that concerns the whole request has an empty pointer.
    """
    phrase = HTTPStatus(status).phrase
    sentence = detail or f"{phrase}."
    return {
        "type": "about:blank",
        "title": phrase,
        "status": status,
        "detail": sentence,
        "instance": path,
        "errors": [{"pointer": "", "detail": sentence}],
        **extra,
    }


def refusal(exc: Refusal, path: str) -> dict[str, Any]:
    """A business refusal: 422, 403, 404 or 412 by its kind, 409 otherwise."""
    status = status_of(exc)
    extra: dict[str, Any] = {"code": exc.code}
    if isinstance(exc, BadInput):
        extra["errors"] = _errors(exc.errors)
    if isinstance(exc, NotEnoughStock):
        extra["short"] = [{"item": s.item, "wanted": s.wanted, "free": s.free} for s in exc.short]
    return problem(status, path=path, detail=exc.sentence, **extra)


def invalid(exc: ValidationError, path: str) -> dict[str, Any]:
    """What a serializer refused, each fault with its pointer."""
    errors = list(_faults(exc.detail))
    return problem(422, path=path, detail=summary(errors), code="bad_input", errors=_errors(errors))


def not_found(request: HttpRequest, exception: Exception) -> HttpResponseBase:
    """Django's 404 page, as a problem document inside the API."""
    if not request.path.startswith("/api/"):
        return defaults.page_not_found(request, exception)
    body = problem(404, path=request.path, detail="There is nothing at this address.")
    return JsonResponse(body, status=404, content_type=MEDIA_TYPE)


def server_error(request: HttpRequest) -> HttpResponseBase:
    """Django's 500 page, as a problem document inside the API."""
    if not request.path.startswith("/api/"):
        return defaults.server_error(request)
    return JsonResponse(problem(500, path=request.path), status=500, content_type=MEDIA_TYPE)


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponseBase:
    """Django's 400 page, as a problem document inside the API."""
    if not request.path.startswith("/api/"):
        return defaults.bad_request(request, exception)
    return JsonResponse(problem(400, path=request.path), status=400, content_type=MEDIA_TYPE)


def _named_in_body(exc: Unknown, request: Any) -> Refusal:
    """A name that the body gave makes the body wrong; one that the address gave makes the address wrong."""
    body = getattr(request, "_full_data", None)  # what was parsed; asking `data` might parse and fail again
    pointer = next(_pointers_to(exc.name, body), None)
    return exc if pointer is None else BadInput([FieldError(pointer, exc.sentence)])


def _pointers_to(name: str, value: Any, pointer: str = "") -> Iterator[str]:
    if isinstance(value, Mapping):
        for key, inner in value.items():
            yield from _pointers_to(name, inner, f"{pointer}/{_escaped(key)}")
    elif isinstance(value, list):
        for index, inner in enumerate(value):
            yield from _pointers_to(name, inner, f"{pointer}/{index}")
    elif pointer and not isinstance(value, bool) and str(value) == name:
        yield pointer


def _unexpected(exc: Exception, path: str) -> Response:
    if isinstance(exc, OperationalError | InterfaceError):
        _log.exception("The database did not answer.")
        body = problem(503, path=path, detail="The database does not answer right now; try again.")
        return _response(body, {"Retry-After": RETRY_AFTER_S})
    _log.exception("Unexpected error.")
    return _response(problem(500, path=path, detail="Something went wrong here; nothing was changed."))


def _response(body: dict[str, Any], headers: dict[str, str] | None = None) -> Response:
    return Response(body, status=body["status"], headers=headers, content_type=MEDIA_TYPE)


def _errors(errors: Sequence[FieldError]) -> list[dict[str, str]]:
    return [{"pointer": error.pointer, "detail": error.detail} for error in errors]


def _faults(detail: Any, pointer: str = "") -> Iterator[FieldError]:
    if isinstance(detail, Mapping):
        for key, inner in detail.items():
            own = pointer if key == "non_field_errors" else f"{pointer}/{_escaped(key)}"
            yield from _faults(inner, own)
    elif isinstance(detail, list | tuple):
        for index, inner in enumerate(detail):
            is_sentence = isinstance(inner, str)
            yield from _faults(inner, pointer if is_sentence else f"{pointer}/{index}")
    else:
        yield FieldError(pointer, _sentence(pointer, str(detail)))


def _sentence(pointer: str, detail: str) -> str:
    """The fault with the name of its field before it: `lot must be text.`, `quotes[3] must be text.`"""
    *above, name = pointer.split("/")
    if name.isdecimal() and above:
        name = f"{above[-1]}[{name}]"
    if not name:
        return detail
    return f"{name} {detail}" if detail[:1].islower() else f"{name}: {detail}"


def _escaped(key: object) -> str:
    return str(key).replace("~", "~0").replace("/", "~1")
