import csv
import io
import zipfile

import pytest
from openpyxl import Workbook, load_workbook

from inventory.calc import tables
from inventory.calc.errors import Impossible

RISKY = [
    "=1+1",
    "+1",
    "-1+2",
    "@SUM(A1)",
    "\t=1",
    "\r=1",
    "\uff1d1+1",
    "\uff0b1",
    "\uff0d1",
    "\uff20A1",
    "=HYPERLINK(0)",
]


def csv_of(*lines):
    return "\n".join(lines).encode()


def only(content, name="items.csv"):
    (table,) = tables.read(content, name=name)
    return table


@pytest.mark.parametrize("text", RISKY)
def test_a_cell_that_a_spreadsheet_would_run_leaves_defused(text):
    assert tables.defused(text) == "'" + text
    (_, (cell,)) = csv.reader(
        io.StringIO(tables.as_csv(["name"], [{"name": text}]).decode("utf-8-sig"), newline="")
    )
    assert cell == "'" + text
    sheet = load_workbook(io.BytesIO(tables.as_xlsx({"items": (["name"], [{"name": text}])}))).active
    assert sheet["A2"].data_type == "s"
    assert sheet["A2"].value.startswith("'")


def test_what_is_written_as_a_workbook_is_read_back():
    rows = [{"code": "A", "price": 3, "name": "=1+1", "live": True}]
    table = only(tables.as_xlsx({"items": (["code", "price", "name", "live"], rows)}))
    assert table.rows == ((2, {"code": "A", "price": "3", "name": "=1+1", "live": "yes"}),)
    assert table.name == "items"


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_the_delimiter_is_seen_from_the_first_row(delimiter):
    assert only(csv_of(f"code{delimiter}name", f"A{delimiter}x")).rows == ((2, {"code": "A", "name": "x"}),)


def test_rows_keep_the_numbers_that_a_spreadsheet_shows():
    assert [number for number, _ in only(csv_of("code,name", "A,x", "", ",", "B,y")).rows] == [2, 5]


def test_the_digest_follows_the_content_not_the_packing():
    as_csv = only(csv_of("code,name", "A,x"))
    as_book = only(tables.as_xlsx({"items": (["code", "name"], [{"code": "A", "name": "x"}])}))
    assert as_csv.digest() == as_book.digest()
    assert as_csv.digest() != only(csv_of("code,name", "A,y")).digest()


def bomb():
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/worksheets/sheet1.xml", b"0" * (tables.MOST_UNPACKED_BYTES + 1))
    return packed.getvalue()


def empty_book():
    out = io.BytesIO()
    Workbook().save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "sentence"),
    [
        (b"", "holds no rows"),
        (b"\xff\xfe\x00c", "neither an XLSX workbook nor text in UTF-8"),
        (b"code\0,name", "zero bytes"),
        (b"PK\x03\x04 not a zip", "not an XLSX workbook"),
        (empty_book(), "holds no rows"),
        (csv_of("code,code", "A,B"), "column code stands twice"),
        (csv_of("code,,name", "A,B,C"), "column 2 has no name"),
        (csv_of("code,name", "A,B,C"), "row 2 has more cells"),
        (csv_of("code,name", "A," + "x" * 2001), "row 2, name is longer than 2000"),
        (csv_of("code", *("A" for _ in range(tables.MOST_ROWS + 1))), "more than 60000 rows"),
        (csv_of("code,name", 'A,"x"y'), "cannot be read as CSV"),
        (b"x" * (tables.MOST_BYTES + 1), "larger than 20 MB"),
    ],
)
def test_files_that_cannot_be_used_are_refused_in_a_sentence(content, sentence):
    with pytest.raises(Impossible, match=sentence):
        tables.read(content, name="items.csv")


def test_a_workbook_that_unpacks_without_end_is_refused():
    with pytest.raises(Impossible, match="unpacks to more than 200 MB"):
        tables.read(bomb(), name="items.xlsx")
