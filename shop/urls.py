"""Every address of the house."""

from django.contrib import admin
from django.urls import include, path
from django.views.generic import RedirectView

from shop.api.health import healthz

urlpatterns = [
    path("healthz", healthz),
    path("admin/login/", RedirectView.as_view(pattern_name="sign_in", query_string=True)),
    path("admin/", admin.site.urls),
    path("api/", include("shop.api.urls")),
    path("worktable/", include("shop.views.worktable_urls")),
    path("", include("shop.views.urls")),
]

handler400 = "shop.api.problems.bad_request"
handler404 = "shop.missing.not_found"
handler500 = "shop.api.problems.server_error"
