"""Facts in the admin: published figures can only be read, own figures go through the service."""

import pytest

from kits.models import Figure, FigureOverride, Subject
from kits.selectors.facts import facts
from kits.services.facts import load_facts

pytestmark = pytest.mark.django_db
ADD = "/admin/kits/figureoverride/add/"


@pytest.fixture(autouse=True)
def loaded_facts():
    load_facts()


def post(client, **changes):
    gecko = Subject.objects.get(code="correlophus-ciliatus")
    given = {"subject": gecko.pk, "field": "day_air_hi_c", "value": "25", "why": "vet", **changes}
    return client.post(ADD, given)


def test_an_own_figure_is_written_with_who_and_when(admin_client):
    assert post(admin_client).status_code == 302
    row = FigureOverride.objects.get()
    assert (row.value, row.by) == (25, "admin")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"value": '"warm"'}, "must be a finite number"),
        ({"field": "rh_hi_pct", "value": "101"}, "must be a finite number from 0 to 100 (%)"),
        ({"field": "rh_hi_pct", "value": "-1"}, "must be a finite number from 0 to 100 (%)"),
        ({"field": "colour"}, "has a figure"),
        ({"why": ""}, "required"),
    ],
)
def test_a_wrong_own_figure_comes_back_with_its_fault(admin_client, changes, words):
    answer = post(admin_client, **changes)
    assert answer.status_code == 200
    assert words in answer.content.decode()
    assert not FigureOverride.objects.exists()


@pytest.mark.parametrize(("value", "taken"), [("6.5", True), ("0", False), ("-1", False)])
def test_a_shop_enters_the_air_changes_that_it_measured_in_a_box(admin_client, value, taken):
    box = Subject.objects.get(code="45x45x60-glass")
    post(admin_client, subject=box.pk, field="air_changes_h", value=value, why="tracer, two runs")
    known = facts().enclosures["45x45x60-glass"]
    assert (known.number("air_changes_h") == 6.5) == taken == FigureOverride.objects.exists()


@pytest.mark.parametrize("table", ["subject", "figure", "profile", "standardkit", "figureoverride"])
def test_every_list_opens(admin_client, table):
    assert admin_client.get(f"/admin/kits/{table}/").status_code == 200


def test_published_figures_cannot_be_changed_or_added(admin_client):
    figure = Figure.objects.first()
    assert admin_client.post(f"/admin/kits/figure/{figure.pk}/change/", {"value": "1"}).status_code == 403
    assert admin_client.get("/admin/kits/figure/add/").status_code == 403
