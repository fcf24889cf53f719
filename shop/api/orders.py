"""Orders: read, hand over, take back, cancel."""

from collections.abc import Callable
from functools import partial

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.actors import Actor
from inventory.services.returning import Returned
from shop.api import editions
from shop.api.authentication import reader_of
from shop.api.inputs import MOST_LINES, Input, StrictBoolean, StrictText, checked, code, quantity
from shop.api.once import Answer
from shop.api.pages import page, search_of, state_of
from shop.api.quotes import Acceptance, Why
from shop.api.shapes import ON_SEEN, OrderPage, OrderShape, reads, reads_edition, writes
from shop.models import Order
from shop.selectors import orders as order_selector
from shop.services import orders, second_thoughts


class TakeLine(Input):
    """One item that leaves, from one lot if named."""

    item = code()
    quantity = quantity()
    lot = code(required=False)


class Taking(Input):
    """What leaves; without lines, all that is left."""

    lines = TakeLine(many=True, required=False, allow_empty=False, max_length=MOST_LINES)  # type: ignore[call-arg]


class BackLine(Input):
    """One item that comes back; without a lot, what left last comes back first."""

    item = code()
    quantity = quantity()
    lot = code(required=False)
    good = StrictBoolean(required=False)


class ComingBack(Input):
    """What comes back, and why; a line that is not `good` goes into quarantine."""

    lines = BackLine(many=True, allow_empty=False, max_length=MOST_LINES)  # type: ignore[call-arg]
    why = StrictText(max_length=200)


class Orders(APIView):
    """All orders."""

    @reads(
        OrderPage,
        404,
        422,
        parameters=(
            OpenApiParameter("search", OpenApiTypes.STR),
            OpenApiParameter("state", OpenApiTypes.STR, enum=Order.State.values),
            OpenApiParameter("page", OpenApiTypes.INT),
        ),
        operation_id="list_orders",
    )
    def get(self, request: Request) -> Response:
        """Orders, newest first."""
        reader_of(request)
        state = state_of(request, Order.State.values)
        found = order_selector.listing(search=search_of(request), state=state)
        return page(request, found, order_selector.summary)


class OneOrder(APIView):
    """One order."""

    @reads_edition(OrderShape, 404, operation_id="read_order")
    def get(self, request: Request, number: str) -> Response:
        """The order with its lines, and what is still held for it."""
        reader_of(request)
        document = order_selector.document(order_selector.find(number))
        return editions.read(request, document, order_selector.edition(document))


class HandOver(APIView):
    """Let goods leave with the customer."""

    @writes(Taking, OrderShape, 404, 412, parameters=ON_SEEN, operation_id="hand_over")
    def post(self, request: Request, number: str) -> Response:
        """These lines have left; the order is collected when all have."""
        given = checked(Taking, request.data).get("lines")
        lines = None if given is None else [orders.Take(**line) for line in given]
        return _deed(request, number, lambda actor: orders.hand_over(number, lines=lines, actor=actor))


class Return(APIView):
    """Take goods back from the customer."""

    @writes(ComingBack, OrderShape, 404, 412, parameters=ON_SEEN, operation_id="return_goods")
    def post(self, request: Request, number: str) -> Response:
        """The goods are on hand again, or 409 when more comes than has left; the order stays as it is."""
        data = checked(ComingBack, request.data)
        lines = [Returned(**line) for line in data["lines"]]
        why = data["why"]
        return _deed(
            request,
            number,
            lambda actor: second_thoughts.take_back(number, lines=lines, why=why, actor=actor),
        )


class OrderHold(APIView):
    """Hold an order's missing stock again."""

    @writes(Acceptance, OrderShape, 404, 412, parameters=ON_SEEN, operation_id="hold_order_again")
    def post(self, request: Request, number: str) -> Response:
        """All that is outstanding is held, or 409 names what is short and nothing has changed."""
        partial = bool(checked(Acceptance, request.data).get("partial"))
        return _deed(request, number, lambda actor: orders.hold_again(number, actor=actor, partial=partial))


class Cancel(APIView):
    """Give an order up."""

    @writes(Why, OrderShape, 404, 412, parameters=ON_SEEN, operation_id="cancel_order")
    def post(self, request: Request, number: str) -> Response:
        """What has not left is free again."""
        why = checked(Why, request.data).get("why", "")
        return _deed(request, number, lambda actor: orders.cancel(number, why=why, actor=actor))


def _deed(request: Request, number: str, do: Callable[[Actor], Order]) -> Response:
    def done(actor: Actor) -> Answer:
        document = order_selector.document(order_selector.find(do(actor).number))
        return editions.told(document, order_selector.edition(document))

    return editions.deed(request, done, must_be=partial(orders.must_be, number))
