"""Lots: who got it, where it came from, and whether it may be sold."""

from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.models import Lot
from inventory.selectors import lots as lot_selector
from inventory.services import lots
from shop.api.authentication import reader_of
from shop.api.inputs import Input, StrictText, checked
from shop.api.once import Answer, once
from shop.api.quotes import Why
from shop.api.shapes import reads, writes


class QuarantineReason(Input):
    """Why nothing of it may be sold."""

    why = StrictText(max_length=200, required=False)


class LotShape(serializers.Serializer[Any]):
    """A lot and its state."""

    lot = serializers.CharField()
    item = serializers.CharField()
    state = serializers.ChoiceField(["good", "quarantined", "expired", "spent"])
    best_before = serializers.DateField(allow_null=True)


class TraceShape(serializers.Serializer[Any]):
    """Where a lot came from and where it went."""

    lot = serializers.CharField()
    back = serializers.ListField(child=serializers.DictField())
    forward = serializers.ListField(child=serializers.DictField())


class LotTrace(APIView):
    """One lot, back and forward."""

    @reads(TraceShape, 404, operation_id="trace_lot")
    def get(self, request: Request, code: str) -> Response:
        """What it came from, and every demand that got some of it."""
        reader_of(request)
        return Response(lot_selector.trace(code).as_json())


class LotQuarantine(APIView):
    """Take a lot off sale."""

    @writes(QuarantineReason, LotShape, 404, operation_id="quarantine_lot")
    def post(self, request: Request, code: str) -> Response:
        """Nothing of the lot may be sold; the newest holds lose what is now short."""
        why = checked(QuarantineReason, request.data).get("why") or "set aside at the shelf"
        return once(request, lambda actor: _lot(lots.quarantine(code, why=why, actor=actor)))


class LotRelease(APIView):
    """Put a lot back on sale."""

    @writes(Why, LotShape, 404, operation_id="release_lot")
    def post(self, request: Request, code: str) -> Response:
        """The lot may be sold again."""
        why = checked(Why, request.data).get("why", "")
        return once(request, lambda actor: _lot(lots.release(code, why=why, actor=actor)))


def _lot(lot: Lot) -> Answer:
    best_before = None if lot.best_before is None else lot.best_before.isoformat()
    body = {"lot": lot.code, "item": lot.item.code, "state": lot.state, "best_before": best_before}
    return Answer(200, body)
