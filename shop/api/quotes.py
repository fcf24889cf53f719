"""Quotes: open, read, revise, hold, release, accept, withdraw, discount."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any
from zoneinfo import ZoneInfo

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import OpenApiParameter, extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError
from shop.api import editions
from shop.api.authentication import reader_of
from shop.api.inputs import (
    GIVEN,
    Exact,
    Input,
    StrictBoolean,
    StrictText,
    checked,
    spec_object,
    text,
)
from shop.api.once import Answer, once
from shop.api.pages import page, search_of, state_of
from shop.api.shapes import (
    CHANGING_SEEN,
    ETAG,
    KEY,
    ON_SEEN,
    OrderShape,
    QuotePage,
    QuoteShape,
    reads,
    reads_edition,
    writes,
)
from shop.models import Customer, House, Quote
from shop.selectors import orders as order_selector
from shop.selectors import quotes as quote_selector
from shop.services import customers, quotes
from shop.services.customers import Contact

NUMBER = OpenApiParameter("number", OpenApiTypes.STR, OpenApiParameter.PATH)
STATES = Quote.State.values
PARTIAL = "true: hold what is free; the rest waits, and deliveries fill it before anything else."


@extend_schema_field(OpenApiTypes.OBJECT)
class SpecField(serializers.JSONField):
    """A build spec."""

    default_error_messages = GIVEN


@extend_schema_field(
    {
        "oneOf": [
            {"type": "integer"},
            {"type": "string"},
            {
                "type": "object",
                "properties": {
                    "name": {"type": "string"},
                    "email": {"type": "string"},
                    "phone": {"type": "string"},
                },
                "required": ["name"],
                "additionalProperties": False,
            },
        ],
        "nullable": True,
    }
)
class CustomerField(serializers.JSONField):
    """A customer's id, a name, or an object with name, email and phone."""


class NewQuote(Input):
    """What a new quote is made of."""

    spec = SpecField()
    customer = CustomerField(required=False, allow_null=True)
    note = text(quotes.NOTE_LENGTH, required=False)


class Revision(Input):
    """A new version of a quote."""

    spec = SpecField(required=False)
    customer = CustomerField(required=False, allow_null=True)
    note = text(quotes.NOTE_LENGTH, required=False)


class ShopTime(serializers.DateTimeField):
    """A time; without an offset it is meant as the shop's clock shows it."""

    default_error_messages = GIVEN | {
        "invalid": "must be a day and a time such as 2027-03-31T18:00.",
        "date": "must be a day and a time such as 2027-03-31T18:00.",
    }

    def default_timezone(self) -> ZoneInfo:
        """The shop's zone."""
        return ZoneInfo(House.current().timezone)


class Until(Input):
    """How long to hold."""

    until = ShopTime(required=False, allow_null=True)
    partial = StrictBoolean(required=False, help_text=PARTIAL)  # type: ignore[assignment]


class Acceptance(Input):
    """Whether to wait for what is not free."""

    partial = StrictBoolean(required=False, help_text=PARTIAL)  # type: ignore[assignment]


class Why(Input):
    """A reason in a few words."""

    why = text(200, required=False)


class NewDiscount(Input):
    """Either a percentage or an amount, and why."""

    percent = Exact(max_digits=5, decimal_places=2, required=False)
    amount = Exact(max_digits=10, decimal_places=2, required=False)
    why = StrictText(max_length=200)


class NewContact(Input):
    """Somebody who asked for a kit."""

    name = StrictText(max_length=200)
    email = text(254, required=False)
    phone = text(40, required=False)


class Quotes(APIView):
    """All quotes."""

    @reads(
        QuotePage,
        404,
        422,
        parameters=(
            OpenApiParameter("search", OpenApiTypes.STR),
            OpenApiParameter("state", OpenApiTypes.STR, enum=STATES),
            OpenApiParameter("page", OpenApiTypes.INT),
        ),
        operation_id="list_quotes",
    )
    def get(self, request: Request) -> Response:
        """Quotes, newest first."""
        reader_of(request)
        house = House.current()
        found = quote_selector.listing(search=search_of(request), state=state_of(request, STATES))
        return page(request, found, lambda quote: quote_selector.summary(quote, house=house))

    @writes(NewQuote, QuoteShape, 404, status=201, parameters=(KEY, ETAG), operation_id="open_quote")
    def post(self, request: Request) -> Response:
        """A new quote for a build spec."""
        return once(request, lambda actor: _opened(request, actor))


class OneQuote(APIView):
    """One quote."""

    @reads_edition(QuoteShape, 404, operation_id="read_quote")
    def get(self, request: Request, number: str) -> Response:
        """The quote with its plan at the quoted prices and stock as of now.

        The ETag is another one after every edit, but not when only the stock of the plan's lines has changed:
        304 says that nobody edited the quote. Leave If-None-Match out to see what is free by now.
        """
        reader_of(request)
        document = quote_selector.document(quote_selector.find(number))
        edition = quote_selector.edition(document)
        return editions.read(request, document, edition, cached=editions.NOT_KEPT)

    @writes(Revision, QuoteShape, 404, 412, parameters=CHANGING_SEEN, operation_id="replace_quote_spec")
    def put(self, request: Request, number: str) -> Response:
        """Revise the quote; a held quote is held again or nothing changes."""
        data = checked(Revision, request.data)
        return _change(request, number, lambda actor: _revised(data, number, actor))

    @writes(Revision, QuoteShape, 404, 412, parameters=CHANGING_SEEN, operation_id="revise_quote")
    def patch(self, request: Request, number: str) -> Response:
        """Revise the quote; a held quote is held again or nothing changes."""
        data = checked(Revision, request.data)
        return _change(request, number, lambda actor: _revised(data, number, actor))


