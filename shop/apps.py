"""The shop app."""

from django.apps import AppConfig


class ShopConfig(AppConfig):
    """The counter and the composition of the whole: people, quotes, orders, servers."""

    name = "shop"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        """Load the Celery app, so that a task called from here finds its broker."""
        from shop import celery  # noqa: F401  Tasks bind to it; importing it earlier needs the apps.
