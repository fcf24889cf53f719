"""Lamps that follow the seasons of a latitude: hours by month, in the plan, on the sheet, in the calendar."""

from datetime import date

import pytest

from inventory.errors import BadInput
from kits.documents.content import Heading
from kits.documents.filling import Told, fill
from kits.effects import season
from kits.physics.light import day_length_h
from kits.planning.spec import read_spec
from tests.full_shelf import CRESTED, SHELF
from tests.known_facts import known_facts
from tests.lit_shelf import build_of, line_of, plan_of, working

NORTH = 40.7128
HEADING = Heading(shop="Saltmoss Vivaria", town="Quillhaven", number="", version=1, date="2026-11-25")


def seasonal(latitude_deg, **more):
    return {**CRESTED, "lighting": {"season": {"latitude_deg": latitude_deg}}, **more}


FAULTS = [
    ({"season": {"latitude_deg": 66}}, "/lighting/season/latitude_deg", "must be from -65 to 65, not 66."),
    ({"season": {"latitude_deg": "north"}}, "/lighting/season/latitude_deg", "must be a number"),
    ({"season": {}}, "/lighting/season/latitude_deg", "must be given."),
    ({"season": {"longitude": 3, "latitude_deg": 1}}, "/lighting/season/longitude", "longitude"),
    ({"hours": 12}, "/lighting/hours", "hours"),
    (12, "/lighting", "must"),
]


@pytest.mark.parametrize(("lighting", "pointer", "words"), FAULTS)
def test_a_season_that_cannot_be_is_refused_by_name(lighting, pointer, words):
    spec = {**CRESTED, "lighting": lighting}
    with pytest.raises(BadInput) as refusal:
        read_spec(spec, facts=known_facts(), knows_item=SHELF.knows)
    assert words in {fault.pointer: fault.detail for fault in refusal.value.errors}[pointer]


# Days of 15.1 and 9.2 h at the solstices (astral and NREL's algorithm); mid-month a little less extreme.
def test_the_hours_of_each_month_are_the_day_in_its_middle_to_a_quarter_hour():
    lit = season.by_month(NORTH)
    assert (max(lit), min(lit)) == (15.0, 9.25)
    for month, hours in enumerate(lit, start=1):
        assert abs(hours - day_length_h(NORTH, 0, date(2026, month, 15))) <= 0.125
        assert (hours * 4) % 1 == 0


def test_the_other_half_of_the_year_belongs_to_the_other_sign():
    north, south = season.by_month(30), season.by_month(-30)
    assert north.index(max(north)) == 5
    assert south.index(max(south)) == 11
    assert all(20 < a + b < 26 for a, b in zip(north, south, strict=True))


def test_without_a_season_lamps_are_on_for_twelve_hours_and_the_plan_has_no_months():
    plan = plan_of(CRESTED)
    assert working(plan, "dli_floor").inputs["hours"] == 12
    assert not {"lit_hours_by_month", "dli_floor_longest", "day_length_longest_h"} & set(plan.figures)
    assert not any(reminder.month for reminder in plan.calendar)
    assert all("month" not in reminder for reminder in plan.as_json()["calendar"])


def test_the_plan_tells_plant_light_for_the_shortest_and_the_longest_day():
    plan, even = plan_of(seasonal(NORTH)), plan_of(CRESTED)
    for height in ("floor", "middle"):
        dark, bright, usual = (
            plan.figures[f"dli_{height}"],
            plan.figures[f"dli_{height}_longest"],
            even.figures[f"dli_{height}"],
        )
        assert (dark, bright) == pytest.approx((usual * 9.25 / 12, usual * 15 / 12), abs=2e-4)
    assert plan.figures["lit_hours_by_month"] == list(season.by_month(NORTH))
    assert plan.figures["day_length_shortest_h"] == pytest.approx(9.27, abs=0.05)
    assert "in 9.25 hours in the darkest month" in line_of(plan, "plant_light").because[0]


def test_what_the_plan_costs_to_run_goes_by_the_mean_of_the_year():
    told = working(plan_of(seasonal(NORTH)), "running_cost_month").inputs
    assert told["plant_light_h_day"] == pytest.approx(sum(season.by_month(NORTH)) / 12, abs=1e-4)


def test_the_build_sheet_has_the_hours_of_every_month_and_no_row_of_upkeep_for_each():
    spec = seasonal(-21.5)
    sheet = fill(plan_of(spec).as_json(), build_of(spec), Told(HEADING))
    facts = {fact.name: fact for fact in sheet.settings}
    assert facts["Light"].source == "day length at 21.5 deg S"
    assert facts["Hours of light, January to March"].value == "13.25, 12.75, 12.25"
    assert facts["Hours of light, October to December"].value == "12.5, 13.25, 13.5"
    assert not any("let the lamps" in task for row in sheet.upkeep for task in row.tasks)


def test_the_calendar_names_each_month_in_which_the_timer_changes():
    entries = [one for one in plan_of(seasonal(NORTH)).as_json()["calendar"] if "month" in one]
    assert [one["month"] for one in entries] == list(range(1, 13))
    first = {"what": "January: let the lamps be on for 9.5 h a day", "every_days": 365, "role": "timer"}
    assert entries[0] == {**first, "month": 1}


def test_months_of_the_same_hours_are_named_once():
    changing = [month for month, _ in season.changes(build_of(seasonal(8)))]
    lit = season.by_month(8)
    assert changing == [m + 1 for m in range(12) if lit[m] != lit[m - 1]]
    assert 0 < len(changing) < 12


@pytest.mark.parametrize(
    ("latitude_deg", "warned"), [(-21.5, False), (NORTH, False), (52, True), (-60, True)]
)
def test_days_as_short_as_those_of_a_winter_rest_are_warned_of(latitude_deg, warned):
    found = " ".join(caution.text for caution in plan_of(seasonal(latitude_deg)).cautions)
    assert ("days so short go with a winter rest" in found) == warned
    assert not warned or ("In June" if latitude_deg < 0 else "In December") in found
