"""`POST /api/plans/`: a build spec becomes a plan; nothing is written."""

from drf_spectacular.types import OpenApiTypes
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from kits.selectors import plans
from shop.api.authentication import actor_of
from shop.api.inputs import spec_object
from shop.api.shapes import PlanShape, asks
from shop.models import House
from shop.selectors import house


class Plans(APIView):
    """Work out a kit."""

    @asks(OpenApiTypes.OBJECT, PlanShape, operation_id="work_out_plan")
    def post(self, request: Request) -> Response:
        """The complete kit for a build spec, from today's stock."""
        actor_of(request).must("quote")
        plan = plans.plan_for(spec_object(request.data), terms=house.terms(House.current()))
        return Response(plan.as_json())
