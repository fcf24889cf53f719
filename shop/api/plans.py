"""`POST /api/plans/`: a build spec becomes a plan; nothing is written."""

from threading import Lock

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

# Threads of one process that plan side by side fight for the interpreter; in turn, all are sooner done.
ONE_AT_A_TIME = Lock()


class Plans(APIView):
    """Work out a kit."""

    @asks(OpenApiTypes.OBJECT, PlanShape, operation_id="work_out_plan")
    def post(self, request: Request) -> Response:
        """The complete kit for a build spec, from today's stock."""
        actor_of(request).must("quote")
        spec, terms = spec_object(request.data), house.terms(House.current())
        with ONE_AT_A_TIME:
            plan = plans.plan_for(spec, terms=terms)
        return Response(plan.as_json())
