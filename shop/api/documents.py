"""Paper of a quote and labels of items: build sheet, quote, kit label, upkeep calendar, shelf label."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.documents.labels import shelf_label
from kits.documents.build_sheet import build_sheet
from shop.api import files
from shop.api.authentication import reader_of
from shop.api.problems import MEDIA_TYPE
from shop.api.shapes import hands_out
from shop.calc.calendar import calendar
from shop.documents.kit_label import kit_label
from shop.documents.quote import quote
from shop.permissions import actor_for
from shop.selectors import documents

HTML = "text/html"
PROBLEM_OR_PAGE = (MEDIA_TYPE, "application/json", files.PDF, files.CALENDAR, HTML)
PAPER = OpenApiParameter(
    "paper", OpenApiTypes.STR, description="letter (usual) or a4; anything else answers 422."
)
DPI = OpenApiParameter("dpi", OpenApiTypes.STR, description="203 (usual) or 300; anything else answers 422.")


class Opened(APIView):
    """An address that people open in a browser: to them a refusal is a page in plain words."""

    def handle_exception(self, exc: Exception) -> Any:
        """The problem document, or its sentence as a page for whoever would rather have HTML.

        Whoever is not signed in may do that first.
        """
        response: Response = super().handle_exception(exc)
        if self.request.get_preferred_type(PROBLEM_OR_PAGE) != HTML:
            return response
        return _page(self.request._request, response)


def _page(request: HttpRequest, response: Response) -> HttpResponse:
    if not request.user.is_authenticated:
        return redirect(f"{reverse('sign_in')}?{urlencode({'next': request.get_full_path()})}")
    request.actor = actor_for(request.user)  # type: ignore[attr-defined]
    context = {"refusal": response.data["detail"], "is_missing": response.status_code == 404}
    page = render(request, "shop/refused.html", context, status=response.status_code)
    page.headers["Cache-Control"] = "private, no-store"
    return page


class Document(Opened):
    """A PDF."""

    renderer_classes = [JSONRenderer, files.PdfAsked]


class QuoteBuildSheet(Document):
    """What the customer builds from."""

    @hands_out(files.PDF, 422, parameters=(PAPER,), operation_id="print_build_sheet")
    def get(self, request: Request, number: str) -> HttpResponse:
        """The build sheet of the quote's version, to scale."""
        reader_of(request)
        sheet, scene = documents.build_sheet(number)
        content = build_sheet(sheet, scene, paper=files.paper_of(request))
        return files.answer(content, name=f"build-sheet-{number}.pdf")


class QuotePaper(Document):
    """What the customer is offered."""

    @hands_out(files.PDF, 422, parameters=(PAPER,), operation_id="print_quote")
    def get(self, request: Request, number: str) -> HttpResponse:
        """The quote with its lines, sums and promises."""
        reader_of(request)
        content = quote(documents.quote_sheet(number), paper=files.paper_of(request))
        return files.answer(content, name=f"quote-{number}.pdf")


class QuoteKitLabel(Document):
    """What is stuck on the box."""

    @hands_out(files.PDF, 422, parameters=(DPI,), operation_id="print_kit_label")
    def get(self, request: Request, number: str) -> HttpResponse:
        """The kit label, 102 x 152 mm, with its code in whole printer dots."""
        reader_of(request)
        content = kit_label(documents.kit_label(number), dpi=files.dpi_of(request))
        return files.answer(content, name=f"kit-label-{number}.pdf")


class QuoteCalendar(Opened):
    """What the customer is reminded of."""

    renderer_classes = [JSONRenderer, files.CalendarAsked]

    @hands_out(files.CALENDAR, 422, operation_id="read_kit_calendar")
    def get(self, request: Request, number: str) -> HttpResponse:
        """The upkeep of the kit as a calendar file (RFC 5545)."""
        reader_of(request)
        files.only(request)
        content = calendar(documents.kit_calendar(number))
        return files.answer(content, name=f"upkeep-{number}.ics", media_type=files.CALENDAR)


class ItemLabel(Document):
    """What stands on the shelf."""

    @hands_out(files.PDF, 422, parameters=(DPI,), operation_id="print_shelf_label")
    def get(self, request: Request, code: str) -> HttpResponse:
        """The shelf label of an item, 57 x 32 mm, with its code in whole printer dots."""
        reader_of(request)
        content = shelf_label(documents.shelf_label(code), dpi=files.dpi_of(request))
        return files.answer(content, name=f"label-{code}.pdf")
