"""The shapes of answers as the schema shows them, and how a view says which problems it may answer."""

from collections.abc import Callable, Mapping
from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, OpenApiResponse, extend_schema
from rest_framework import serializers


class FieldProblem(serializers.Serializer[Any]):
    """One fault of the input."""

    pointer = serializers.CharField(help_text="JSON pointer to the field; empty for the whole body.")
    detail = serializers.CharField(help_text="One plain sentence naming the field.")


class ShortItem(serializers.Serializer[Any]):
    """What was wanted of an item and what is free."""

    item = serializers.CharField()
    wanted = serializers.IntegerField()
    free = serializers.IntegerField()


class Problem(serializers.Serializer[Any]):
    """RFC 9457 problem document."""

    type = serializers.CharField()
    title = serializers.CharField()
    status = serializers.IntegerField()
    detail = serializers.CharField()
    instance = serializers.CharField()
    code = serializers.CharField(required=False)
    errors = FieldProblem(many=True)  # type: ignore[assignment]
    short = ShortItem(many=True, required=False)


class Quantity(serializers.Serializer[Any]):
    """An item and how much of it."""

    item = serializers.CharField()
    quantity = serializers.IntegerField()


class SubstituteShape(serializers.Serializer[Any]):
    """Another item or combination that does the job."""

    items = Quantity(many=True)
    total = serializers.CharField()
    free = serializers.IntegerField()
    because = serializers.ListField(child=serializers.CharField())
    figures = serializers.DictField()


class PlanLineShape(serializers.Serializer[Any]):
    """One item of the kit with its stock status."""

    role = serializers.CharField()
    item = serializers.CharField()
    name = serializers.CharField()
    quantity = serializers.IntegerField()
    unit = serializers.CharField()
    each = serializers.CharField()
    total = serializers.CharField()
    tax_rate_pct = serializers.CharField()
    status = serializers.ChoiceField(["free", "short", "none"])
    free = serializers.IntegerField()
    missing = serializers.IntegerField()
    because = serializers.ListField(child=serializers.CharField())
    figures = serializers.DictField()
    substitutes = SubstituteShape(many=True)


class UnmetShape(serializers.Serializer[Any]):
    """A role that no item known here can do."""

    role = serializers.CharField()
    because = serializers.CharField()


class CautionShape(serializers.Serializer[Any]):
    """`stop` refuses hold and accept."""

    level = serializers.ChoiceField(["stop", "warning", "note"])
    about = serializers.CharField()
    text = serializers.CharField()


class TotalsShape(serializers.Serializer[Any]):
    """Money as strings."""

    net = serializers.CharField()
    tax = serializers.CharField()
    gross = serializers.CharField()
    currency = serializers.CharField()


class ReminderShape(serializers.Serializer[Any]):
    """One upkeep task."""

    what = serializers.CharField()
    every_days = serializers.IntegerField()
    role = serializers.CharField()
    month = serializers.IntegerField(required=False, min_value=1, max_value=12)


class StandardKitShape(serializers.Serializer[Any]):
    """A standard kit that is sold at a fixed price."""

    code = serializers.CharField()
    name = serializers.CharField()
    fixed_price = serializers.CharField()


class PlanShape(serializers.Serializer[Any]):
    """The computed answer to one build spec."""

    spec = serializers.DictField()
    complete = serializers.BooleanField()
    lines = PlanLineShape(many=True)
    unmet = UnmetShape(many=True)
    figures = serializers.DictField()
    workings = serializers.ListField(child=serializers.DictField())
    cautions = CautionShape(many=True)
    totals = TotalsShape()
    calendar = ReminderShape(many=True)
    standard_kit = StandardKitShape(
        required=False, help_text="In a quote: the standard kit whose fixed price the totals are."
    )


class HoldShape(serializers.Serializer[Any]):
    """What is held and until when."""

    until = serializers.DateTimeField()
    lines = Quantity(many=True)
    waiting = Quantity(many=True, required=False, help_text="What it waits for, where it is held in part.")


