"""The inventory app."""

from django.apps import AppConfig


class InventoryConfig(AppConfig):
    """What is on the shelf, in which lot, promised to whom."""

    name = "inventory"
    default_auto_field = "django.db.models.BigAutoField"
