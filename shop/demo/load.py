"""The demo shop: one call fills an empty database with an invented shop at work."""

from django.db import transaction

from shop.demo import catalogue, history, opening_stock


@transaction.atomic
def load() -> None:
    """Everything of the demo shop, or nothing: catalogue, opening stock, people, kits and quotes.

    Wants migrated tables without items and the published facts. Dates are counted from today, all else
    is the same on every machine.
    """
    catalogue.load()
    opening_stock.load()
    history.load()