class CustomerShape(serializers.Serializer[Any]):
    """A customer as named on a quote."""

    id = serializers.IntegerField()
    name = serializers.CharField()


class DiscountShape(serializers.Serializer[Any]):
    """What was taken off and why."""

    percent = serializers.CharField(allow_null=True)
    amount = serializers.CharField(allow_null=True)
    taken = serializers.CharField()
    why = serializers.CharField()
    given_by = serializers.CharField()
    given_at = serializers.DateTimeField()


class QuoteRowShape(serializers.Serializer[Any]):
    """One row of the list of quotes."""

    number = serializers.CharField()
    state = serializers.ChoiceField(["open", "accepted", "lapsed", "withdrawn"])
    version = serializers.IntegerField()
    valid_until = serializers.DateField()
    hold_until = serializers.DateTimeField(allow_null=True)
    customer = serializers.CharField(allow_null=True)
    note = serializers.CharField(allow_blank=True)
    needs_attention = serializers.CharField(allow_blank=True)
    created_at = serializers.DateTimeField()
    created_by = serializers.CharField()


class QuotePage(serializers.Serializer[Any]):
    """One page of quotes."""

    count = serializers.IntegerField()
    next = serializers.CharField(allow_null=True)
    previous = serializers.CharField(allow_null=True)
    results = QuoteRowShape(many=True)


class QuoteShape(QuoteRowShape):
    """A quote with its plan at the quoted prices and stock as of now."""

    customer = CustomerShape(allow_null=True)  # type: ignore[assignment]
    spec = serializers.DictField()
    plan = PlanShape()
    hold = HoldShape(allow_null=True)
    proposal = PlanShape(allow_null=True, help_text="The kit from what is free, after its hold fell short.")
    discount = DiscountShape(allow_null=True)
    totals = TotalsShape()
    order = serializers.CharField(allow_null=True)


class OrderRowShape(serializers.Serializer[Any]):
    """One row of the list of orders."""

    number = serializers.CharField()
    state = serializers.CharField()
    quote = serializers.CharField()
    customer = serializers.CharField(allow_null=True)
    gross = serializers.CharField()
    currency = serializers.CharField()
    needs_attention = serializers.CharField(allow_blank=True)
    created_at = serializers.DateTimeField()


class OrderPage(serializers.Serializer[Any]):
    """One page of orders."""

    count = serializers.IntegerField()
    next = serializers.CharField(allow_null=True)
    previous = serializers.CharField(allow_null=True)
    results = OrderRowShape(many=True)


class OrderLineShape(serializers.Serializer[Any]):
    """One line of an order at its agreed price."""

    role = serializers.CharField()
    item = serializers.CharField()
    name = serializers.CharField()
    quantity = serializers.IntegerField()
    each = serializers.CharField()
    discount = serializers.CharField()
    total = serializers.CharField()
    handed_over = serializers.IntegerField()


class GoneShape(Quantity):
    """So many of an item that left from one lot, less what came back into it."""

    lot = serializers.CharField()


class OrderShape(serializers.Serializer[Any]):
    """An accepted quote on its way to the customer."""

    number = serializers.CharField()
    state = serializers.ChoiceField(["held", "picking", "packed", "sent", "collected", "cancelled"])
    quote = serializers.CharField()
    version = serializers.IntegerField()
    customer = CustomerShape(allow_null=True)
    lines = OrderLineShape(many=True)
    held = Quantity(many=True)
    waiting = Quantity(many=True, required=False, help_text="What it waits for, where it is held in part.")
    gone = GoneShape(many=True)
    totals = TotalsShape()
    needs_attention = serializers.CharField(allow_blank=True)
    created_at = serializers.DateTimeField()
    created_by = serializers.CharField()


