"""The workings page: everything that is worked out can be looked up, tried and shared by its address."""

import pytest

from inventory.calc import workings
from shop.calc import calculations
from shop.views.workings import address
from tests.shop.screens import signed_in

CATALOGUE = workings.catalogue(calculations.ROOMS)


@pytest.fixture
def clerk(shop):
    return signed_in("Ben")


def test_every_calculation_stands_on_the_page_under_what_it_is_about(clerk):
    page = clerk.get("/workings/").content.decode()
    assert all(f'href="/workings/{one.name}/"' in page for one in CATALOGUE)


def test_a_search_finds_by_name_and_by_what_is_worked_out(clerk):
    page = clerk.get("/workings/", {"q": "dew point"}, headers={"HX-Request": "true"}).content.decode()
    assert "air.dew_point_c" in page
    assert "geometry.layer_l" not in page


@pytest.mark.parametrize("calculation", CATALOGUE, ids=lambda one: one.name)
def test_each_calculation_answers_with_its_own_example(clerk, calculation):
    page = clerk.get(f"/workings/{calculation.name}/")
    assert page.status_code == 200
    assert page.context["worked"] is not None
    assert not page.context["general"]


@pytest.mark.parametrize(
    ("typed", "sentence"),
    [
        ({"width_m": "-1", "depth_m": "1", "front_m": "0.1", "back_m": "0.1"}, "must be above zero"),
        ({"width_m": "wide", "depth_m": "1", "front_m": "0.1", "back_m": "0.1"}, "must be a number"),
        ({"width_m": "1"}, "is missing"),
        ({"width_m": "[1", "depth_m": "1"}, "is not a list or object"),
    ],
)
def test_what_cannot_be_is_told_with_the_argument(clerk, typed, sentence):
    page = clerk.get("/workings/geometry.layer_l/", typed)
    assert page.status_code == 200
    assert page.context["worked"] is None
    assert sentence in page.content.decode()


def test_a_value_outside_the_source_is_computed_and_marked(clerk):
    page = clerk.get("/workings/power.continuous_limit_w/", {"breaker_a": "90", "volts": "120"})
    assert "outside the range of its source" in page.content.decode()
    assert page.context["value"] == "8640"


def test_a_calculation_that_does_not_exist_is_not_found(clerk):
    assert clerk.get("/workings/geometry.nothing/").status_code == 404


def test_the_address_of_a_working_leads_to_the_same_figure(clerk):
    inputs = {"width_m": 0.443, "depth_m": 0.443, "front_m": 0.06, "back_m": 0.11}
    page = clerk.get(address("geometry.layer_l", inputs))
    assert page.context["worked"].value == pytest.approx(16.68, abs=0.01)
