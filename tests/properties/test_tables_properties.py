"""What is written for a spreadsheet is read back."""

from hypothesis import given
from hypothesis import strategies as st

from inventory.calc import tables
from tests.unit.inventory.test_tables import only

CELL = st.text(alphabet=st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=20)


@given(st.text(max_size=30))
def test_defusing_is_undone_exactly(text):
    assert tables.fused(tables.defused(text)) == text


@given(st.lists(st.tuples(CELL, CELL), min_size=1, max_size=5))
def test_what_is_written_as_csv_is_read_back(rows):
    written = [{"code": f"A{n}", "name": name, "note": note} for n, (name, note) in enumerate(rows)]
    table = only(tables.as_csv(["code", "name", "note"], written))
    stripped = [{key: value.strip() for key, value in row.items()} for row in written]
    assert [dict(row) for _, row in table.rows] == stripped
