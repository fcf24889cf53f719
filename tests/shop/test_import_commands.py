"""The commands that bring the catalogue in from a file and write it out, with what items can do."""

import json

import pytest
from django.core.management import call_command

from inventory.models import Item, TaxClass

pytestmark = pytest.mark.django_db

ITEMS = [
    "code,name,kind,price,tax_class,place,dimmer.max_watts,supplement.kind",
    "DIM-1,Dimmer,control,29.00,goods,C4-1,150,",
    "CHALK,Calcium,food,7.50,goods,C9-1,,calcium",
]


@pytest.fixture(autouse=True)
def tax():
    return TaxClass.objects.create(code="goods", name="Goods", rate=8)


def test_the_commands_bring_in_and_write_out(tmp_path, capsys):
    (tmp_path / "in.csv").write_text("\n".join(ITEMS))
    call_command("import_items", str(tmp_path / "in.csv"), "--preview")
    assert not Item.objects.exists()
    assert "Would also be made: place C4-1, C9-1." in capsys.readouterr().out
    call_command("import_items", str(tmp_path / "in.csv"))
    assert capsys.readouterr().out.startswith("2 items added, 0 items changed")
    assert Item.objects.get(code="DIM-1").profiles.get().figures == {"max_watts": 150}
    for name in ("out.xlsx", "out.csv"):
        call_command("export_items", str(tmp_path / name))
        call_command("import_items", str(tmp_path / name))
        assert "2 items unchanged" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("none.csv", "none.csv cannot be read: No such file"),
        ("bad.csv", "Row 2, name is missing.\nRow 3, dimmer.max_watts: B: The figure 'max_watts' must be a"),
    ],
)
def test_the_commands_end_with_status_two_and_a_sentence(tmp_path, capsys, name, sentence):
    (tmp_path / "bad.csv").write_text("code,name,tax_class,dimmer.max_watts\nA,,goods,\nB,b,goods,-1\n")
    with pytest.raises(SystemExit) as ended:
        call_command("import_items", str(tmp_path / name))
    assert ended.value.code == 2
    assert sentence in capsys.readouterr().err


def test_of_many_faults_a_screenful_is_told_and_all_of_them_as_json(tmp_path, capsys):
    rows = "".join(f"A-{n},,goods\n" for n in range(50))
    (tmp_path / "many.csv").write_text(f"code,name,tax_class\n{rows}")
    with pytest.raises(SystemExit):
        call_command("import_items", str(tmp_path / "many.csv"))
    told = capsys.readouterr().err.splitlines()
    assert (told[0], len(told)) == ("Row 2, name is missing.", 41)
    assert told[-1] == "10 more faults; --json tells them all."
    with pytest.raises(SystemExit) as ended:
        call_command("import_items", str(tmp_path / "many.csv"), "--json")
    errors = json.loads(capsys.readouterr().out)["errors"]
    assert (ended.value.code, len(errors), errors[49]["pointer"]) == (2, 50, "/rows/51/name")
