import io
import json
import sys

import pytest
from django.core.management import call_command

from shop.models import StaffMember
from shop.permissions import ROLES
from shop.services import orders, quotes
from tests.shop.counter import actor, person, quoted, spec

pytestmark = pytest.mark.usefixtures("shop")


def run(*arguments):
    """Exit status and standard output of a command."""
    out = io.StringIO()
    try:
        call_command(*arguments, stdout=out)
    except SystemExit as leaving:
        return leaving.code, out.getvalue()
    return 0, out.getvalue()


def spec_file(folder, content):
    path = folder / "spec.json"
    path.write_text(content if isinstance(content, str) else json.dumps(content))
    return str(path)


def test_a_complete_plan_prints_its_parts_and_leaves_with_0(tmp_path):
    status, out = run("plan", spec_file(tmp_path, spec(BAG=2)))
    assert status == 0
    assert "● free" in out
    assert "BAG" in out
    assert "29.00" in out
    assert "Complete" in out


def test_a_short_plan_says_what_is_missing_and_leaves_with_3(tmp_path):
    status, out = run("plan", spec_file(tmp_path, spec(BAG=8)))
    assert status == 3
    assert "◐ short" in out
    assert "6 free, 2 missing" in out


def test_the_parts_list_is_aligned(tmp_path):
    _, out = run("plan", spec_file(tmp_path, spec(BAG=2, LAMP=1)))
    rows = [line for line in out.splitlines() if line.rstrip().endswith(("Total", "29.00", "30.00"))]
    rows = [line for line in rows if "BAG" in line or "LAMP" in line or "Status" in line]
    assert len(rows) == 3
    assert len({len(row) for row in rows}) == 1


def test_as_json_nothing_but_the_plan_is_printed(tmp_path):
    status, out = run("plan", spec_file(tmp_path, spec(BAG=8)), "--json")
    plan = json.loads(out)
    assert (status, plan["complete"], plan["lines"][0]["missing"]) == (3, False, 2)


def test_a_dash_reads_standard_input(monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(json.dumps(spec(BAG=1)).encode())))
    assert run("plan", "-")[0] == 0


@pytest.mark.parametrize(
    ("content", "word"),
    [
        ("{", "JSON"),
        ("[]", "spec"),
        ('{"style": "humid-forest"}', "enclosure"),
        ('{"enclosure": {"size": "nowhere"}, "style": "desert"}', "size"),
        ('{"enclosure": NaN}', "NaN"),
        ("[" * 100_000, "deep"),
    ],
)
def test_a_bad_spec_leaves_with_2_and_one_sentence_naming_the_field(tmp_path, capsys, content, word):
    status, out = run("plan", spec_file(tmp_path, content))
    error = capsys.readouterr().err
    assert (status, out, error.count("\n")) == (2, "", 1)
    assert word in error


def test_a_file_that_is_not_there_leaves_with_2(tmp_path, capsys):
    assert run("plan", str(tmp_path / "none.json"))[0] == 2
    assert "none.json" in capsys.readouterr().err


def test_adding_a_person_prints_a_password_that_is_theirs():
    _, out = run("staff", "add", "zoe", "--role", "counter", "--role", "packer")
    assert person("zoe").check_password(out.split()[-1])
    assert person("zoe").must_change_password
    assert actor("zoe").abilities == ROLES["counter"] | ROLES["packer"]


def test_the_last_word_of_a_token_is_the_token():
    _, out = run("staff", "token", "Ben")
    assert out.split()[-1] == person("Ben").auth_token.key


def test_a_token_for_nobody_leaves_with_2(capsys):
    assert run("staff", "token", "nobody")[0] == 2
    assert "nobody" in capsys.readouterr().err
    assert not StaffMember.objects.filter(username="nobody").exists()


def test_a_trace_shows_who_got_a_lot():
    order = quotes.accept(quoted(BAG=2).number, actor=actor("Ben"))
    orders.hand_over(order.number, actor=actor("Ben"))
    trace = json.loads(run("trace", "BAG-0", "--json")[1])
    assert (trace["lot"], trace["forward"][0]["demand_ref"]) == ("BAG-0", order.demand_ref)
    assert order.demand_ref in run("trace", "BAG-0")[1]


def test_a_lot_that_is_not_known_leaves_with_2(capsys):
    assert run("trace", "NOPE")[0] == 2
    assert "NOPE" in capsys.readouterr().err
