"""The workings over HTTP: what the interface promises of each calculation, and what its schema says."""

import pytest
from drf_spectacular.generators import SchemaGenerator

from inventory.calc import workings
from inventory.calc.examples import example
from shop.calc import calculations
from tests.shop.test_api import assert_problem

BED = {"width_m": 0.4, "depth_m": 0.4, "front_m": 0.05, "back_m": 0.05}
CATALOGUE = workings.catalogue(calculations.ROOMS)


def asked(caller, name, arguments):
    return caller.client.post(f"/api/workings/{name}/", arguments, "json")


@pytest.mark.parametrize("calculation", CATALOGUE, ids=lambda one: one.name)
def test_each_calculation_answers_to_the_arguments_of_its_example(ben, calculation):
    answer = asked(ben, calculation.name, example(calculation))
    assert answer.status_code == 200, answer.content
    assert set(answer.json()) - {"note"} == {"name", "value", "unit", "source", "valid"}


@pytest.mark.parametrize("calculation", CATALOGUE, ids=lambda one: one.name)
def test_each_calculation_names_the_argument_that_is_no_value_of_its_kind(ben, calculation):
    first = calculation.parameters[0].name
    answer = asked(ben, calculation.name, {**example(calculation), first: {"no": {"such": [True]}}})
    body = assert_problem(answer, 422)
    assert all(error["pointer"].startswith(f"/{first}") for error in body["errors"])


@pytest.mark.parametrize(
    ("arguments", "pointer"),
    [
        ({**BED, "width_m": 0}, "/width_m"),
        ({**BED, "front_m": "deep"}, "/front_m"),
        ({**BED, "colour": 1}, "/colour"),
        ({"width_m": 1}, "/depth_m"),
    ],
)
def test_an_argument_that_cannot_be_answers_422_and_is_named(ben, arguments, pointer):
    assert_problem(asked(ben, "geometry.layer_l", arguments), 422, pointer)


def test_every_fault_is_named_at_once(ben):
    body = assert_problem(asked(ben, "geometry.layer_l", {"width_m": "wide", "colour": 1, "depth_m": 1}), 422)
    assert {error["pointer"] for error in body["errors"]} == {"/colour", "/width_m", "/front_m", "/back_m"}


def test_a_fault_inside_a_list_is_named_with_its_place(ben):
    packs = [{"code": "a", "litres": 4, "price": "6.49"}, {"code": "b", "litres": -8, "price": 10.99}]
    body = assert_problem(asked(ben, "packs.cheapest_cover", {"need_l": 47, "packs": packs}), 422)
    assert body["errors"][0]["pointer"].startswith("/packs")


def test_a_value_outside_the_source_is_computed_marked_and_noted(ben):
    """Zones are half-open; above 3.5 the index is said to be in zone 4 and outside what was published."""
    inside = asked(ben, "ultraviolet.zone", {"uv_index_average": 3.5}).json()
    above = asked(ben, "ultraviolet.zone", {"uv_index_average": 3.6}).json()
    assert (inside["value"], inside["valid"], "note" in inside) == (4, True, False)
    assert (above["value"], above["valid"]) == (4, False)
    assert "3.6" in above["note"]


def test_the_schema_tells_of_the_note_and_of_every_argument():
    shapes = SchemaGenerator().get_schema(request=None, public=True)["components"]["schemas"]
    assert "note" in shapes["WorkedShape"]["properties"]
    assert "note" not in shapes["WorkedShape"]["required"]
    assert set(shapes["ArgumentShape"]["properties"]) == {"name", "about", "unit", "required", "default"}
