"""Items: find them, and see what is on hand, held and free."""

from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from shop.api.authentication import reader_of
from shop.api.pages import search_of
from shop.api.shapes import reads
from shop.selectors import items


class ItemShape(serializers.Serializer[Any]):
    """An item and its stock; `cost` only for those who may see it."""

    item = serializers.CharField()
    name = serializers.CharField()
    kind = serializers.CharField()
    base_unit = serializers.CharField()
    unit = serializers.CharField()
    price = serializers.CharField()
    cost = serializers.CharField(required=False)
    tax_rate_pct = serializers.CharField()
    family = serializers.CharField(allow_blank=True)
    place = serializers.CharField(allow_null=True)
    live = serializers.CharField(allow_blank=True)
    active = serializers.BooleanField()
    barcodes = serializers.ListField(child=serializers.CharField())
    on_hand = serializers.IntegerField()
    sellable = serializers.IntegerField()
    held = serializers.IntegerField()
    free = serializers.IntegerField()


class LotRowShape(serializers.Serializer[Any]):
    """One lot of an item at one place."""

    lot = serializers.CharField()
    place = serializers.CharField()
    state = serializers.CharField()
    best_before = serializers.DateField(allow_null=True)
    on_hand = serializers.IntegerField()


class ItemDetailShape(ItemShape):
    """An item with its pack, size, supply and care, and its lots."""

    content_quantity = serializers.IntegerField(allow_null=True)
    content_unit = serializers.CharField(allow_blank=True)
    length_mm = serializers.IntegerField(allow_null=True)
    width_mm = serializers.IntegerField(allow_null=True)
    height_mm = serializers.IntegerField(allow_null=True)
    mass_g = serializers.IntegerField(allow_null=True)
    supplier = serializers.CharField(allow_null=True)
    lead_time_days = serializers.IntegerField(allow_null=True)
    fragile = serializers.BooleanField()
    liquid = serializers.BooleanField()
    electrical = serializers.BooleanField()
    keep_min_c = serializers.IntegerField(allow_null=True)
    keep_max_c = serializers.IntegerField(allow_null=True)
    watts = serializers.FloatField(allow_null=True)
    maximum_watts = serializers.IntegerField(allow_null=True)
    mix = serializers.CharField(allow_null=True)
    preference = serializers.IntegerField()
    tracks_lots = serializers.BooleanField()
    superseded_codes = serializers.ListField(child=serializers.CharField())
    lots = LotRowShape(many=True)


class ItemsFound(serializers.Serializer[Any]):
    """The best matches."""

    count = serializers.IntegerField()
    results = ItemShape(many=True)


class Items(APIView):
    """The shelf."""

    @reads(
        ItemsFound,
        parameters=(
            OpenApiParameter(
                "search", OpenApiTypes.STR, description="A part of the name, a code or a barcode."
            ),
        ),
        operation_id="find_items",
    )
    def get(self, request: Request) -> Response:
        """The items that match best, at most fifty."""
        actor = reader_of(request)
        found = items.found(search_of(request), with_cost=actor.may("see_cost"))
        return Response({"count": len(found), "results": found})


class OneItem(APIView):
    """One item."""

    @reads(ItemDetailShape, 404, operation_id="read_item")
    def get(self, request: Request, code: str) -> Response:
        """The item with its stock and lots."""
        actor = reader_of(request)
        return Response(items.detail(code, with_cost=actor.may("see_cost")))
