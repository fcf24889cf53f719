"""Paper of a quote and labels of items: build sheet, quote, kit label, upkeep calendar, shelf label."""

from django.http import HttpResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.views import APIView

from inventory.documents.labels import shelf_label
from kits.documents.build_sheet import build_sheet
from shop.api import files
from shop.api.authentication import reader_of
from shop.api.shapes import hands_out
from shop.calc.calendar import calendar
from shop.documents.kit_label import kit_label
from shop.documents.quote import quote
from shop.selectors import documents

PAPER = OpenApiParameter(
    "paper", OpenApiTypes.STR, description="letter (usual) or a4; anything else answers 422."
)
DPI = OpenApiParameter("dpi", OpenApiTypes.STR, description="203 (usual) or 300; anything else answers 422.")


class Document(APIView):
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


class QuoteCalendar(APIView):
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
