"""Profiles and the shelf: what items can do, read in three queries and kept by the catalogue version."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory.actors import SYSTEM, Actor
from inventory.errors import BadInput, NotAllowed, Unknown
from inventory.models import Item, TaxClass
from kits.models import Profile
from kits.selectors.shelf import shelf
from kits.services import profiles
from kits.services.facts import load_facts
from kits.services.profiles import ItemRole

pytestmark = pytest.mark.django_db
DIMMER = {"max_watts": 150}


@pytest.fixture
def dimmer():
    tax = TaxClass.objects.create(code="test-goods", name="Goods", rate=Decimal("8.250"))
    return Item.objects.create(
        code="DIM-1", name="Dimmer", unit_name="piece", price=Decimal("19.99"), tax_class=tax,
        watts=Decimal("0.5"), electrical=True, mass_g=210, preference=20,
    )  # fmt: skip


def test_a_profile_puts_an_item_on_the_shelf_with_its_figures(dimmer):
    profiles.set("DIM-1", role="dimmer", figures=DIMMER, actor=SYSTEM)
    offer = shelf().offer("dimmer", "DIM-1")
    assert offer.figures == DIMMER
    ware = offer.ware
    assert (ware.price_cents, ware.tax_rate_pct, ware.watts) == (1999, "8.25", 0.5)
    assert (ware.mass_g, ware.preference, ware.electrical) == (210, 20, True)


def test_an_item_without_a_profile_is_known_but_does_nothing(dimmer):
    assert shelf().knows("DIM-1")
    assert shelf().groups("dimmer") == ()


def test_an_inactive_item_is_not_on_the_shelf(dimmer):
    profiles.set("DIM-1", role="dimmer", figures=DIMMER, actor=SYSTEM)
    Item.objects.update(active=False)
    assert not shelf().knows("DIM-1")


def test_a_second_profile_of_one_role_replaces_the_first_and_other_roles_stay(dimmer):
    profiles.set("DIM-1", role="dimmer", figures=DIMMER, actor=SYSTEM)
    profiles.set("DIM-1", role="timer", figures={"max_watts": 150, "outlets": 1}, actor=SYSTEM)
    profiles.set("DIM-1", role="dimmer", figures={"max_watts": 100}, actor=SYSTEM)
    assert Profile.objects.count() == 2
    assert shelf().offer("dimmer", "DIM-1").figures == {"max_watts": 100}


def test_the_shelf_costs_three_queries_after_a_change_and_one_otherwise(dimmer):
    profiles.set("DIM-1", role="dimmer", figures=DIMMER, actor=SYSTEM)
    with CaptureQueriesContext(connection) as cold:
        first = shelf()
    with CaptureQueriesContext(connection) as warm:
        assert shelf() is first
    assert (len(cold), len(warm)) == (3, 1)


def test_a_new_price_reaches_the_shelf(dimmer):
    before = shelf().ware("DIM-1").price_cents
    Item.objects.update(price=Decimal("21.00"))
    assert (before, shelf().ware("DIM-1").price_cents) == (1999, 2100)


@pytest.mark.parametrize(
    ("item", "role", "figures", "words"),
    [
        ("DIM-1", "dimmer", {"max_watts": -1}, "DIM-1: The figure 'max_watts' must be a number above zero"),
        ("DIM-1", "lid", {}, "There is no role 'lid'"),
        ("DIM-1", "plant", {"species": "no-such", "pot_mm": 60}, "no plant is known as 'no-such'"),
        ("DIM-1", "enclosure", {"size": "1x1x1-tin"}, "no enclosure is known as '1x1x1-tin'"),
        ("DIM-1", "cleanup_crew", {"taxon": "no-such", "animals": 10}, "no cleanup is known as 'no-such'"),
        ("DIM-2", "dimmer", DIMMER, "There is no item 'DIM-2'"),
    ],
)
def test_a_wrong_profile_is_refused_by_name(dimmer, item, role, figures, words):
    with pytest.raises(BadInput) as refused:
        profiles.set(item, role=role, figures=figures, actor=SYSTEM)
    assert words in refused.value.sentence


def test_a_known_species_is_accepted(dimmer):
    load_facts()
    figures = {"species": "fittonia-albivenis", "pot_mm": 60}
    profiles.set("DIM-1", role="plant", figures=figures, actor=SYSTEM)
    assert shelf().offer("plant", "DIM-1").figures == figures


def test_many_profiles_are_written_all_or_nothing(dimmer):
    rows = [ItemRole("DIM-1", "dimmer", DIMMER), ItemRole("DIM-1", "timer", {})]
    with pytest.raises(BadInput):
        profiles.set_all(rows, actor=SYSTEM)
    assert not Profile.objects.exists()


def test_a_profile_needs_the_right_to_the_catalogue(dimmer):
    with pytest.raises(NotAllowed):
        profiles.set("DIM-1", role="dimmer", figures=DIMMER, actor=Actor("Wren", frozenset()))


def test_a_role_can_be_taken_away_once(dimmer):
    profiles.set("DIM-1", role="dimmer", figures=DIMMER, actor=SYSTEM)
    profiles.remove("DIM-1", role="dimmer", actor=SYSTEM)
    with pytest.raises(Unknown):
        profiles.remove("DIM-1", role="dimmer", actor=SYSTEM)