class QuoteHold(APIView):
    """Hold all that a quote wants."""

    @writes(Until, QuoteShape, 404, 412, parameters=ON_SEEN, operation_id="hold_quote")
    def post(self, request: Request, number: str) -> Response:
        """Everything is held, or 409 names what is short and nothing is; `partial` holds what is free."""
        asked = checked(Until, request.data)
        return _deed(request, number, lambda actor: _quote(quotes.hold(number, actor=actor, **asked)))


class QuoteRelease(APIView):
    """Let go of what a quote holds."""

    @writes(Why, QuoteShape, 404, 412, parameters=ON_SEEN, operation_id="release_quote")
    def post(self, request: Request, number: str) -> Response:
        """Nothing is held for the quote any more."""
        why = checked(Why, request.data).get("why") or "released at the counter"
        return _deed(request, number, lambda actor: _quote(quotes.release(number, why=why, actor=actor)))


class QuoteAccept(APIView):
    """Turn a quote into an order."""

    @writes(Acceptance, OrderShape, 404, 412, status=201, parameters=ON_SEEN, operation_id="accept_quote")
    def post(self, request: Request, number: str) -> Response:
        """The order, its stock held without end."""
        partial = bool(checked(Acceptance, request.data).get("partial"))
        return _deed(request, number, lambda actor: _accepted(number, actor, partial=partial))


class QuoteWithdraw(APIView):
    """Take a quote back."""

    @writes(Why, QuoteShape, 404, 412, parameters=ON_SEEN, operation_id="withdraw_quote")
    def post(self, request: Request, number: str) -> Response:
        """The quote is withdrawn and holds nothing."""
        why = checked(Why, request.data).get("why", "")
        return _deed(request, number, lambda actor: _quote(quotes.withdraw(number, why=why, actor=actor)))


class QuoteDiscount(APIView):
    """Lower a quote's price."""

    @writes(NewDiscount, QuoteShape, 404, 412, parameters=ON_SEEN, operation_id="discount_quote")
    def post(self, request: Request, number: str) -> Response:
        """The quote with its discount, shared out over its lines when it is accepted."""
        data = checked(NewDiscount, request.data)
        return _deed(request, number, lambda actor: _quote(quotes.discount(number, actor=actor, **data)))

    @writes(None, QuoteShape, 404, 412, parameters=CHANGING_SEEN, operation_id="take_discount_away")
    def delete(self, request: Request, number: str) -> Response:
        """The quote at its full price; the same answer where nothing was taken off."""
        return _change(request, number, lambda actor: _quote(quotes.full_price(number, actor=actor)))


def _opened(request: Request, actor: Actor) -> Answer:
    actor.must("quote")
    data = checked(NewQuote, request.data)
    spec = spec_object(data["spec"], "/spec")
    customer = _customer(data.get("customer"), actor)
    return _quote(quotes.open(spec, customer=customer, note=data.get("note", ""), actor=actor), status=201)


def _accepted(number: str, actor: Actor, *, partial: bool) -> Answer:
    order = quotes.accept(number, actor=actor, partial=partial)
    document = order_selector.document(order_selector.find(order.number))
    return editions.told(document, order_selector.edition(document), 201)


def _deed(request: Request, number: str, do: Callable[[Actor], Answer]) -> Response:
    return editions.deed(request, do, must_be=partial(quotes.must_be, number))


def _change(request: Request, number: str, do: Callable[[Actor], Answer]) -> Response:
    return editions.change(request, do, must_be=partial(quotes.must_be, number))


def _revised(data: Mapping[str, Any], number: str, actor: Actor) -> Answer:
    if "customer" in data:
        quotes.name_customer(number, customer=_customer(data["customer"], actor), actor=actor)
    spec = spec_object(data["spec"], "/spec") if "spec" in data else None
    return _quote(quotes.revise(number, spec=spec, note=data.get("note"), actor=actor))


def _quote(quote: Quote, status: int = 200) -> Answer:
    document = quote_selector.document(quote_selector.find(quote.number))
    return editions.told(document, quote_selector.edition(document), status)


def _customer(given: Any, actor: Actor) -> Customer | None:
    if given is None or given == "":
        return None
    if isinstance(given, int) and not isinstance(given, bool):
        return customers.get(given)
    contact = {"name": given} if isinstance(given, str) else given
    try:
        return customers.add(Contact(**checked(NewContact, contact)), actor=actor)
    except serializers.ValidationError as error:
        raise serializers.ValidationError({"customer": error.detail}) from None
    except BadInput as error:
        raise BadInput([FieldError(f"/customer{e.pointer}", e.detail) for e in error.errors]) from None
