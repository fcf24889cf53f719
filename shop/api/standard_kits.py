"""Standard kits: saved specs, planned against today's stock."""

from decimal import Decimal
from typing import Any

from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from inventory.actors import Actor
from inventory.errors import FieldError
from kits.models import StandardKit
from kits.planning.spec import BadSpec
from kits.selectors import standard_kits as kit_selector
from kits.services import standard_kits
from shop.api.authentication import reader_of
from shop.api.inputs import GIVEN, Exact, Input, StrictText, checked, code, spec_object
from shop.api.once import Answer, once, once_if_named
from shop.api.shapes import MAY_KEY, PlanShape, reads, writes
from shop.models import House
from shop.selectors import house, pricing


@extend_schema_field(OpenApiTypes.OBJECT)
class SpecField(serializers.JSONField):
    """A build spec."""

    default_error_messages = GIVEN


class NewKit(Input):
    """A spec to be sold under a code."""

    code = code()
    name = StrictText(max_length=200)
    spec = SpecField()
    fixed_price = Exact(max_digits=10, decimal_places=2, required=False, allow_null=True)


class KitShape(serializers.Serializer[Any]):
    """A standard kit."""

    code = serializers.CharField()
    name = serializers.CharField()
    fixed_price = serializers.CharField(allow_null=True)
    spec = serializers.DictField()


class PlannedKitShape(KitShape):
    """A standard kit with its plan, and how many can be made now."""

    net = serializers.CharField()
    can_be_made = serializers.DictField()
    plan = PlanShape()


class StandardKits(APIView):
    """All standard kits that are sold."""

    @reads(KitShape(many=True), operation_id="list_standard_kits")
    def get(self, request: Request) -> Response:
        """The kits by code."""
        reader_of(request)
        return Response([_kit(kit) for kit in kit_selector.active()])

    @writes(NewKit, KitShape, 404, status=201, operation_id="save_standard_kit")
    def post(self, request: Request) -> Response:
        """The spec is sold under its code, replacing what stood there."""
        data = checked(NewKit, request.data)
        spec_object(data["spec"], "/spec")
        return once(request, lambda actor: _saved(data, actor))


class OneStandardKit(APIView):
    """One standard kit."""

    @reads(PlannedKitShape, 404, 422, operation_id="read_standard_kit")
    def get(self, request: Request, code: str) -> Response:
        """The kit planned against today's stock, and how many can be made now."""
        reader_of(request)
        kit, own = kit_selector.get(code), House.current()
        planned = kit_selector.planned(kit, terms=house.terms(own))
        plan = pricing.at_kit_price(planned.plan.as_json(), house=own)
        return Response(
            {
                **_kit(kit),
                "net": plan["totals"]["net"],
                "can_be_made": {
                    "count": planned.can_be_made.count,
                    "limited_by": list(planned.can_be_made.limited_by),
                },
                "plan": plan,
            }
        )

    @writes(None, KitShape(many=True), 404, parameters=(MAY_KEY,), operation_id="retire_standard_kit")
    def delete(self, request: Request, code: str) -> Response:
        """The kit is sold no more, and the others are told; quotes made from it stay."""

        def done(actor: Actor) -> Answer:
            standard_kits.retire(code, actor=actor)
            return Answer(200, [_kit(kit) for kit in kit_selector.active()])

        return once_if_named(request, done)


def _saved(data: dict[str, Any], actor: Actor) -> Answer:
    price: Decimal | None = data.get("fixed_price")
    try:
        kit = standard_kits.save(
            data["code"], name=data["name"], spec=data["spec"], fixed_price=price, actor=actor
        )
    except BadSpec as error:
        raise BadSpec([FieldError(f"/spec{e.pointer}", e.detail) for e in error.errors]) from None
    return Answer(201, _kit(kit))


def _kit(kit: StandardKit) -> dict[str, Any]:
    price = None if kit.fixed_price is None else str(kit.fixed_price)
    return {"code": kit.code, "name": kit.name, "fixed_price": price, "spec": kit.spec}
