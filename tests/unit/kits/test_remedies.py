"""What is unmet names the smallest changes of the spec that help: each is tried on a whole new plan."""

import doctest

import pytest

from kits.planning import levers, remedies
from kits.planning.remedies import changed
from tests.full_shelf import CRESTED, DESERT
from tests.lit_shelf import LIT, REPLACED, THINGS, line_of, plan_of, rafter, read, shelf_of, spot, unmet

TALL = {
    "enclosure": {"interior_mm": {"width": 600, "depth": 600, "height": 900}, "top": {"kind": "mesh"}},
    "animals": [{"species": "correlophus-ciliatus"}],
}
DRAGON = {
    "enclosure": {"size": "120x60x60-pvc"},
    "animals": [{"species": "pogona-vitticeps"}],
    "room": {"temperature_c": 22, "night_temperature_c": 18, "relative_humidity_pct": 40},
}
COOL = {**DRAGON, "without": ["basking_lamp"]}
PUMP = {"kind": "pump", "tank_l": 1, "nozzles": 1}
PANEL = {"kind": "panel", "cap": None, "lightless": True}
CROWDED = {  # what is left of the mesh carries all lamps only once much less of it is covered
    "enclosure": {**TALL["enclosure"], "interior_mm": {"width": 900, "depth": 450, "height": 590},
                  "covered_share": 0.9},
    "animals": [{"species": "pogona-vitticeps"}],
}  # fmt: skip
SHEET = {"width_mm": 900, "depth_mm": 900}
NIGHT, COVER = "/room/night_temperature_c", "/enclosure/covered_share"


def room(data, day=21, night=18, humidity=45):
    inside = {"temperature_c": day, "night_temperature_c": night, "relative_humidity_pct": humidity}
    return {**data, "room": inside}


def perched(data, height_mm):
    return {**data, "perches_mm": [{"height": height_mm, "back": 290}]}


def soil_of(front_mm, back_mm, data=CRESTED):
    depths = {"drainage": 0, "litter": 0, "substrate_front": front_mm, "substrate_back": back_mm}
    return {**data, "depths_mm": depths}


def only(**figures):
    """The lit shelf with one thing in each of these roles."""
    kept = tuple(thing for thing in THINGS if thing[1] not in figures)
    new = tuple((role.upper(), role, 900, of_role) for role, of_role in figures.items())
    return shelf_of((*kept, *new), instead_of=(*REPLACED, *figures))


BEAM = rafter(reflector_share=1.0)
SLIM = rafter(reflector_share=0.5)
CASES = [  # what is on the shelf, the spec, the role, and the change with its step back to what fails
    (only(uvb_lamp=read(2.0), uvb_fixture=BEAM), CRESTED, "uvb_lamp", "/perches_mm", 5),
    (only(uvb_lamp=read(0.4), uvb_fixture=BEAM), perched(COOL, 250), "uvb_lamp", "/perches_mm", -5),
    (only(uvb_lamp=read(1.25), uvb_fixture=SLIM), perched(DRAGON, 250), "uvb_lamp", "/perches_mm", -5),
    (only(uvb_lamp=read(6.0), uvb_fixture=BEAM), perched(DRAGON, 250), "uvb_lamp", "/perches_mm", 5),
    (only(basking_lamp=spot(8)), perched(DRAGON, 150), "basking_lamp", "/perches_mm", -5),
    (only(basking_lamp=spot(8)), room(CRESTED, 14, 12), "basking_lamp", "/room/temperature_c", -0.5),
    (LIT, perched(CROWDED, 200), "basking_lamp", COVER, 0.05),
    (only(night_heat={**PANEL, "watts": 5}), room(TALL, night=8), "night_heat", NIGHT, -0.5),
    (only(mister={**PUMP, "nozzle_l_min": 0.006}, mesh_cover=SHEET), room(TALL, humidity=15), "mister", COVER,
     -0.05),
    (only(mister={**PUMP, "nozzle_l_min": 0.006}), room(TALL, humidity=20), "mister",
     "/room/relative_humidity_pct", -1),
    (LIT, soil_of(20, 40), "substrate", "/depths_mm", -5),
    (only(mesh_cover={"width_mm": 600, "depth_mm": 100}), room(TALL, humidity=35), "mesh_cover", COVER, 0.05),
]  # fmt: skip


def remedy_of(plan, role, pointer):
    """The change of this field that is offered for a role, if one is."""
    [gap] = [one for one in plan.unmet if one.role == role]
    return next((remedy for remedy in gap.remedies if remedy.pointer == pointer), None)


def stops(plan):
    """What keeps the kit from being sold."""
    return {caution.about for caution in plan.cautions if caution.level == "stop"}


def nearer(value, step):
    if isinstance(value, dict):
        return {key: depth + step if "substrate" in key else depth for key, depth in value.items()}
    if isinstance(value, list):
        return [{**perch, "height": perch["height"] + step} for perch in value]
    return round(value + step, 2)


