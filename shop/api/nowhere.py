"""Addresses of the API that lead nowhere."""

from typing import Any

from drf_spectacular.utils import extend_schema
from rest_framework.exceptions import NotFound
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView


@extend_schema(exclude=True)
class Nowhere(APIView):
    """Answers 404 to whatever is asked; a redirect would lose the body of a POST."""

    permission_classes = (AllowAny,)

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        """Say so before anything else is looked at."""
        hint = "" if request.path.endswith("/") else " Every address of the API ends with a slash."
        raise NotFound(f"There is nothing at this address.{hint}")

    def get(self, request: Request) -> Response:
        """Never reached; `initial` has answered."""
        raise NotFound
