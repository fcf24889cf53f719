"""Many sheets or labels at once: order a print, watch it, cancel it, print the rest, take it."""

from typing import Any

from django.http import FileResponse
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from shop.api import files
from shop.api.authentication import reader_of
from shop.api.documents import Document
from shop.api.inputs import Input, Nothing, OneOf, Several, StrictInteger, StrictText, checked
from shop.api.once import Answer, once
from shop.api.pages import page, state_of
from shop.api.shapes import KEY, hands_out, reads, writes
from shop.models import PrintJob
from shop.selectors import prints
from shop.services import printing

PK = OpenApiParameter("pk", OpenApiTypes.INT, OpenApiParameter.PATH)


class NewPrint(Input):
    """Which document, of which quotes or (shelf labels) items, on which paper or printer."""

    document = OneOf(PrintJob.Document.choices)
    quotes = Several(child=StrictText(max_length=16), required=False, max_length=500)
    items = Several(child=StrictText(max_length=64), required=False, max_length=500)
    paper = StrictText(max_length=16, required=False)
    dpi = StrictInteger(required=False)


class Rest(Input):
    """From where to print again; left out, a stopped print goes on where it stopped."""

    after = StrictInteger(min_value=0, max_value=100_000, required=False)


class PrintJobShape(serializers.Serializer[Any]):
    """A print and how far it is."""

    id = serializers.IntegerField()
    document = serializers.CharField()
    state = serializers.ChoiceField(["queued", "running", "done", "cancelled", "failed"])
    done = serializers.IntegerField()
    total = serializers.IntegerField()
    paper = serializers.CharField()
    dpi = serializers.IntegerField()
    problem = serializers.CharField(allow_blank=True)
    result = serializers.CharField(allow_null=True, help_text="Where what is drawn can be taken.")
    created_at = serializers.DateTimeField()
    created_by = serializers.CharField()


class PrintJobPage(serializers.Serializer[Any]):
    """One page of prints."""

    count = serializers.IntegerField()
    next = serializers.CharField(allow_null=True)
    previous = serializers.CharField(allow_null=True)
    results = PrintJobShape(many=True)


class PrintJobs(APIView):
    """Prints of many."""

    @reads(
        PrintJobPage,
        404,
        422,
        parameters=(
            OpenApiParameter("state", OpenApiTypes.STR, enum=PrintJob.State.values),
            OpenApiParameter("page", OpenApiTypes.INT),
        ),
        operation_id="list_prints",
    )
    def get(self, request: Request) -> Response:
        """Prints, newest first."""
        reader_of(request)
        return page(request, prints.listing(state=state_of(request, PrintJob.State.values)), prints.document)

    @writes(NewPrint, PrintJobShape, 404, status=202, operation_id="order_print")
    def post(self, request: Request) -> Response:
        """The print is queued; Location says where to watch it."""
        return once(request, lambda actor: _ordered(checked(NewPrint, request.data), actor))


class OnePrintJob(APIView):
    """One print."""

    @reads(PrintJobShape, 404, parameters=(PK,), operation_id="read_print")
    def get(self, request: Request, pk: str) -> Response:
        """How far it is."""
        reader_of(request)
        return Response(prints.document(prints.find(int(pk))))


class PrintJobCancel(APIView):
    """Stop a print."""

    @writes(Nothing, PrintJobShape, 404, parameters=(PK, KEY), operation_id="cancel_print")
    def post(self, request: Request, pk: str) -> Response:
        """It stops after the target that is being drawn; what is drawn is kept."""
        checked(Nothing, request.data)
        return once(request, lambda actor: _shown(printing.cancel(int(pk), actor=actor)))


class PrintJobResume(APIView):
    """Print the rest."""

    @writes(Rest, PrintJobShape, 404, parameters=(PK, KEY), operation_id="resume_print")
    def post(self, request: Request, pk: str) -> Response:
        """A stopped print goes on; with `after`, what comes after so many is a new print."""
        after = checked(Rest, request.data).get("after")
        return once(request, lambda actor: _shown(printing.resume(int(pk), actor=actor, after=after)))


class PrintJobFile(Document):
    """What a print has drawn."""

    @hands_out(files.PDF, 409, parameters=(PK,), operation_id="take_print")
    def get(self, request: Request, pk: str) -> FileResponse:
        """One PDF of all that is drawn; 409 while the print is not finished."""
        reader_of(request)
        path = printing.file_of(prints.find(int(pk)))
        return FileResponse(path.open("rb"), content_type=files.PDF, filename=f"print-{pk}.pdf")


def _ordered(data: dict[str, Any], actor: Actor) -> Answer:
    kind = "items" if data["document"] == PrintJob.Document.SHELF_LABEL else "quotes"
    other = "quotes" if kind == "items" else "items"
    if other in data:
        raise BadInput(
            [FieldError(f"/{other}", f"{other} does not go with {data['document']}: name {kind}.")]
        )
    wanted = printing.Wanted(
        document=data["document"],
        targets=data.get(kind, []),
        paper=data.get("paper", files.PAPER),
        dpi=data.get("dpi", files.DPI),
    )
    answer = _shown(printing.order(wanted, actor=actor))
    return Answer(202, answer.body, {"Location": f"/api/print-jobs/{answer.body['id']}/", "Retry-After": "1"})


def _shown(job: PrintJob) -> Answer:
    return Answer(200, prints.document(job))
