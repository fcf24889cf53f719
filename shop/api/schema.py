"""The schema, its page, and what the schema generator cannot see by itself."""

from typing import Any

from csp.constants import SELF, UNSAFE_INLINE
from csp.decorators import csp_update
from django.conf import settings
from django.utils.decorators import method_decorator
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from drf_spectacular.views import SpectacularSwaggerSplitView
from rest_framework.permissions import AllowAny
from rest_framework.renderers import TemplateHTMLRenderer

from shop.api.authentication import SignedIn, SignedInOnce


@method_decorator(csp_update({"style-src": [SELF, UNSAFE_INLINE]}), name="dispatch")
class SchemaPage(SpectacularSwaggerSplitView):
    """The schema for people; its scripts come from this shop, its styles are partly written inline."""

    permission_classes = [AllowAny]
    renderer_classes = [TemplateHTMLRenderer]


class SignedInScheme(OpenApiAuthenticationExtension):
    """The session cookie as the schema shows it."""

    target_class = SignedIn
    name = "session"

    def get_security_definition(self, auto_schema: Any) -> dict[str, str]:
        """A cookie."""
        return {"type": "apiKey", "in": "cookie", "name": settings.SESSION_COOKIE_NAME}


class SignedInOnceScheme(SignedInScheme):
    """The same cookie."""

    target_class = SignedInOnce  # type: ignore[assignment]
    name = "session_once"
