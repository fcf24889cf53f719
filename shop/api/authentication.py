"""Who is calling, and what they may do."""

from typing import Any

from rest_framework.authentication import SessionAuthentication, TokenAuthentication
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request

from inventory.actors import Actor
from inventory.errors import NotAllowed
from shop.permissions import actor_for


class ProgramToken(TokenAuthentication):
    """`Authorization: Token …` for programs."""


class SignedIn(SessionAuthentication):
    """A person's session; a one-time password opens nothing but the choice of an own password."""

    def authenticate(self, request: Request) -> tuple[Any, None] | None:
        """The person of the session, refused while their password is a one-time password."""
        found = super().authenticate(request)
        if found is not None and found[0].must_change_password:
            raise PermissionDenied("Choose a password of your own first: POST /api/password/.")
        return found


class SignedInOnce(SessionAuthentication):
    """A person's session, one-time password or not."""


def actor_of(request: Request) -> Actor:
    """The caller as the services know them, with the id of this request."""
    return actor_for(request.user, getattr(request._request, "request_id", ""))


def reader_of(request: Request) -> Actor:
    """The caller, who may read when they hold any role at all."""
    actor = actor_of(request)
    if not actor.abilities:
        raise NotAllowed(actor.name, "read")
    return actor
