"""What is known of animals, plants, crews, enclosures, styles and media, and the shop's own figures."""

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.actors import Actor
from kits.selectors import fact_sheets
from kits.services import overrides
from shop.api.authentication import reader_of
from shop.api.inputs import GIVEN, Input, StrictText, checked
from shop.api.once import Answer, once_if_named
from shop.api.pages import search_of
from shop.api.shapes import MAY_KEY, reads, writes

KIND = OpenApiParameter("kind", OpenApiTypes.STR, OpenApiParameter.PATH, enum=fact_sheets.KINDS)
CODE = OpenApiParameter("code", OpenApiTypes.STR, OpenApiParameter.PATH)
FIELD = OpenApiParameter("field", OpenApiTypes.STR, OpenApiParameter.PATH)
SEARCH = OpenApiParameter("search", OpenApiTypes.STR, description="A part of the code or of a name.")
ANY_VALUE = {"oneOf": [{"type": "number"}, {"type": "string"}, {"type": "boolean"}], "nullable": True}


@extend_schema_field(ANY_VALUE)
class ValueField(serializers.JSONField):
    """A number, a text, or true or false."""

    default_error_messages = GIVEN


class OwnFigure(Input):
    """The shop's own figure, and why."""

    value = ValueField()
    why = StrictText(max_length=500)


class SourceShape(serializers.Serializer[Any]):
    """Where a figure was read."""

    tag = serializers.CharField()
    words = serializers.CharField()
    address = serializers.CharField(allow_blank=True)


class FigureShape(serializers.Serializer[Any]):
    """One figure as it counts; `published` stands beside the shop's own."""

    field = serializers.CharField()
    value = ValueField()
    unit = serializers.CharField(allow_blank=True)
    mark = serializers.ChoiceField(list(fact_sheets.MARKS))
    source = serializers.CharField()  # type: ignore[assignment]
    read_in = SourceShape(many=True)
    published = ValueField(required=False, allow_null=True)


class SubjectShape(serializers.Serializer[Any]):
    """Something that figures are known of."""

    kind = serializers.ChoiceField(fact_sheets.KINDS)
    code = serializers.CharField()
    name = serializers.CharField()
    english_name = serializers.CharField(allow_blank=True)


class FactSheetShape(SubjectShape):
    """A subject with its figures."""

    figures = FigureShape(many=True)


class Facts(APIView):
    """The subjects of one kind."""

    @reads(SubjectShape(many=True), 404, parameters=(KIND, SEARCH), operation_id="list_facts")
    def get(self, request: Request, kind: str) -> Response:
        """Every subject of the kind, by code."""
        reader_of(request)
        return Response(fact_sheets.listed(kind, search=search_of(request)))


class OneFactSheet(APIView):
    """All that is known of one subject."""

    @reads(FactSheetShape, 404, parameters=(KIND, CODE), operation_id="read_facts")
    def get(self, request: Request, kind: str, code: str) -> Response:
        """Its figures, each with unit, mark and source."""
        reader_of(request)
        return Response(fact_sheets.sheet(kind, code).as_json())


class OneFigure(APIView):
    """The shop's own figure of one subject."""

    @writes(OwnFigure, FactSheetShape, 404, parameters=(MAY_KEY, KIND, CODE, FIELD), operation_id="set_fact")
    def put(self, request: Request, kind: str, code: str, field: str) -> Response:
        """The shop's own figure counts, whatever later versions publish."""
        data = checked(OwnFigure, request.data)

        def done(actor: Actor) -> Answer:
            overrides.set(kind, code=code, field=field, actor=actor, **data)
            return _told(kind, code)

        return once_if_named(request, done)

    @writes(None, FactSheetShape, 404, parameters=(MAY_KEY, KIND, CODE, FIELD), operation_id="clear_fact")
    def delete(self, request: Request, kind: str, code: str, field: str) -> Response:
        """The published figure counts again."""

        def done(actor: Actor) -> Answer:
            overrides.clear(kind, code=code, field=field, actor=actor)
            return _told(kind, code)

        return once_if_named(request, done)


def _told(kind: str, code: str) -> Answer:
    return Answer(200, fact_sheets.sheet(kind, code).as_json())
