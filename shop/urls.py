"""Every address of the house."""

from django.contrib import admin
from django.urls import path

from shop.health import healthz

urlpatterns = [
    path("healthz", healthz),
    path("admin/", admin.site.urls),
]
