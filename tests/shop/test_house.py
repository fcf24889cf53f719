import io

import pytest
from django.core.management import call_command

from shop.models import Change, House

pytestmark = pytest.mark.usefixtures("shop")


def patch(caller, body):
    return caller.client.patch("/api/house/", body, "json")


def test_everybody_reads_the_settings_and_the_owner_changes_them(ada, ben):
    assert ben.get("house/").json()["hold_days"] == 3
    assert patch(ben, {"hold_days": 2}).status_code == 403
    assert patch(ada, {"hold_days": 2, "timezone": "Europe/Lisbon"}).json()["timezone"] == "Europe/Lisbon"
    assert House.objects.get().hold_days == 2
    assert Change.objects.get(subject="house").why == "hold_days, timezone"


@pytest.mark.parametrize(
    ("setting", "value"),
    [
        ("timezone", "Mars/Olympus"),
        ("currency", "dollars"),
        ("hold_days", -1),
        ("hold_days", "2"),
        ("tax_basis", "whim"),
        ("counter_discount_pct", "101"),
        ("demo_state", "never"),
        ("colour", "red"),
    ],
)
def test_a_wrong_setting_is_named_and_nothing_changes(ada, setting, value):
    response = patch(ada, {"town": "Elsewhere", setting: value})
    assert response.status_code == 422
    assert f"/{setting}" in [error["pointer"] for error in response.json()["errors"]]
    assert House.objects.get().town == ""


def test_the_usual_hold_may_not_be_longer_than_the_longest(ada):
    assert patch(ada, {"hold_days": 30, "hold_days_max": 7}).status_code == 422


def test_the_schema_is_valid_and_draws_no_warning():
    call_command("spectacular", "--validate", "--fail-on-warn", stdout=io.StringIO())
