"""Taking roles away, and ending somebody's access at once and everywhere."""

import pytest
from django.core.management import call_command

from inventory.actors import SYSTEM
from inventory.errors import Conflict, NotAllowed
from shop.models import Change
from shop.services import staff
from tests.shop.counter import actor, person
from tests.shop.screens import signed_in

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("shop")]


def test_whoever_leaves_is_out_at_once_by_token_and_by_screen(ben):
    screen = signed_in("Ben")
    assert (ben.get("me/").status_code, screen.get("/quotes/").status_code) == (200, 200)
    staff.end("Ben", actor=SYSTEM)
    assert (ben.get("me/").status_code, screen.get("/quotes/").status_code) == (401, 302)
    assert not person("Ben").has_usable_password()
    assert Change.objects.filter(subject="staff Ben", what="left").exists()


@pytest.mark.parametrize("give", [staff.token, staff.one_time_password])
def test_nobody_who_left_gets_a_way_in_until_they_are_added_again(give):
    staff.end("Cleo", actor=SYSTEM)
    with pytest.raises(Conflict, match="Cleo has left; add them again first"):
        give("Cleo", actor=SYSTEM)
    assert staff.add("Cleo", roles=["counter"], actor=SYSTEM)
    assert actor("Cleo").abilities == actor("Ben").abilities


def test_a_role_is_taken_away_and_the_others_stay():
    staff.drop_role("Dov", role="packer", actor=SYSTEM)
    assert actor("Dov").abilities == actor("Ben").abilities
    with pytest.raises(Conflict, match="Dov does not hold the role packer"):
        staff.drop_role("Dov", role="packer", actor=SYSTEM)


def test_an_owner_who_is_none_any_more_has_no_admin():
    staff.add("Ben", roles=["owner"], actor=SYSTEM)
    signed_in("Ada")
    staff.drop_role("Ada", role="owner", actor=SYSTEM)
    assert (person("Ada").is_staff, person("Ada").is_superuser) == (False, False)


@pytest.mark.parametrize(
    "let_go",
    [lambda: staff.end("Ada", actor=SYSTEM), lambda: staff.drop_role("Ada", role="owner", actor=SYSTEM)],
)
def test_the_last_owner_stays(let_go):
    with pytest.raises(Conflict, match="Ada is the only owner"):
        let_go()


def test_only_the_owner_may():
    for do in (
        lambda a: staff.end("Cleo", actor=a),
        lambda a: staff.drop_role("Cleo", role="packer", actor=a),
    ):
        with pytest.raises(NotAllowed):
            do(actor("Ben"))


def test_the_commands_say_what_they_did(capsys):
    call_command("staff", "drop", "Dov", "--role", "packer")
    call_command("staff", "end", "Ben")
    call_command("staff", "list")
    said = capsys.readouterr().out.splitlines()
    assert said[:2] == [
        "Dov does not hold the role packer any more.",
        "Ben has no access any more; what they did stays under their name.",
    ]
    assert [line.split(maxsplit=1) for line in said[2:5]] == [
        ["Ada", "owner"],
        ["Ben", "has left"],
        ["Cleo", "packer"],
    ]
