"""`GET /healthz`: 200 when every part is up, 503 naming the part that is not."""

from django.http import HttpRequest, JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shop.services import health


@require_safe
@never_cache
def healthz(request: HttpRequest) -> JsonResponse:
    """Report each part; no sign-in, no figures of the shop."""
    report = health.report()
    return JsonResponse(report, status=503 if report["down"] else 200)
