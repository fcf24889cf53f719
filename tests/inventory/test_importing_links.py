"""What the rows of a file name and nobody has made yet is made along with them, or refused by row."""

from decimal import Decimal

import pytest

from inventory.actors import SYSTEM, Actor
from inventory.errors import BadInput, NotAllowed
from inventory.models import Item, Lot, Mix, Place, Stock, Supplier, TaxClass
from inventory.services import exporting, importing, lots

pytestmark = pytest.mark.django_db

ITEMS = [
    "code,name,price,tax_class,tax_rate_pct,place,supplier,mix",
    "SOIL-5,Forest soil,9.00,goods,6.25,A1-3,lowmarsh,understorey",
    "SOIL-9,Forest soil,15.00,goods,6.250,A1-4,lowmarsh,understorey",
]


def run(lines, actor=SYSTEM):
    return importing.run("\n".join(lines).encode(), name="file.csv", actor=actor)


def look(lines):
    return importing.preview("\n".join(lines).encode(), name="file.csv").as_json()


def test_a_preview_lists_what_would_also_be_made_and_makes_nothing():
    seen = look(ITEMS)
    assert seen["errors"] == []
    assert importing.describe(seen, only_looked=True).splitlines()[1] == (
        "Would also be made: tax class goods (6.25 %); place A1-3, A1-4; supplier lowmarsh; mix understorey."
    )
    assert not Supplier.objects.exists()
    assert not TaxClass.objects.filter(code="goods").exists()


def test_places_suppliers_mixes_and_tax_classes_are_made_with_the_items_that_name_them():
    run(ITEMS)
    soil = Item.objects.select_related("place", "supplier", "mix", "tax_class").get(code="SOIL-5")
    assert (soil.place.code, soil.supplier.name, soil.mix.code) == ("A1-3", "lowmarsh", "understorey")
    assert soil.tax_class.rate == Decimal("6.25")
    assert run(ITEMS).as_json()["also_made"] == []
    assert (Supplier.objects.count(), Mix.objects.count()) == (1, 1)


def test_nothing_is_made_when_any_row_is_refused():
    with pytest.raises(BadInput, match="Row 4, name is missing"):
        run([*ITEMS, "SOIL-1,,1,goods,,A9-9,far,other"])
    assert not Supplier.objects.exists()
    assert not Place.objects.filter(code__startswith="A").exists()


@pytest.mark.parametrize(
    ("row", "sentence"),
    [
        ("A,x,1,nowhere,,,,", "Row 4, tax_class 'nowhere' is not known; give its rate in a column"),
        ("A,x,1,goods,7,,,", "Row 4, tax_rate_pct 7 is not the rate of tax class goods, which is 6.25;"),
        ("A,x,1,far,101,,,", "Row 4, tax_rate_pct must lie from 0 to 100."),
        ("A,x,1,far,some,,,", "Row 4, tax_rate_pct must be a number, not 'some'."),
        ("A,x,1,,6,,,", "Row 4, tax_class is missing."),
        ("A,x,1,goods,,,,a b", "Row 4, mix may hold letters, digits, hyphen and underscore only"),
        (f"A,x,1,goods,,{'p' * 33},,", "Row 4, place is longer than 32 characters."),
    ],
)
def test_what_cannot_be_made_is_refused_by_row(row, sentence):
    told = [fault["detail"] for fault in look([*ITEMS, row])["errors"]]
    assert any(detail.startswith(sentence) for detail in told)
    assert len(told) == len(set(told))
    assert all(detail.startswith("Row 4, ") for detail in told)


def test_a_rate_alone_says_nothing_of_an_item():
    told = look(["code,tax_rate_pct", "A,5"])["errors"]
    assert "Row 2, tax_rate_pct needs the column tax_class beside it." in [fault["detail"] for fault in told]


def test_the_rate_of_a_class_that_is_known_is_never_changed_by_a_file():
    TaxClass.objects.create(code="goods", name="Goods", rate=8)
    with pytest.raises(
        BadInput, match=r"Row 2, tax_rate_pct 6\.25 is not the rate of tax class goods, which is 8"
    ):
        run(ITEMS)


def test_a_new_tax_class_needs_the_ability_to_price_and_a_new_place_that_of_the_catalogue():
    rows = ["code,name,tax_class,tax_rate_pct", "A,x,goods,5"]
    with pytest.raises(NotAllowed, match="price"):
        run(rows, actor=Actor("clerk", frozenset({"catalogue"})))
    run(rows)
    with pytest.raises(NotAllowed, match="catalogue"):
        run(["item,quantity,place", "A,1,B1"], actor=Actor("clerk", frozenset({"receive"})))
    assert not Stock.objects.filter(sellable__gt=0).exists()


def test_places_that_only_opening_stock_names_are_made_too():
    run(ITEMS)
    done = run(["item,quantity,place", "SOIL-5,4,BACK ROOM"]).as_json()
    assert done["also_made"] == [{"kind": "place", "code": "BACK ROOM"}]


def test_suspicious_stock_stays_in_quarantine_on_its_way_through_a_file():
    run(ITEMS)
    run(["item,quantity,lot,quarantined_because", "SOIL-5,4,K1,", "SOIL-9,3,K2,Smelt sour."])
    assert dict(Lot.objects.filter(standing=False).values_list("code", "state")) == {
        "K1": "good", "K2": "quarantined",
    }  # fmt: skip
    assert Stock.objects.get(item__code="SOIL-9").sellable == 0
    lots.quarantine("K1", why="Mites seen.", actor=SYSTEM)
    told = [line.rpartition(",")[2] for line in exporting.stock_csv(actor=SYSTEM).decode().splitlines()]
    assert told == ["quarantined_because", "Mites seen.", "Smelt sour."]
