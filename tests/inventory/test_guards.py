"""What the database itself refuses, whoever asks."""

import pytest
from django.db import IntegrityError, connection, transaction

from inventory.calc.lines import Line
from inventory.models import CatalogueVersion, Item, Stock, TaxClass
from inventory.services import holding, lots
from tests.inventory.shelf import OWNER, make_item, stocked

pytestmark = pytest.mark.django_db


def refused(statement):
    with pytest.raises(IntegrityError) as refusal, transaction.atomic(), connection.cursor() as cursor:
        cursor.execute(statement)
    return str(refusal.value)


@pytest.mark.parametrize("table", ["inventory_movement", "inventory_holdchange", "inventory_lotchange"])
@pytest.mark.parametrize("change", ["UPDATE {} SET by = 'nobody'", "DELETE FROM {}", "TRUNCATE {} CASCADE"])
def test_history_is_append_only(table, change):
    stocked("bag", 5)
    holding.hold("order 1", lines=[Line("bag", 1)], until=None, actor=OWNER)
    lots.quarantine("bag-0", why="wet", actor=OWNER)
    connection.check_constraints()
    with connection.cursor() as cursor:
        cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
    assert "append-only" in refused(change.format(table))


@pytest.mark.parametrize(
    ("statement", "constraint"),
    [
        ("UPDATE inventory_stock SET held = sellable + 1", "held_is_within_sellable"),
        ("UPDATE inventory_stock SET held = -1", "held_is_within_sellable"),
        ("UPDATE inventory_lotbalance SET on_hand = -1", "on_hand_not_negative"),
        ("UPDATE inventory_hold SET quantity = 0", "hold_ends_when_nothing_is_held"),
        ("UPDATE inventory_lot SET state = 'lost'", "lot_state_is_known"),
        ("UPDATE inventory_item SET base_unit = 'cup'", "item_base_unit_is_known"),
        ("UPDATE inventory_item SET content_quantity = 5", "item_content_has_its_unit"),
        ("INSERT INTO inventory_catalogueversion (id) OVERRIDING SYSTEM VALUE VALUES (2)", "one_catalogue"),
        ("DELETE FROM inventory_stock", "hold_stands_on_stock"),
        (
            "INSERT INTO inventory_movement (item_id, lot_id, place_id, quantity, kind, at, by) "
            "SELECT i.id, l.id, 1, 1, 'receipt', now(), 'x' FROM inventory_item i, inventory_lot l "
            "WHERE l.item_id <> i.id",
            "movement_names_lot_of_its_item",
        ),
    ],
)
def test_a_figure_that_cannot_be_is_refused(statement, constraint):
    stocked("bag", 5)
    stocked("lamp", 5)
    holding.hold("order 1", lines=[Line("bag", 1)], until=None, actor=OWNER)
    assert constraint in refused(statement)


def test_every_change_of_the_catalogue_raises_its_version():
    versions = []
    for change in (
        lambda: make_item("bag"),
        lambda: Item.objects.update(price=3),
        lambda: TaxClass.objects.update(rate=9),
        lambda: Stock.objects.update(sellable=9),
    ):
        before = CatalogueVersion.objects.get().version
        change()
        versions.append(CatalogueVersion.objects.get().version > before)
    assert versions == [True, True, True, False]
