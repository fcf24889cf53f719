from decimal import Decimal

import pytest

from inventory.actors import SYSTEM, Actor
from inventory.errors import BadInput, Conflict, NotAllowed, Unknown
from inventory.models import Barcode, Item, Lot, Stock, TaxClass
from inventory.selectors import items
from inventory.services import catalogue, receiving
from inventory.services.receiving import Receipt

pytestmark = pytest.mark.django_db
KEEPER = Actor("keeper", frozenset({"catalogue"}))


@pytest.fixture(autouse=True)
def tax():
    return TaxClass.objects.create(code="goods", name="Goods", rate=8)


def made(**fields):
    return catalogue.create({"code": "MOSS-5", "name": "Moss", "tax_class": "goods", **fields}, actor=SYSTEM)


def test_a_new_item_has_its_stock_row_and_its_standing_lot():
    item = made(price="6.49", content_quantity=5000, content_unit="mL", barcodes=["036000241457"])
    assert (item.price, item.content_quantity, item.unit_name) == (Decimal("6.49"), 5000, "piece")
    assert Stock.objects.get(item=item).sellable == 0
    assert Lot.objects.get(item=item).standing
    assert Barcode.objects.get(item=item).gtin == "00036000241457"


def test_only_the_named_fields_change():
    made(price="6.49", family="moss")
    changed = catalogue.update("MOSS-5", changes={"name": "Cushion moss"}, actor=SYSTEM)
    assert (changed.name, changed.price, changed.family) == ("Cushion moss", Decimal("6.49"), "moss")


def test_prices_need_the_ability_to_price():
    made()
    assert catalogue.update("MOSS-5", changes={"name": "Moss, dried"}, actor=KEEPER).name == "Moss, dried"
    with pytest.raises(NotAllowed, match="price"):
        catalogue.update("MOSS-5", changes={"price": "1.00"}, actor=KEEPER)
    with pytest.raises(NotAllowed, match="catalogue"):
        catalogue.update("MOSS-5", changes={"name": "x"}, actor=Actor("clerk", frozenset()))


@pytest.mark.parametrize(
    ("field", "value", "sentence"),
    [
        ("code", "a b", "code may hold letters"),
        ("name", "", "name is missing."),
        ("name", "x" * 201, "name is longer than 200 characters."),
        ("kind", "gadget", "kind must be one of"),
        ("base_unit", "litre", "base_unit must be one of"),
        ("price", "-1", "price must lie from 0"),
        ("price", "NaN", "price must lie from 0"),
        ("price", "cheap", "price must be a number, not 'cheap'."),
        ("price", "1.005", "price may have at most 2 decimals."),
        ("tax_class", "none", "tax_class 'none' is not known; add it first."),
        ("content_quantity", 5, "content_quantity and content_unit go together."),
        ("mass_g", "1.5", "mass_g must be a whole number, not '1.5'."),
        ("fragile", "perhaps", "fragile must be yes or no"),
        ("colour", "red", "colour is not a field of an item."),
        ("barcodes", ["036000241458"], "barcodes '036000241458' cannot be right"),
        ("name", "a\nb", "name holds a line break"),
    ],
)
def test_every_wrong_field_is_refused_in_a_sentence(field, value, sentence):
    with pytest.raises(BadInput) as refusal:
        made(**{field: value})
    assert refusal.value.errors[0].pointer == f"/{field}"
    assert refusal.value.errors[0].detail.startswith(sentence)
    assert not Item.objects.exists()


def test_a_taken_code_is_refused():
    made()
    with pytest.raises(Conflict, match="MOSS-5 already"):
        made()


def test_an_unknown_item_is_refused():
    with pytest.raises(Unknown, match="NONE"):
        catalogue.update("NONE", changes={"name": "x"}, actor=SYSTEM)


def test_an_item_is_found_by_a_barcode_that_was_added():
    made()
    catalogue.add_barcode("MOSS-5", text="SHOP-77", actor=KEEPER)
    catalogue.add_barcode("MOSS-5", text="SHOP-77", actor=KEEPER)
    assert [item.code for item in items.find("SHOP-77")] == ["MOSS-5"]


def test_a_barcode_of_another_item_is_refused():
    made(barcodes=["SHOP-77"])
    catalogue.create({"code": "SAND-5", "name": "Sand", "tax_class": "goods"}, actor=SYSTEM)
    with pytest.raises(BadInput, match="is a barcode of item MOSS-5"):
        catalogue.add_barcode("SAND-5", text="SHOP-77", actor=SYSTEM)


def test_a_superseded_code_still_finds_its_item_and_may_come_back():
    made()
    assert catalogue.supersede("MOSS-5", new_code="MOSS-6", actor=KEEPER).code == "MOSS-6"
    assert [item.code for item in items.find("MOSS-5")] == ["MOSS-6"]
    assert catalogue.update("MOSS-5", changes={"name": "Old name"}, actor=KEEPER).code == "MOSS-6"
    assert catalogue.supersede("MOSS-6", new_code="MOSS-5", actor=KEEPER).code == "MOSS-5"
    assert [item.code for item in items.find("MOSS-6")] == ["MOSS-5"]


def test_the_code_of_another_item_cannot_be_taken_over():
    made()
    catalogue.create({"code": "SAND-5", "name": "Sand", "tax_class": "goods"}, actor=SYSTEM)
    with pytest.raises(Conflict, match="code of another item"):
        catalogue.supersede("SAND-5", new_code="MOSS-5", actor=SYSTEM)
    with pytest.raises(BadInput, match="new_code may hold letters"):
        catalogue.supersede("SAND-5", new_code="a/b", actor=SYSTEM)


def test_the_base_unit_stays_once_stock_has_moved():
    made()
    catalogue.update("MOSS-5", changes={"base_unit": "mL"}, actor=SYSTEM)
    receiving.receive([Receipt("MOSS-5", 5)], actor=SYSTEM)
    with pytest.raises(BadInput, match="base_unit cannot change"):
        catalogue.update("MOSS-5", changes={"base_unit": "g"}, actor=SYSTEM)
