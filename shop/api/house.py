"""The house's own settings: everybody reads them, the owner changes them."""

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from shop.api.authentication import actor_of, reader_of
from shop.api.inputs import GIVEN, Exact, Input, OneOf, StrictBoolean, StrictInteger, StrictText, checked
from shop.api.shapes import reads, writes
from shop.models import House
from shop.services import house

LARGEST_DAYS = 365


@extend_schema_field(OpenApiTypes.STR)
class ClockTime(serializers.TimeField):
    """Hours and minutes as the shop's clock shows them, without an offset."""

    default_error_messages = GIVEN | {"invalid": "must be a time such as 18:00."}


class Currency(serializers.RegexField):
    """A currency's three letters (ISO 4217)."""

    default_error_messages = GIVEN | {"invalid": "must be three capital letters such as EUR."}


class Settings(Input):
    """Settings to change; what is left out stays."""

    name = StrictText(max_length=120, required=False)
    town = StrictText(max_length=120, required=False, allow_blank=True)
    timezone = StrictText(max_length=64, required=False)
    currency = Currency(r"^[A-Z]{3}$", required=False)
    tax_basis = OneOf(House.TaxBasis.values, required=False)
    prices_include_tax = StrictBoolean(required=False)
    electricity_price = Exact(8, 4, min_value=0, required=False)
    breaker_a = Exact(6, 2, min_value=1, required=False)
    volts = Exact(6, 2, min_value=1, required=False)
    closing_time = ClockTime(required=False)
    hold_days = StrictInteger(min_value=0, max_value=LARGEST_DAYS, required=False)
    hold_days_max = StrictInteger(min_value=1, max_value=LARGEST_DAYS, required=False)
    quote_days = StrictInteger(min_value=0, max_value=LARGEST_DAYS, required=False)
    counter_discount_pct = Exact(5, 2, min_value=0, max_value=100, required=False)


class HouseShape(serializers.ModelSerializer[House]):
    """What the house has decided."""

    closing_time = ClockTime()

    class Meta:
        model = House
        exclude = ("id", "demo_state")


class OneHouse(APIView):
    """The house."""

    @reads(HouseShape, operation_id="read_house")
    def get(self, request: Request) -> Response:
        """What the house has decided."""
        reader_of(request)
        return Response(HouseShape(House.current()).data)

    @writes(Settings, HouseShape, parameters=(), operation_id="change_house")
    def patch(self, request: Request) -> Response:
        """Some settings changed; nothing is when one of them is wrong."""
        settings: dict[str, Any] = checked(Settings, request.data)
        return Response(HouseShape(house.change(settings, actor=actor_of(request))).data)
