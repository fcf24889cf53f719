"""Signing in and out, and choosing a password. JSON only, so no other site's form can post here."""

from typing import Any

from axes.decorators import axes_dispatch
from django.contrib.auth import authenticate, login, logout, update_session_auth_hash
from django.http import HttpRequest, JsonResponse
from django.utils.decorators import method_decorator
from rest_framework import serializers
from rest_framework.exceptions import AuthenticationFailed
from rest_framework.permissions import AllowAny
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from shop.api import problems
from shop.api.authentication import ProgramToken, SignedInOnce, actor_of
from shop.api.inputs import Input, Nothing, StrictText, checked
from shop.api.shapes import asks
from shop.models import StaffMember
from shop.permissions import actor_for
from shop.services import staff


class Credentials(Input):
    """Name and password."""

    username = StrictText(max_length=150)
    password = StrictText(max_length=1000, trim_whitespace=False)


class NewPassword(Input):
    """The present password and the one to come."""

    old = StrictText(max_length=1000, trim_whitespace=False)
    new = StrictText(max_length=1000, trim_whitespace=False)


class MeShape(serializers.Serializer[Any]):
    """Who is signed in."""

    name = serializers.CharField()
    must_change_password = serializers.BooleanField()
    abilities = serializers.ListField(child=serializers.CharField())


@method_decorator(axes_dispatch, name="dispatch")
class SignIn(APIView):
    """Open a session."""

    authentication_classes = ()
    permission_classes = (AllowAny,)

    @asks(Credentials, MeShape, 429, operation_id="sign_in")
    def post(self, request: Request) -> Response:
        """A session cookie for name and password; 401 when they do not match, 429 after too many tries."""
        given = checked(Credentials, request.data)
        user = authenticate(request._request, **given)
        if not isinstance(user, StaffMember):
            raise AuthenticationFailed("Name and password do not match.")
        login(request._request, user)
        return Response(_me(user))

    def get_authenticate_header(self, request: Request) -> str:
        """What a 401 asks for."""
        return "Session"


class SignOut(APIView):
    """Close the session."""

    authentication_classes = (SignedInOnce,)

    @asks(Nothing, MeShape, operation_id="sign_out")
    def post(self, request: Request) -> Response:
        """The session is closed."""
        me = _me(request.user)
        logout(request._request)
        return Response(me)

    def get_authenticate_header(self, request: Request) -> str:
        """What a 401 asks for."""
        return "Session"


class Password(APIView):
    """Choose a password."""

    authentication_classes = (SignedInOnce,)

    @asks(NewPassword, MeShape, operation_id="change_password")
    def post(self, request: Request) -> Response:
        """The password is the chosen one; a one-time password is used up."""
        given = checked(NewPassword, request.data)
        name = request.user.get_username()
        user = staff.change_password(name, actor=actor_of(request), **given)
        update_session_auth_hash(request._request, user)
        return Response(_me(user))

    def get_authenticate_header(self, request: Request) -> str:
        """What a 401 asks for."""
        return "Session"


class Me(APIView):
    """The caller."""

    authentication_classes = (ProgramToken, SignedInOnce)

    @asks(None, MeShape, operation_id="who_am_i")
    def get(self, request: Request) -> Response:
        """Who is calling and what they may do."""
        return Response(_me(request.user))


def locked_out(request: HttpRequest, *args: Any, **kwargs: Any) -> JsonResponse:
    """The answer after too many failed tries."""
    body = problems.problem(
        429, path=request.path, detail="Too many failed tries; wait a quarter of an hour."
    )
    return JsonResponse(body, status=429, content_type=problems.MEDIA_TYPE, headers={"Retry-After": "900"})


def _me(user: Any) -> dict[str, Any]:
    return {
        "name": user.get_username(),
        "must_change_password": user.must_change_password,
        "abilities": sorted(actor_for(user).abilities),
    }
