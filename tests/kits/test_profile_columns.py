"""What items can do, brought in and written out as columns `role.figure`."""

import pytest

from inventory.actors import SYSTEM
from inventory.calc import tables
from inventory.errors import BadInput
from inventory.models import Item, TaxClass
from inventory.services import exporting, importing
from kits.models import Profile
from kits.services import profile_columns
from kits.services.facts import load_facts

pytestmark = pytest.mark.django_db

HEAD = "code,name,tax_class,moss.litres,moss.family,moss.styles[],enclosure.size,hide.humid"
MOSS = "MOSS-5,Cushion moss,goods,5,123,desert; dry-scrub,,"


@pytest.fixture(autouse=True)
def tax():
    return TaxClass.objects.create(code="goods", name="Goods", rate=8)


def content(*lines):
    return "\n".join(lines).encode()


def run(*lines):
    return importing.run(content(*lines), name="f.csv", actor=SYSTEM, extra=profile_columns).as_json()


def look(*lines):
    return importing.preview(content(*lines), name="f.csv", extra=profile_columns).as_json()


def test_cells_become_figures_of_the_kind_that_the_role_wants():
    assert run(HEAD, MOSS)["added"] == ["MOSS-5"]
    assert Profile.objects.get().role == "moss"
    assert Profile.objects.get().figures == {
        "litres": 5, "family": "123", "styles": ["desert", "dry-scrub"],
    }  # fmt: skip


def test_a_column_that_is_absent_leaves_its_figure_and_a_changed_cell_is_told():
    run(HEAD, MOSS)
    done = run("code,moss.litres", "MOSS-5,6.5")
    assert done["changed"] == [{"item": "MOSS-5", "field": "moss.litres", "old": 5, "new": "6.5"}]
    assert done["unchanged"] == 0
    assert Profile.objects.get().figures["family"] == "123"


def test_a_role_whose_figures_are_all_emptied_ends():
    run(HEAD, MOSS)
    assert len(run(HEAD, "MOSS-5,Cushion moss,goods,,,,,")["changed"]) == 3
    assert not Profile.objects.exists()


def test_the_export_is_read_back_as_no_change_at_all():
    run(HEAD, MOSS)
    written = exporting.workbook(actor=SYSTEM, extra=profile_columns)
    items = tables.read(written, name="all.xlsx")[0]
    assert items.columns[-3:] == ("moss.litres", "moss.family", "moss.styles[]")
    again = importing.preview(written, name="all.xlsx", extra=profile_columns)
    assert (again.changes, again.faults, again.items.unchanged) == ([], [], 1)


@pytest.mark.parametrize(
    ("cells", "sentence"),
    [
        ("5,,desert,,", "Row 2, moss.family: A: The role moss needs the figure 'family'."),
        ("much,m,desert,,", "Row 2, moss.litres: A: The figure 'litres' must be a number above zero"),
        ("9" * 400 + ",m,desert,,", "Row 2, moss.litres: A: The figure 'litres' must be a number above zero"),
        ("5,m,marsh,,", "Row 2, moss.styles: A: The figure 'styles' must be a list of styles"),
        (",,,no-such-box,", "Row 2, enclosure.size: A: no enclosure is known as 'no-such-box'."),
        (",,,,maybe", "Row 2, hide.humid: A: The figure 'humid' must be true or false, not 'maybe'."),
    ],
)
def test_figures_that_do_not_fit_are_refused_by_row_with_the_rest_of_the_file(cells, sentence):
    load_facts()
    told = [fault["detail"] for fault in look(HEAD, f"A,a,goods,{cells}")["errors"]]
    assert any(detail.startswith(sentence) for detail in told)
    with pytest.raises(BadInput):
        run(HEAD, f"A,a,goods,{cells}")
    assert not Item.objects.exists()


def test_a_column_of_no_role_is_named():
    with pytest.raises(BadInput, match=r"Row 1, moss\.colour is not a column known here"):
        run(f"{HEAD},moss.colour", f"{MOSS},green")
