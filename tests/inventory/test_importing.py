from decimal import Decimal

import pytest

from inventory.actors import SYSTEM, Actor
from inventory.calc import tables
from inventory.errors import BadInput, NotAllowed
from inventory.models import Barcode, Item, Lot, Movement, Stock, SupersededCode, TaxClass
from inventory.services import exporting, importing

pytestmark = pytest.mark.django_db

ITEMS = [
    "code,name,kind,price,tax_class,content_quantity,content_unit,live,fragile,barcodes,superseded_codes",
    "MOSS-5,Cushion moss,sundry,6.49,goods,5000,mL,,no,036000241457;SHOP-1,MOSS-4",
    "JAR-1,=Jar,sundry,12.00,goods,,,,yes,,",
]
STOCK = [
    "item,quantity,lot,best_before,unit_cost",
    "MOSS-5,12,L-77,2031-05-01,2.25",
    "JAR-1,3,,,",
]


@pytest.fixture(autouse=True)
def tax():
    return TaxClass.objects.create(code="goods", name="Goods", rate=8)


def run(lines, **options):
    return importing.run("\n".join(lines).encode(), name="file.csv", actor=options.get("actor", SYSTEM))


def look(lines):
    return importing.preview("\n".join(lines).encode(), name="file.csv")


def sellable(code):
    return Stock.objects.get(item__code=code).sellable


def test_a_preview_tells_what_would_change_and_writes_nothing():
    assert look(ITEMS).as_json()["added"] == ["MOSS-5", "JAR-1"]
    assert not Item.objects.exists()
    run(ITEMS)
    seen = look([ITEMS[0].replace("6.49", ""), ITEMS[1].replace("6.49", "7.10"), ITEMS[2]]).as_json()
    assert seen["changed"] == [{"item": "MOSS-5", "field": "price", "old": "6.49", "new": "7.10"}]
    assert (seen["added"], seen["unchanged"], seen["errors"]) == ([], 1, [])


def test_items_come_in_with_their_barcodes_and_former_codes():
    run(ITEMS)
    moss = Item.objects.get(code="MOSS-5")
    assert (moss.price, moss.content_quantity, moss.content_unit) == (Decimal("6.49"), 5000, "mL")
    assert set(Barcode.objects.values_list("text", "gtin")) == {
        ("036000241457", "00036000241457"),
        ("SHOP-1", ""),
    }
    assert SupersededCode.objects.get().item == moss
    assert Item.objects.get(code="JAR-1").fragile


def test_importing_the_same_items_again_changes_nothing():
    run(ITEMS)
    assert run(ITEMS).as_json() == {
        "added": [], "changed": [], "unchanged": 2, "also_made": [], "received": 0, "already_received": 0,
        "errors": [],
    }  # fmt: skip


def test_a_column_that_is_absent_leaves_its_field_and_an_empty_cell_empties_it():
    run(ITEMS)
    run(["code,content_quantity,content_unit", "MOSS-5,,"])
    moss = Item.objects.get(code="MOSS-5")
    assert (moss.name, moss.content_quantity) == ("Cushion moss", None)


def test_every_fault_names_its_row_and_column_and_nothing_is_written():
    lines = [*ITEMS, "MOSS-5,Again,sundry,1,goods,,,,,,", "BAD,,gadget,dear,nowhere,5,,,maybe,036000241458,"]
    with pytest.raises(BadInput) as refusal:
        run(lines)
    told = {error.pointer: error.detail for error in refusal.value.errors}
    assert told["/rows/4/code"] == "Row 4, code MOSS-5 stands in row 2 already."
    assert told["/rows/5/price"] == "Row 5, price must be a number, not 'dear'."
    assert {"/rows/5/name", "/rows/5/kind", "/rows/5/fragile"} <= set(told)
    assert not Item.objects.exists()


def test_faults_are_told_from_the_first_row_down_and_by_their_sheet():
    rows = {"code": "A", "name": "", "tax_class": "no"}, {"code": "B C", "name": "b", "tax_class": "goods"}
    stock = [{"item": "X", "quantity": 1}]
    book = tables.as_xlsx({"Items": (list(rows[0]), rows), "Stock": (["item", "quantity"], stock)})
    told = [fault.detail for fault in importing.preview(book, name="book.xlsx").faults]
    assert told == [
        "Sheet items: Row 2, name is missing.",
        "Sheet items: Row 2, tax_class 'no' is not known; give its rate in a column tax_rate_pct, or add it "
        "first.",
        "Sheet items: Row 3, code may hold letters, digits, dot, hyphen and underscore only, at most 64 of "
        "them.",
        "Sheet stock: Row 2, item 'X' is not known; add it first.",
    ]


