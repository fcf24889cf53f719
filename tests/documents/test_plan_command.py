"""The build sheet from the terminal."""

import json

import pytest
from django.core.management import call_command

from tests.documents.papers import page_count, text_of
from tests.shop.counter import spec


@pytest.fixture
def spec_file(shop, tmp_path):
    path = tmp_path / "spec.json"
    path.write_text(json.dumps(spec(BAG=2)), encoding="utf-8")
    return path


def test_the_plan_command_writes_the_build_sheet(spec_file, tmp_path, capsys):
    out = tmp_path / "sheet.pdf"
    call_command("plan", str(spec_file), json=True, build_sheet=str(out), paper="a4")
    assert json.loads(capsys.readouterr().out)["complete"] is True
    assert page_count(out.read_bytes()) >= 2
    assert "plan version scale date page" in text_of(out.read_bytes())
    assert sorted(path.name for path in tmp_path.iterdir()) == ["sheet.pdf", "spec.json"]


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        ({"build_sheet": "sheet.pdf", "paper": "legal"}, "paper must be one of letter or a4, not 'legal'."),
        ({"build_sheet": "nowhere/sheet.pdf"}, "The build sheet cannot be written to"),
    ],
)
def test_a_sheet_that_cannot_be_written_is_refused_in_one_sentence(options, sentence, spec_file, capsys):
    folder = spec_file.parent
    options["build_sheet"] = str(folder / options["build_sheet"])
    with pytest.raises(SystemExit) as left:
        call_command("plan", str(spec_file), **options)
    said = capsys.readouterr()
    assert (left.value.code, said.out) == (2, "")
    assert said.err.startswith(sentence)
    assert [path.name for path in folder.iterdir()] == ["spec.json"]