@pytest.mark.parametrize(("shelf", "data", "role", "pointer", "step"), CASES)
def test_the_change_that_is_offered_fills_the_role_and_a_smaller_one_does_not(
    shelf, data, role, pointer, step
):
    plan = plan_of(data, shelf=shelf)
    remedy = remedy_of(plan, role, pointer)
    assert remedy is not None, unmet(plan, role)
    assert remedy.text in unmet(plan, role)
    after = plan_of(changed(data, pointer, remedy.value), shelf=shelf)
    assert {one.role for one in after.unmet} <= {one.role for one in plan.unmet} - {role}
    smaller = plan_of(changed(data, pointer, nearer(remedy.value, step)), shelf=shelf)
    assert unmet(smaller, role)


def test_deeper_soil_keeps_its_slope_below_the_sill_and_what_else_was_asked_for():
    remedy = remedy_of(plan_of(soil_of(20, 40)), "substrate", "/depths_mm")
    assert remedy.value["substrate_back"] - remedy.value["substrate_front"] == 20
    assert (remedy.value["drainage"], remedy.value["litter"]) == (0, 0)
    low = soil_of(20, 40, {**CRESTED, "enclosure": {**TALL["enclosure"], "sill_mm": 30}})
    assert unmet(plan_of(low), "substrate").endswith(
        "No change of the depth of the soil alone was found to do."
    )


def test_two_lamps_that_want_another_perch_are_each_told_their_own():
    plan = plan_of(perched(DESERT, 410))
    assert {"uvb_lamp", "basking_lamp"} <= {one.role for one in plan.unmet}
    remedy = remedy_of(plan, "basking_lamp", "/perches_mm")
    assert remedy.value == [{"height": 305, "back": 290}]
    assert line_of(plan_of(perched(DESERT, 305)), "basking_lamp") is not None


def test_a_perch_at_which_the_lamp_would_burn_once_its_control_fails_is_no_remedy():
    there, higher = (plan_of(perched(DESERT, height_mm)) for height_mm in (305, 310))
    assert line_of(there, "basking_lamp").item == line_of(higher, "basking_lamp").item
    assert stops(there) == set()
    assert stops(higher) == {"basking_lamp"}


def test_the_change_is_offered_and_never_made():
    shelf = only(night_heat={**PANEL, "watts": 5})
    data = room(TALL, night=8)
    plan = plan_of(data, shelf=shelf)
    assert line_of(plan, "night_heat") is None
    assert plan.spec["room"]["night_temperature_c"] == 8
    [gap] = [one for one in plan.as_json()["unmet"] if one["role"] == "night_heat"]
    assert gap["remedies"][0]["pointer"] == NIGHT
    assert "Its 5 W are less than a third of the" in gap["because"]


def test_where_no_single_change_helps_it_is_said():
    weak = plan_of(CRESTED, shelf=only(uvb_lamp=read(0.01), uvb_fixture=BEAM))
    assert unmet(weak, "uvb_lamp").endswith("No change of the highest perch alone was found to do.")
    long = plan_of(CRESTED, shelf=only(uvb_lamp=read(0.4), uvb_fixture=rafter(length_mm=900)))
    assert unmet(long, "uvb_lamp").endswith("No change of the highest perch alone was found to do.")
    assert [one.remedies for one in (*weak.unmet, *long.unmet)] == [(), (), ()]


def test_a_perch_that_suits_the_lamp_but_no_holder_is_not_offered():
    plan = plan_of(perched(DRAGON, 380), shelf=only(basking_lamp=spot(400)))
    assert "less than lamps are dimmed to" in unmet(plan, "basking_lamp")
    assert remedy_of(plan, "basking_lamp", "/perches_mm") is None


def test_a_room_that_needs_no_heater_is_told_as_such_and_no_night_warmer_than_its_day():
    strong = only(night_heat={**PANEL, "watts": 900})
    remedy = remedy_of(plan_of(room(CRESTED, night=14), shelf=strong), "night_heat", NIGHT)
    assert remedy.text == "With the room at 18 C at night none is needed."
    cold = plan_of(room(CRESTED, day=14, night=12), shelf=strong)
    assert remedy_of(cold, "night_heat", NIGHT) is None


def test_a_remedy_stays_within_the_range_of_its_field():
    assert levers.MOST_COVERED == 0.9
    assert (levers.MOST_ROOM_C, levers.MOST_ROOM_PCT) == (45, 65)
    dry = plan_of(room(TALL, day=12, humidity=0), shelf=only(mister={**PUMP, "nozzle_l_min": 0.00001}))
    assert remedy_of(dry, "mister", COVER) is None
    assert "No change of the share of the mesh that is covered or the room's humidity" in unmet(dry, "mister")


def test_a_cover_that_cannot_be_had_is_not_counted_on():
    plan = plan_of(room(TALL, humidity=20), shelf=only(mesh_cover={"width_mm": 100, "depth_mm": 100}))
    bare = plan_of(room({**TALL, "without": ["mesh_cover"]}, humidity=20))
    assert unmet(plan, "mesh_cover")
    assert plan.figures["misting_l_day"] == bare.figures["misting_l_day"]


def test_the_example_of_a_changed_spec_runs():
    assert doctest.testmod(remedies).failed == 0
