"""Workings: every pure calculation of the house, listed and computed."""

from typing import Any

from drf_spectacular.types import OpenApiTypes
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.errors import BadInput, FieldError
from shop.api.shapes import asks, reads
from shop.calc import calculations


class ArgumentShape(serializers.Serializer[Any]):
    """One argument of a calculation."""

    name = serializers.CharField()
    about = serializers.CharField(help_text="What it is, its unit in square brackets, and what may not be.")
    unit = serializers.CharField(allow_blank=True)
    required = serializers.BooleanField()  # type: ignore[assignment]
    default = serializers.JSONField(required=False, help_text="Taken when it is left out.")


class CalculationShape(serializers.Serializer[Any]):
    """A calculation as it describes itself."""

    name = serializers.CharField()
    summary = serializers.CharField()
    formula = serializers.CharField()
    arguments = ArgumentShape(many=True)
    unit = serializers.CharField()
    result = serializers.CharField()
    valid = serializers.CharField(help_text="The range that the source covers.")
    source = serializers.CharField()  # type: ignore[assignment]


class WorkedShape(serializers.Serializer[Any]):
    """A figure with its unit and source."""

    name = serializers.CharField()
    value = serializers.JSONField()
    unit = serializers.CharField()
    source = serializers.CharField()  # type: ignore[assignment]
    valid = serializers.BooleanField(help_text="False where an argument lies outside the source's range.")
    note = serializers.CharField(required=False, help_text="Which range was left; only when not valid.")


class Workings(APIView):
    """All calculations."""

    @reads(CalculationShape(many=True), operation_id="list_workings")
    def get(self, request: Request) -> Response:
        """Every calculation with its arguments, units, valid range and source."""
        return Response(calculations.listed())


class OneWorking(APIView):
    """One calculation."""

    @asks(OpenApiTypes.OBJECT, WorkedShape, 404, operation_id="compute_working")
    def post(self, request: Request, name: str) -> Response:
        """The figure for these arguments, given as a JSON object."""
        if not isinstance(request.data, dict):
            raise BadInput([FieldError("", "The arguments must be a JSON object.")])
        return Response(calculations.compute(name, request.data))