_MEANINGS = {
    400: "The request cannot be read, or a header that it needs is missing.",
    401: "Nobody is signed in.",
    403: "The caller's roles do not include this.",
    404: "There is no such thing.",
    406: "The request asks for a kind of answer that is not made here.",
    409: "It is not in a state that allows this, or not enough is free.",
    412: "It was changed since it was read.",
    413: "The body is too large.",
    415: "Only JSON is taken.",
    422: "A field is wrong; every fault is named.",
    429: "Too many tries.",
    503: "A part of the shop's machinery does not answer.",
}
_READING = (401, 403, 406, 503)
_ASKING = (400, 413, 415, 422)
KEY = OpenApiParameter(
    "Idempotency-Key",
    OpenApiTypes.STR,
    OpenApiParameter.HEADER,
    required=True,
    description="Any text that is new for each new deed; the same key again replays the first answer.",
)
IF_MATCH = OpenApiParameter(
    "If-Match",
    OpenApiTypes.STR,
    OpenApiParameter.HEADER,
    required=False,
    description="ETags of what was read, or `*`; what was changed since answers 412 and stays as it is. "
    "A repeated Idempotency-Key is answered as the first time, whatever the tag says by now.",
)
IF_NONE_MATCH = OpenApiParameter(
    "If-None-Match",
    OpenApiTypes.STR,
    OpenApiParameter.HEADER,
    required=False,
    description="ETags that the caller has, weak or not, or `*`; what is still as it was answers 304.",
)
MAY_KEY = OpenApiParameter(
    "Idempotency-Key",
    OpenApiTypes.STR,
    OpenApiParameter.HEADER,
    required=False,
    description="May be given: the same key again replays the first answer.",
)
ETAG = OpenApiParameter(
    "ETag",
    OpenApiTypes.STR,
    OpenApiParameter.HEADER,
    response=[200, 201, 304],
    description="Names what is shown; another one after every change of it.",
)
ON_SEEN, CHANGING_SEEN = (KEY, IF_MATCH, ETAG), (MAY_KEY, IF_MATCH, ETAG)

Decorator = Callable[[Any], Any]


def reads(
    answer: Any, *problems: int, parameters: tuple[OpenApiParameter, ...] = (), **kwargs: Any
) -> Decorator:
    """A GET that answers 200 with this shape."""
    return _documented({200: answer}, (*_READING, *problems), parameters=list(parameters), **kwargs)


def reads_edition(answer: Any, *problems: int, **kwargs: Any) -> Decorator:
    """A GET that answers 200 with this shape, or 304 when the caller has it already."""
    answers = {200: answer, 304: OpenApiResponse(description="It is what the caller has already.")}
    problems = (*_READING, 400, *problems)
    return _documented(answers, problems, parameters=[IF_NONE_MATCH, ETAG], **kwargs)


def hands_out(
    media_type: str, *problems: int, parameters: tuple[OpenApiParameter, ...] = (), **kwargs: Any
) -> Decorator:
    """A GET that answers 200 with a document."""
    answers = {(200, media_type): OpenApiTypes.BINARY}
    return _documented(answers, (*_READING, 404, *problems), parameters=list(parameters), **kwargs)


def asks(request: Any, answer: Any, *problems: int, **kwargs: Any) -> Decorator:
    """A POST that computes and writes nothing."""
    return _documented({200: answer}, (*_READING, *_ASKING, *problems), request=request, **kwargs)


def writes(
    request: Any,
    answer: Any,
    *problems: int,
    status: int = 200,
    parameters: tuple[OpenApiParameter, ...] = (KEY,),
    **kwargs: Any,
) -> Decorator:
    """A deed under an Idempotency-Key."""
    allowed = (*_READING, *_ASKING, 409, *problems)
    return _documented({status: answer}, allowed, request=request, parameters=list(parameters), **kwargs)


def _documented(answers: Mapping[Any, Any], problems: tuple[int, ...], **kwargs: Any) -> Decorator:
    documents: dict[Any, Any] = dict(answers)
    for status in sorted(set(problems)):
        documents[(status, "application/problem+json")] = OpenApiResponse(Problem, _MEANINGS[status])
    return extend_schema(responses=documents, **kwargs)
