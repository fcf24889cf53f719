"""The air by day with all lamps on: a heat balance done by hand, the warmest room, and what is said of it."""

import pytest

from kits.documents.content import Heading
from kits.documents.filling import Told, fill
from kits.planning.spec import BadSpec
from tests.full_shelf import CRESTED
from tests.lit_shelf import build_of, plan_of, told, working

LEOPARD = {
    "enclosure": {"size": "90x45x45-glass"},
    "animals": [{"species": "eublepharis-macularius"}],
    "room": {"temperature_c": 21, "night_temperature_c": 18, "relative_humidity_pct": 40},
}
DRAGON = {**LEOPARD, "enclosure": {"size": "120x60x60-pvc"}, "animals": [{"species": "pogona-vitticeps"}]}
WARMER = {**LEOPARD["room"], "warmest_day_c": 28}


def test_the_air_with_all_lamps_on_is_the_room_and_their_heat_over_the_loss():
    found = working(plan_of(LEOPARD), "day_air_c")
    assert found.value == pytest.approx(21 + found.inputs["heat_w"] / found.inputs["loss_w_k"], abs=0.001)
    assert "in the room's usual day; no warmest day is given; all lamps on" in found.note
    assert found.calculation == "warming.steady_air_c"
    assert "steady heat balance" in found.source


def test_the_lamps_of_the_air_are_told_with_their_heat_and_add_up():
    found = working(plan_of(LEOPARD), "day_air_c")
    assert all(lamp in found.note for lamp in ("plant light", "basking lamp", "UVB lamp"))
    watts = [float(part.split()[-2]) for part in found.note.split("power: ")[1].split(";")[0].split(", ")]
    assert sum(watts) == pytest.approx(found.inputs["heat_w"], abs=0.2)


def test_the_warmest_room_given_makes_the_air_warmer_by_about_as_much():
    usual, warm = plan_of(LEOPARD), plan_of({**LEOPARD, "room": WARMER})
    rise = warm.figures["day_air_c"] - usual.figures["day_air_c"]
    assert 5 < rise <= 7.2
    assert working(warm, "day_air_c").inputs["room_c"] == 28
    assert "on the room's warmest day" in working(warm, "day_air_c").note


def test_in_the_warmest_room_that_is_told_the_air_is_just_at_the_limit():
    most = plan_of(LEOPARD).figures["room_most_c"]
    at_the_limit = plan_of({**LEOPARD, "room": {**WARMER, "warmest_day_c": round(most, 2)}})
    assert at_the_limit.figures["day_air_c"] == pytest.approx(30, abs=0.15)


def test_lamps_that_overheat_the_warmest_day_are_told_with_watts_and_what_to_change():
    warm = told(plan_of({**LEOPARD, "room": WARMER}), "day_temperature")
    assert "in a room of 28 C, the animals stand at most 30 C (estimate)" in warm
    assert "W too much: take weaker or fewer lamps" in warm
    assert "or keep the room at most 2" in warm
    closed = told(plan_of(DRAGON), "day_temperature")
    assert "hang them outside over a mesh top" in closed


def test_a_summer_that_nobody_told_of_is_warned_of_where_little_is_left():
    plan = plan_of({**CRESTED, "room": {**LEOPARD["room"], "temperature_c": 22, "relative_humidity_pct": 45}})
    assert "cool it or switch lamps off on such days" in told(plan, "day_temperature")
    assert "cool it or switch lamps off on such days" not in told(plan_of(LEOPARD), "day_temperature")


def test_a_room_that_is_too_warm_by_itself_on_its_warmest_day_is_told_as_the_room():
    plan = plan_of({**LEOPARD, "room": {**WARMER, "warmest_day_c": 33}})
    assert "The room is 33 C on its warmest day, the animals stand at most 30 C" in told(plan, "room")


def test_a_warmest_day_below_the_usual_day_is_refused_by_its_name():
    with pytest.raises(BadSpec) as refused:
        plan_of({**LEOPARD, "room": {**WARMER, "warmest_day_c": 20}})
    [fault] = refused.value.errors
    assert fault.pointer == "/room/warmest_day_c"
    assert fault.detail == "room.warmest_day_c must not be below the room's usual day of 21 C, not 20."


def test_the_build_sheet_tells_the_warmest_day_where_one_is_given():
    heading = Heading("Kit", "", "", 1, "")
    for room, words in (
        (WARMER, "21 °C (70 °F), at most 28 °C (82 °F), at"),
        (LEOPARD["room"], "(70 °F), at"),
    ):
        spec = {**LEOPARD, "room": room, "units": "metric"}
        sheet = fill(plan_of(spec).as_json(), build_of(spec), Told(heading))
        assert words in {fact.name: fact.value for fact in sheet.wanted}["room"]


def test_lamps_far_too_strong_for_a_tiny_box_are_told_though_no_room_would_be_cold_enough():
    tiny = {"interior_mm": {"width": 80, "depth": 50, "height": 150}, "top": {"kind": "open"}}
    bulb = {"technology": "mercury", "cap": "E26", "watts": 1000, "uvi_ref": 5, "uvi_ref_mm": 300}
    own = [{"role": "uvb_lamp", "figures": bulb}]
    plan = plan_of({**LEOPARD, "enclosure": tiny, "own": own})
    assert plan.figures["day_air_c"] > 100
    assert "room_most_c" not in plan.figures
    assert "With all lamps on the air reaches about" in told(plan, "day_temperature")
