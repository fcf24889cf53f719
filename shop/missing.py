"""What an address where nothing is answers: a problem document for programs, a page for people."""

from django.http import HttpRequest, HttpResponseBase

from shop.api import problems
from shop.views import door


def not_found(request: HttpRequest, exception: Exception) -> HttpResponseBase:
    """Answer by where the address would have been."""
    kind = problems if request.path.startswith("/api/") else door
    return kind.not_found(request, exception)