def test_links_and_barcodes_that_do_not_fit_are_told_by_row():
    lines = [*ITEMS, "SAND,Sand,sundry,1,nowhere,5,,,,036000241457,MOSS-5"]
    told = {fault.pointer: fault.detail for fault in look(lines).faults}
    assert told["/rows/4/tax_class"] == (
        "Row 4, tax_class 'nowhere' is not known; give its rate in a column tax_rate_pct, or add it first."
    )
    assert told["/rows/4/content_quantity"].startswith("Row 4, content_quantity and content_unit go")
    assert told["/rows/4/barcodes"] == "Row 4, barcodes '036000241457' is a barcode of item MOSS-5."
    assert told["/rows/4/superseded_codes"] == "Row 4, superseded_codes 'MOSS-5' is the code of item MOSS-5."


@pytest.mark.parametrize(
    ("lines", "sentence"),
    [
        (["name,price", "x,1"], "needs a column code"),
        (["code,name,tax_class,colour", "A,x,goods,red"], "Row 1, colour is not a column known here."),
        (["code,name", "A,x"], "Row 2, tax_class is missing."),
        (["code,name,tax_class", ",x,goods"], "Row 2, code is missing."),
        (["item,quantity", "NONE,1"], "Row 2, item 'NONE' is not known; add it first."),
        (
            ["item,quantity,place", "NONE,0,moon"],
            "Row 2, quantity must be a whole number above zero, not '0'.",
        ),
        (["item,quantity,place", f"NONE,1,{'moon' * 9}"], "Row 2, place is longer than 32 characters."),
        (["item,quantity,quarantined_because", f"NONE,1,{'x' * 201}"], "is longer than 200 characters."),
        (["item,quantity,best_before", "NONE,1,soon"], "Row 2, best_before must be a date like 2026-01-31"),
        (["item,quantity,unit_cost", "NONE,1,free"], "Row 2, unit_cost must be a number, not 'free'."),
        (["item,quantity,lot", "NONE,1,a/b"], "Row 2, lot may hold letters"),
    ],
)
def test_tables_that_do_not_fit_are_refused_in_sentences(lines, sentence):
    with pytest.raises(BadInput) as refusal:
        run(lines)
    assert any(sentence in error.detail for error in refusal.value.errors)


def test_opening_stock_is_received_once_however_often_it_is_imported():
    run(ITEMS)
    assert run(STOCK).as_json()["received"] == 2
    again = run(STOCK).as_json()
    assert (again["received"], again["already_received"]) == (0, 2)
    assert (sellable("MOSS-5"), sellable("JAR-1")) == (12, 3)
    assert Lot.objects.get(code="L-77").unit_cost == Decimal("2.2500")
    assert Movement.objects.count() == 2


def test_the_same_table_in_another_file_is_still_received_once():
    run(ITEMS)
    run(STOCK)
    columns = STOCK[0].split(",")
    rows = [dict(zip(columns, line.split(","), strict=True)) for line in STOCK[1:]]
    content = tables.as_xlsx({"stock": (columns, rows)})
    assert importing.run(content, name="stock.xlsx", actor=SYSTEM).stock.already_received == 2


def test_a_lot_of_another_item_undoes_the_whole_file_and_names_the_row():
    run(ITEMS)
    with pytest.raises(BadInput, match="Row 3, lot L-77 belongs to another item"):
        run(["item,quantity,lot", "MOSS-5,1,L-77", "JAR-1,1,L-77"])
    assert not Movement.objects.exists()


def test_opening_stock_of_an_item_that_has_moved_is_refused_because_it_would_double():
    run(ITEMS)
    run(STOCK)
    for code in ("MOSS-5", "MOSS-4"):  # its code, and the one that it used to have
        with pytest.raises(BadInput, match=f"Row 2, item {code} .* not moved yet; receive or adjust"):
            run(["item,quantity", f"{code},12"])
    assert sellable("MOSS-5") == 12


def test_only_those_who_may_bring_in_items_prices_and_stock():
    with pytest.raises(NotAllowed):
        run(ITEMS, actor=Actor("clerk", frozenset({"catalogue"})))
    run(ITEMS)
    with pytest.raises(NotAllowed):
        run(STOCK, actor=Actor("clerk", frozenset({"catalogue", "price"})))
    assert not Movement.objects.exists()


def test_an_export_is_read_back_as_no_change_at_all():
    run(ITEMS)
    run(STOCK)
    content = exporting.items_csv(actor=SYSTEM)
    assert b"'=Jar" in content
    seen = importing.preview(content, name="items.csv").as_json()
    assert (seen["added"], seen["changed"], seen["unchanged"], seen["errors"]) == ([], [], 2, [])
    items, stock = tables.read(exporting.workbook(actor=SYSTEM), name="all.xlsx")
    assert [row["code"] for _, row in items.rows] == ["JAR-1", "MOSS-5"]
    assert [list(row.values()) for _, row in stock.rows] == [
        ["JAR-1", "3", "", "", "", "shelf", ""],
        ["MOSS-5", "12", "L-77", "2031-05-01", "2.2500", "shelf", ""],
    ]


def test_costs_are_left_out_for_those_who_may_not_see_them():
    run(ITEMS)
    header = (
        exporting.items_csv(actor=Actor("clerk", frozenset())).splitlines()[0].decode("utf-8-sig").split(",")
    )
    assert "price" in header
    assert "cost" not in header
