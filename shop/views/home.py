"""Where work begins."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from shop.views.door import screen
from shop.views.frame import rooms


@screen
def home(request: HttpRequest) -> HttpResponse:
    """The first room that there is."""
    return redirect(rooms()[0].address)
