"""Who may do what, asked over HTTP and of the matrix itself."""

import pytest

from inventory.actors import ABILITIES
from inventory.errors import NotAllowed
from shop import permissions
from shop.models import StaffMember
from shop.services import orders, quotes, staff
from tests.shop.counter import Caller, actor, person, quoted, spec
from tests.shop.screens import signed_in

pytestmark = pytest.mark.usefixtures("shop")

ALLOWED, REFUSED = {200, 201, 409, 422}, {403}
DEEDS = {
    "plan": ("plans/", spec(BAG=1), {"Ada", "Ben", "Dov"}),
    "quote": ("quotes/", {"spec": spec(BAG=1)}, {"Ada", "Ben", "Dov"}),
    "hold": ("quotes/{q}/hold/", {}, {"Ada", "Ben", "Dov"}),
    "accept": ("quotes/{q}/accept/", {}, {"Ada", "Ben", "Dov"}),
    "withdraw": ("quotes/{q}/withdraw/", {}, {"Ada", "Ben", "Dov"}),
    "discount": ("quotes/{q}/discount/", {"percent": "5", "why": "Nice"}, {"Ada", "Ben", "Dov"}),
    "large discount": ("quotes/{q}/discount/", {"percent": "50", "why": "Nice"}, {"Ada"}),
    "cancel": ("orders/{o}/cancel/", {}, {"Ada", "Ben", "Dov"}),
    "hand over": ("orders/{o}/hand-over/", {}, {"Ada", "Ben", "Cleo", "Dov"}),
    "receive": ("receipts/", {"lines": [{"item": "BAG", "quantity": 1}]}, {"Ada", "Cleo", "Dov"}),
    "adjust": (
        "adjustments/",
        {"item": "BAG", "quantity": 1, "reason": "found_on_shelf"},
        {"Ada", "Ben", "Cleo", "Dov"},
    ),
    "count": ("counts/", {"lines": [{"item": "BAG", "quantity": 5}]}, {"Ada", "Ben", "Cleo", "Dov"}),
    "move": (
        "moves/",
        {"item": "BAG", "quantity": 1, "from_place": "shelf", "to_place": "shelf"},
        {"Ada", "Cleo", "Dov"},
    ),
    "quarantine": ("lots/BAG-0/quarantine/", {}, {"Ada", "Cleo", "Dov"}),
    "standard kit": ("standard-kits/", {"code": "a", "name": "A", "spec": spec(BAG=1)}, {"Ada"}),
}


@pytest.mark.parametrize("name", ["Ada", "Ben", "Cleo", "Dov", "Eve"])
@pytest.mark.parametrize("deed", DEEDS)
def test_each_person_may_do_what_the_matrix_says(deed, name):
    path, body, allowed = DEEDS[deed]
    quote = quoted(BAG=1).number
    order = quotes.accept(quoted(HIDE=1).number, actor=actor("Ada")).number if "{o}" in path else ""
    status = Caller(name).post(path.format(q=quote, o=order), body).status_code
    assert status in (ALLOWED if name in allowed else REFUSED)


def test_every_ability_has_a_meaning_and_the_owner_has_all_of_them():
    assert set(permissions.MEANINGS) == set(ABILITIES)
    assert permissions.ROLES["owner"] == ABILITIES


def test_no_role_but_the_owners_sees_cost_sets_prices_or_adds_staff():
    for role in ("counter", "packer"):
        assert not permissions.ROLES[role] & {"see_cost", "price", "staff", "discount_large", "backup"}


def test_several_roles_add_up():
    assert actor("Dov").abilities == permissions.ROLES["counter"] | permissions.ROLES["packer"]


def test_a_person_who_left_may_do_nothing():
    StaffMember.objects.filter(username="Ada").update(is_active=False)
    assert permissions.actor_for(person("Ada")).abilities == frozenset()


def test_services_refuse_by_themselves_not_only_the_addresses():
    order = quotes.accept(quoted(BAG=1).number, actor=actor("Ben"))
    for refused in (
        lambda: quotes.open(spec(BAG=1), actor=actor("Cleo")),
        lambda: orders.cancel(order.number, actor=actor("Cleo")),
        lambda: staff.add("Zoe", roles=["owner"], actor=actor("Ben")),
        lambda: staff.token("Ada", actor=actor("Cleo")),
    ):
        with pytest.raises(NotAllowed):
            refused()


def test_the_matrix_prints_as_a_table_with_a_row_for_each_ability():
    lines = permissions.matrix_markdown().splitlines()
    assert lines[0] == "| ability | meaning | counter | packer | owner |"
    assert len(lines) == 2 + len(ABILITIES)
    assert "| `hand_over` | let goods leave with the customer | yes | yes | yes |" in lines


def test_somebody_without_a_role_is_known_and_told_so():
    assert "may not" in signed_in("Eve").get("/quotes/").content.decode()
