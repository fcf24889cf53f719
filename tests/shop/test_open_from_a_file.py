"""A shop is opened from the file that another shop wrote: it plans what the other one planned."""

import json
from pathlib import Path

import pytest
from django.db import transaction

import kits
from inventory.actors import SYSTEM
from inventory.models import Item, Lot, Movement, Place, Stock
from inventory.selectors import ledger
from inventory.services import exporting, importing
from kits.models import Profile
from kits.selectors.plans import plan_for
from kits.services import profile_columns
from kits.services.facts import load_facts
from shop.demo.load import load
from shop.models import House
from shop.selectors import house as house_selector

EXAMPLES = sorted((Path(kits.__file__).parent / "examples").glob("*.json"))


def plan(path):
    return plan_for(json.loads(path.read_text()), terms=house_selector.terms(House.current()))


def lines_of(kit):
    return [(line.role, line.item, line.quantity, line.total_cents, line.tax_rate_pct) for line in kit.lines]


def contents():
    """What a file carries: items, what they can do, and what lies on hand and may be sold."""
    return {
        "items": list(Item.objects.order_by("code").values_list("code", "name", "price", "place__code")),
        "profiles": list(Profile.objects.order_by("item__code", "role").values_list("role", "figures")),
        "stock": list(Stock.objects.order_by("item__code").values_list("item__code", "sellable")),
        "states": list(Lot.objects.filter(standing=False).order_by("code").values_list("code", "state")),
    }


@pytest.fixture(scope="module")
def moved(django_db_setup, django_db_blocker):
    """The demo shop is written to a file and undone; a new shop reads the file. Yields what was before."""
    with django_db_blocker.unblock(), transaction.atomic():
        load_facts()
        with transaction.atomic():
            load()
            file = exporting.workbook(actor=SYSTEM, extra=profile_columns)
            before = contents(), [plan(path) for path in EXAMPLES]
            transaction.set_rollback(True)
        assert not Item.objects.exists()
        done = importing.run(file, name="shop.xlsx", actor=SYSTEM, extra=profile_columns)
        yield *before, done.as_json()
        transaction.set_rollback(True)


def test_items_profiles_stock_and_quarantine_come_over_whole(moved):
    assert contents() == {**moved[0], "states": [s for s in moved[0]["states"] if s[1] != "spent"]}
    assert not ledger.differences()


def test_everything_that_the_items_name_is_made(moved):
    kinds = {made["kind"] for made in moved[2]["also_made"]}
    assert kinds == {"tax_class", "place", "supplier", "mix"}
    assert Place.objects.filter(code="QUARANTINE").exists()
    assert moved[2]["received"] == Movement.objects.filter(quantity__gt=0).count()


@pytest.mark.parametrize("number", range(len(EXAMPLES)), ids=[path.stem for path in EXAMPLES])
def test_an_example_is_planned_complete_with_the_lines_it_had_before(moved, number):
    kit = plan(EXAMPLES[number])
    assert kit.complete
    assert lines_of(kit) == lines_of(moved[1][number])
