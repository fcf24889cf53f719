"""The workings page: everything that is worked out can be looked up, tried and shared by its address."""

import pytest
from django.utils.html import escape

from inventory.calc import workings
from shop.calc import calculations
from shop.views import worktable_words
from shop.views.workings import address, told, tried_at
from tests.full_shelf import CRESTED, DESERT, plan_of
from tests.shop.screens import HTMX, signed_in

CATALOGUE = workings.catalogue(calculations.ROOMS)
BED = {"width_m": "0.4", "depth_m": "0.4", "front_m": "0.05", "back_m": "0.05"}
LAYER = "/workings/geometry.layer_l/"


@pytest.fixture
def clerk(shop):
    return signed_in("Ben")


def fields(page):
    return {field["name"]: field for field in page.context["fields"]}


def test_every_calculation_stands_on_the_page_under_what_it_is_about(clerk):
    page = clerk.get("/workings/")
    assert all(f'href="/workings/{one.name}/"' in page.content.decode() for one in CATALOGUE)
    abouts = {subject.name: subject.about for subject in page.context["subjects"]}
    assert abouts["geometry"] == "Lengths, areas and volumes of layers inside a box."
    assert all(abouts.values())


def test_a_search_finds_by_name_and_by_what_is_worked_out(clerk):
    page = clerk.get("/workings/", {"q": "dew point"}, headers=HTMX).content.decode()
    assert "air.dew_point_c" in page
    assert "geometry.layer_l" not in page
    assert "<html" not in page


@pytest.mark.parametrize("calculation", CATALOGUE, ids=lambda one: one.name)
def test_each_calculation_answers_with_its_own_example(clerk, calculation):
    page = clerk.get(f"/workings/{calculation.name}/")
    assert page.status_code == 200
    assert page.context["worked"] is not None
    assert [field["name"] for field in page.context["fields"]] == [p.name for p in calculation.parameters]
    assert all(fields(page)[p.name]["text"] for p in calculation.parameters if p.required)


@pytest.mark.parametrize("calculation", CATALOGUE, ids=lambda one: one.name)
def test_each_calculation_tells_its_formula_range_and_source_beside_the_fields(clerk, calculation):
    page = clerk.get(f"/workings/{calculation.name}/").content.decode()
    for said in ("formula", "result", "valid", "source"):
        assert escape(calculation.as_json()[said]) in page
    assert all(escape(parameter.about) in page for parameter in calculation.parameters)


@pytest.mark.parametrize(
    ("argument", "text", "sentence"),
    [
        ("width_m", "0", "width_m: must be above zero."),
        ("width_m", "wide", "width_m must be a number."),
        ("width_m", "NaN", "width_m must be a number."),
        ("width_m", "1e999", "width_m must be a finite number."),
        ("back_m", "", "back_m is missing."),
        ("front_m", "[1", "front_m is not a list or object as JSON writes it."),
    ],
)
def test_what_cannot_be_is_told_at_its_field(clerk, argument, text, sentence):
    page = clerk.get(LAYER, {**BED, argument: text})
    assert page.status_code == 200
    assert page.context["worked"] is None
    assert {name: field["error"] for name, field in fields(page).items() if field["error"]} == {
        argument: sentence
    }


def test_every_field_that_stands_in_the_way_has_its_sentence(clerk):
    page = clerk.get(LAYER, {"width_m": "wide", "depth_m": "1"})
    assert [field["error"] for field in page.context["fields"]] == [
        "width_m must be a number.", "", "front_m is missing.", "back_m is missing.",
    ]  # fmt: skip


def test_as_one_types_only_answer_and_sentences_are_sent(clerk):
    page = clerk.get(LAYER, {**BED, "width_m": "0"}, headers=HTMX).content.decode()
    slot = (
        'id="fault-arg-width_m" data-fault-of="arg-width_m" hx-swap-oob="true">width_m: must be above zero.<'
    )
    assert slot in page
    assert 'data-fault-of="arg-depth_m" hx-swap-oob="true"><' in page
    assert "<input" not in page


def test_numbers_are_read_as_people_write_them(clerk):
    page = clerk.get(LAYER, {"width_m": ".4", "depth_m": " 4e-1 ", "front_m": "+0.05", "back_m": "00.05"})
    assert page.context["worked"].value == pytest.approx(8.0)


def test_a_value_outside_the_source_is_computed_and_marked_by_shape_and_word(clerk):
    page = clerk.get("/workings/power.continuous_limit_w/", {"breaker_a": "90", "volts": "120"})
    assert page.context["told"] == {"text": "8640"}
    assert 'data-shape="◐">outside the range of its source' in page.content.decode()
    assert "breaker_a 90 lies outside 10..32, the range of the source." in page.content.decode()


def test_lists_have_room_and_words_are_chosen(clerk):
    packs = clerk.get("/workings/packs.cheapest_cover/").content.decode()
    assert '<textarea id="arg-packs"' in packs
    screens = clerk.get("/workings/airflow.screen_loss/", {"law": "guess"})
    assert fields(screens)["law"]["choices"] == ["", "brundrett", "bailey", "guess"]
    assert fields(screens)["law"]["error"]


def test_results_of_many_parts_are_told_part_by_part():
    rows = {"parts": [{"named": [("c", {"text": "yes"})]}, {"named": []}]}
    assert told({"a": 1.23456789, "b": [{"c": True}, {}]}) == {
        "named": [("a", {"text": "1.23457"}), ("b", rows)]
    }
    assert told([1, 2.5]) == {"text": "1, 2.5"}


@pytest.mark.parametrize("method", ["post", "put", "delete"])
def test_nothing_can_be_written_there(clerk, method):
    assert getattr(clerk, method)(LAYER).status_code == 405


@pytest.mark.parametrize("path", ["geometry.nothing", "geometry", "os.system"])
def test_a_calculation_that_does_not_exist_is_not_found(clerk, path):
    assert clerk.get(f"/workings/{path}/").status_code == 404


def test_nobody_looks_before_they_have_signed_in(client, shop):
    assert client.get(LAYER).status_code == 302


@pytest.mark.parametrize("spec", [CRESTED, DESERT], ids=["forest", "desert"])
def test_the_link_of_every_figure_leads_to_the_same_figure(clerk, spec):
    """The figure of a plan is rounded to four decimals and its inputs to six."""
    plan = plan_of(spec).as_json()
    linked = [working for working in plan["workings"] if "calculation" in working]
    assert len(linked) > 3
    for working in linked:
        page = clerk.get(address(working["calculation"], working["inputs"]))
        percent = 100 if (working["unit"], page.context["calculation"].unit) == ("%", "m3/m3") else 1
        assert percent * page.context["worked"].value == pytest.approx(working["value"], rel=1e-4, abs=1e-4)


def test_figures_of_the_worktable_carry_the_link_to_their_working():
    plan = plan_of(CRESTED).as_json()
    floor = next(figure for figure in worktable_words.figures_of(plan) if figure["key"] == "footprint_m2")
    assert tried_at(floor["working"]).startswith("/workings/geometry.footprint_m2/?width_m=0.443&")
