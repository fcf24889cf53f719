"""The kits app."""

from django.apps import AppConfig


class KitsConfig(AppConfig):
    """What an enclosure needs and which stock satisfies it."""

    name = "kits"
    default_auto_field = "django.db.models.BigAutoField"
