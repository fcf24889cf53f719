"""A small shelf for tests: items, an actor, and the question whether every figure agrees."""

from datetime import timedelta

from django.utils import timezone
from zeal import zeal_ignore

from inventory.actors import ABILITIES, Actor
from inventory.models import Item, TaxClass
from inventory.selectors import ledger, stock
from inventory.services import receiving
from inventory.services.receiving import Receipt

OWNER = Actor("Ines", ABILITIES, "request-1")


def make_item(code, **fields):
    with zeal_ignore():  # Tests put up several items one after the other.
        tax_class, _ = TaxClass.objects.get_or_create(code="full", defaults={"name": "Full rate", "rate": 8})
        return Item.objects.create(code=code, name=f"Item {code}", tax_class=tax_class, **fields)


def stocked(code, quantity, **fields):
    """An item with a quantity received into its standing lot."""
    item = make_item(code, **fields)
    if quantity:
        with zeal_ignore():
            receiving.receive([Receipt(code, quantity)], actor=OWNER)
    return item


def in_an_hour():
    return timezone.now() + timedelta(hours=1)


def levels(code):
    """(on hand, sellable, held) of an item."""
    found = stock.levels_by_code([code])[code]
    return found.on_hand, found.sellable, found.held


def assert_agrees():
    assert list(ledger.differences()) == []
