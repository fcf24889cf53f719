"""The answer after too many failed tries to sign in, and when the next try counts again."""

from datetime import datetime
from typing import Any

from axes.helpers import get_cool_off
from axes.models import AccessAttempt
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

Credentials = dict[str, Any] | None


def answer(request: HttpRequest, original: Any = None, credentials: Credentials = None) -> HttpResponse:
    """A problem document for programs, the sign-in page for people."""
    if request.path.startswith("/api/"):
        from shop.api.sign_in import locked_out

        return locked_out(request)
    from shop.views.sign_in import locked_out as page

    name = str((credentials or {}).get("username") or request.POST.get("username", ""))
    return page(request, name=name, again_at=again_at(request, name))


def again_at(request: HttpRequest, name: str) -> datetime:
    """When a try of this name from this machine counts again."""
    cool_off = get_cool_off(request)
    assert cool_off is not None  # A setting of the house, never empty.
    tries = AccessAttempt.objects.filter(username=name, ip_address=request.META.get("REMOTE_ADDR"))
    last = tries.order_by("-attempt_time").values_list("attempt_time", flat=True).first()
    return (last or timezone.now()) + cool_off
