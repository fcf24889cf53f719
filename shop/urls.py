"""Every address of the house."""

from django.contrib import admin
from django.urls import include, path

from shop.api.health import healthz

urlpatterns = [
    path("healthz", healthz),
    path("admin/", admin.site.urls),
    path("api/", include("shop.api.urls")),
]

handler400 = "shop.api.problems.bad_request"
handler404 = "shop.api.problems.not_found"
handler500 = "shop.api.problems.server_error"
