import pytest
from django.test import override_settings
from rest_framework.test import APIClient

from inventory.actors import SYSTEM
from inventory.errors import BadInput
from shop import settings as shop_settings
from shop.models import Change, StaffMember
from shop.services import staff
from tests.shop.counter import person, quoted

pytestmark = pytest.mark.usefixtures("shop")
OWN = "a quiet green fern 7"


def sign_in(client, name, password):
    return client.post("/api/sign-in/", {"username": name, "password": password}, "json")


def one_time(name):
    return staff.one_time_password(name, actor=SYSTEM)


def test_a_one_time_password_opens_nothing_but_the_choice_of_an_own_one():
    client, password = APIClient(), one_time("Ben")
    assert sign_in(client, "Ben", password).json()["must_change_password"]
    refused = client.get("/api/items/")
    assert (refused.status_code, "password of your own" in refused.json()["detail"]) == (403, True)
    assert client.post("/api/password/", {"old": password, "new": OWN}, "json").status_code == 200
    assert client.get("/api/items/").status_code == 200


def test_the_chosen_password_signs_in_and_the_one_time_password_is_used_up():
    client, password = APIClient(), one_time("Ben")
    sign_in(client, "Ben", password)
    client.post("/api/password/", {"old": password, "new": OWN}, "json")
    assert sign_in(APIClient(), "Ben", OWN).json()["must_change_password"] is False
    assert sign_in(APIClient(), "Ben", password).status_code == 401


@pytest.mark.parametrize(
    ("new", "word"), [("short", "short"), ("12345678901", "numeric"), ("password123", "common")]
)
def test_a_weak_password_is_refused_by_name(new, word):
    password = one_time("Ben")
    with pytest.raises(BadInput) as refusal:
        staff.change_password("Ben", old=password, new=new, actor=SYSTEM)
    assert refusal.value.errors[0].pointer == "/new"
    assert word in refusal.value.sentence


def test_a_wrong_password_answers_401_as_a_problem():
    response = sign_in(APIClient(), "Ben", "wrong")
    assert (response.status_code, response["Content-Type"]) == (401, "application/problem+json")


@override_settings(AXES_FAILURE_LIMIT=3)
def test_too_many_wrong_passwords_answer_429_even_for_the_right_one():
    password = one_time("Ben")
    statuses = [sign_in(APIClient(), "Ben", "wrong").status_code for _ in range(3)]
    last = sign_in(APIClient(), "Ben", password)
    assert (statuses[0], last.status_code) == (401, 429)
    assert last["Content-Type"] == "application/problem+json"


def test_a_session_without_its_csrf_token_cannot_write():
    client, password = APIClient(enforce_csrf_checks=True), one_time("Ben")
    sign_in(client, "Ben", password)
    StaffMember.objects.filter(username="Ben").update(must_change_password=False)
    response = client.post("/api/quotes/", {}, "json", headers={"Idempotency-Key": "k"})
    assert (response.status_code, "CSRF" in response.json()["detail"]) == (403, True)


def test_signing_out_closes_the_session():
    client = APIClient()
    sign_in(client, "Ben", one_time("Ben"))
    assert client.post("/api/sign-out/", {}, "json").status_code == 200
    assert client.get("/api/me/").status_code == 401


def test_passwords_are_stored_with_argon2_at_its_full_cost_and_no_two_are_alike(settings):
    settings.PASSWORD_HASHERS = shop_settings.PASSWORD_HASHERS  # the tests' own are quick
    assert one_time("Ben") != one_time("Ben")
    assert person("Ben").password.startswith("argon2$argon2id$v=19$m=102400,t=2,p=8$")


def test_adding_a_person_again_adds_the_role_and_keeps_the_password():
    before = person("Ben").password
    assert staff.add("Ben", roles=["owner"], actor=SYSTEM) == ""
    assert person("Ben").password == before
    assert set(person("Ben").staff_roles.values_list("role", flat=True)) == {"counter", "owner"}


@pytest.mark.parametrize(
    ("name", "roles", "pointer"),
    [("", ["owner"], "/name"), ("a b", ["owner"], "/name"), ("Zoe", ["boss"], "/role")],
)
def test_a_bad_name_or_role_is_refused_by_name(name, roles, pointer):
    with pytest.raises(BadInput) as refusal:
        staff.add(name, roles=roles, actor=SYSTEM)
    assert refusal.value.errors[0].pointer == pointer


def test_the_longest_name_that_is_allowed_is_written_down_whole():
    name = "z" * 150
    assert staff.add(name, roles=["packer"], actor=SYSTEM)
    assert Change.objects.filter(subject=f"staff {name}").count() == 2


def test_a_token_stays_the_same_and_its_making_is_written_down():
    assert staff.token("Cleo", actor=SYSTEM) == staff.token("Cleo", actor=SYSTEM)
    assert Change.objects.filter(subject="staff Cleo", what="token").count() == 1


def test_the_admin_pages_open_to_an_owner_with_an_own_password_and_change_nothing():
    client, password = APIClient(), one_time("Ada")
    sign_in(client, "Ada", password)
    assert client.get("/admin/shop/quote/").status_code == 302
    client.post("/api/password/", {"old": password, "new": OWN}, "json")
    quote = quoted(BAG=1)
    for path in ("", "quote/", f"quote/{quote.pk}/change/", "order/", "staffmember/", "change/", "house/"):
        assert client.get(f"/admin/shop/{path}").status_code == 200
    assert client.post(f"/admin/shop/quote/{quote.pk}/change/", {}).status_code == 403


def test_the_admin_pages_stay_closed_to_the_counter():
    client, password = APIClient(), one_time("Ben")
    sign_in(client, "Ben", password)
    client.post("/api/password/", {"old": password, "new": OWN}, "json")
    assert client.get("/admin/shop/quote/").status_code == 302
