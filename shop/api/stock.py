"""What happens at the shelf: receipts, adjustments, counts, moves."""

from dataclasses import asdict
from typing import Any

from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.services import adjusting, counting, moving, receiving
from inventory.services.counting import Counted
from inventory.services.receiving import Receipt
from shop.api.inputs import (
    LARGEST_QUANTITY,
    MOST_LINES,
    Day,
    Exact,
    Input,
    OneOf,
    StrictInteger,
    StrictText,
    checked,
    code,
    quantity,
)
from shop.api.once import Answer, once
from shop.api.shapes import writes


class ReceiptLine(Input):
    """One line of a delivery."""

    item = code()
    quantity = quantity()
    lot = StrictText(max_length=80, required=False)
    best_before = Day(required=False)
    unit_cost = Exact(max_digits=12, decimal_places=4, min_value=0, required=False)
    place = code(required=False)


class Delivery(Input):
    """A delivery."""

    lines = ReceiptLine(many=True, allow_empty=False, max_length=MOST_LINES)  # type: ignore[call-arg]


class ReceivedLine(serializers.Serializer[Any]):
    """Where one line of a delivery went."""

    item = serializers.CharField()
    lot = serializers.CharField()
    quantity = serializers.IntegerField()
    movement_id = serializers.IntegerField()


class ReceivedShape(serializers.Serializer[Any]):
    """What was received."""

    lines = ReceivedLine(many=True)


class Adjustment(Input):
    """A signed correction with its reason."""

    item = code()
    quantity = StrictInteger(min_value=-LARGEST_QUANTITY, max_value=LARGEST_QUANTITY)
    reason = OneOf(adjusting.Reason.values)
    lot = StrictText(max_length=80, required=False)
    place = code(required=False)


class MovedShape(serializers.Serializer[Any]):
    """The lines that this wrote into the ledger."""

    movement_ids = serializers.ListField(child=serializers.IntegerField())


class CountLine(Input):
    """What was found of an item."""

    item = code()
    quantity = StrictInteger(min_value=0, max_value=LARGEST_QUANTITY)
    lot = StrictText(max_length=80, required=False)


class Count(Input):
    """What was counted, at one place or on each item's own shelf."""

    place = code(required=False)
    lines = CountLine(many=True, allow_empty=False, max_length=MOST_LINES)  # type: ignore[call-arg]


class DifferenceShape(serializers.Serializer[Any]):
    """What the books said and what was there."""

    item = serializers.CharField()
    lot = serializers.CharField(allow_null=True)
    before = serializers.IntegerField()
    counted = serializers.IntegerField()


class CountedShape(serializers.Serializer[Any]):
    """Every line with what the books said before."""

    lines = DifferenceShape(many=True)


class Move(Input):
    """From one place to another."""

    item = code()
    quantity = quantity()
    from_place = code()
    to_place = code()
    lot = StrictText(max_length=80, required=False)


class Receipts(APIView):
    """Deliveries."""

    @writes(Delivery, ReceivedShape, 404, status=201, operation_id="receive")
    def post(self, request: Request) -> Response:
        """The goods are on hand, and demands that waited for them are filled first."""
        lines = [Receipt(**line) for line in checked(Delivery, request.data)["lines"]]
        return once(request, lambda actor: _listed(receiving.receive(lines, actor=actor), status=201))


class Adjustments(APIView):
    """Corrections."""

    @writes(Adjustment, MovedShape, 404, status=201, operation_id="adjust")
    def post(self, request: Request) -> Response:
        """The stock has changed by a signed quantity, for this reason."""
        data = checked(Adjustment, request.data)
        return once(
            request, lambda actor: Answer(201, {"movement_ids": adjusting.adjust(**data, actor=actor)})
        )


class Counts(APIView):
    """Counts."""

    @writes(Count, CountedShape, 404, status=201, operation_id="count")
    def post(self, request: Request) -> Response:
        """What was counted is what is there."""
        data = checked(Count, request.data)
        lines = [Counted(**line) for line in data["lines"]]
        place = data.get("place")
        return once(
            request, lambda actor: _listed(counting.count(lines, place=place, actor=actor), status=201)
        )


class Moves(APIView):
    """Moves between places."""

    @writes(Move, MovedShape, 404, status=201, operation_id="move")
    def post(self, request: Request) -> Response:
        """The quantity lies at the other place, in the same lots."""
        data = checked(Move, request.data)
        return once(request, lambda actor: Answer(201, {"movement_ids": moving.move(**data, actor=actor)}))


def _listed(rows: tuple[Any, ...], *, status: int) -> Answer:
    return Answer(status, {"lines": [asdict(row) for row in rows]})
