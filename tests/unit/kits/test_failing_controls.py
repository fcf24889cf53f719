"""What is left when a control fails: lamps and heaters at full power, and what a socket must carry."""

import re

import pytest

from kits.effects.warmth import FULL_SUN_W_M2
from kits.roles.basking_lamp import BURNS_UNDIMMED
from tests.full_shelf import CRESTED
from tests.lit_shelf import REPLACED, THINGS, fit, line_of, plan_of, shelf_of, spot, told

DRAGON = {
    "enclosure": {"size": "120x60x60-pvc"},
    "animals": [{"species": "pogona-vitticeps"}],
    "room": {"temperature_c": 22, "night_temperature_c": 18, "relative_humidity_pct": 40},
    "perches_mm": [{"height": 250, "back": 290}],
}
COAL = {"watts": 60, "kind": "ceramic", "cap": "E26", "lightless": True}
COLD = {**CRESTED, "room": {"temperature_c": 24, "night_temperature_c": 8, "relative_humidity_pct": 45}}


def lamps(*watts, **more):
    kept = tuple(thing for thing in THINGS if thing[1] != "basking_lamp")
    return shelf_of((*kept, *((f"W-{w}", "basking_lamp", 900 + w, spot(w, **more)) for w in watts)))


def heaters(figures):
    return shelf_of((*THINGS, ("HEAT", "night_heat", 900, figures)), instead_of=(*REPLACED, "night_heat"))


def test_a_dimmed_lamp_tells_what_it_does_at_full_power_by_the_same_function():
    plan = plan_of(DRAGON, shelf=lamps(40))
    [warning] = [c for c in plan.cautions if "fails, the basking lamp" in c.text]
    full = line_of(plan, "basking_lamp").figures["basking_surface_full_c"]
    assert f"the surface then reaches {full:.0f} C instead of 40 C" in warning.text
    assert (warning.level, warning.about) == ("warning", "basking_lamp")
    assert int(re.search(r"gets (\d+) W/m2", warning.text)[1]) <= FULL_SUN_W_M2


def test_a_lamp_that_would_burn_without_its_control_is_a_stop():
    plan = plan_of(DRAGON, shelf=lamps(150))
    [stop] = [c for c in plan.stops if "fails, the basking lamp" in c.text]
    assert int(re.search(r"gets (\d+) W/m2", stop.text)[1]) > FULL_SUN_W_M2
    assert "If its thermostat fails" in stop.text


def test_a_lamp_that_burns_undimmed_is_taken_only_where_none_else_does():
    assert fit("basking_lamp", spot(150), DRAGON).rank >= BURNS_UNDIMMED
    assert fit("basking_lamp", spot(40), DRAGON).rank < BURNS_UNDIMMED
    plan = plan_of(DRAGON, shelf=lamps(40, 150))
    assert line_of(plan, "basking_lamp").item == "W-40"


def test_the_control_is_named_and_a_lamp_at_full_power_anyway_says_nothing():
    dimmed = plan_of({**DRAGON, "without": ["thermostat"]}, shelf=lamps(40))
    assert "If its dimmer fails" in told(dimmed, "basking_lamp")
    weak = plan_of(DRAGON, shelf=lamps(16))
    assert line_of(weak, "basking_lamp") is not None
    assert "fails" not in told(weak, "basking_lamp")


def test_a_heater_that_stays_on_by_day_tells_how_warm_the_air_becomes():
    plan = plan_of(COLD, shelf=heaters({"watts": 150, "kind": "panel", "cap": None, "lightless": True}))
    [warning] = [c for c in plan.cautions if "the night heat stays on by day" in c.text]
    assert warning.level == "warning"
    assert int(re.search(r"reaches about (\d+) C", warning.text)[1]) > 28


@pytest.mark.parametrize(
    ("holder", "level", "words"),
    [
        ({}, "warning", "one of ceramic with an E26 socket, rated for at least 60 W, that no lamp uses"),
        ({"cap": "E26", "max_watts": 100}, "warning", "rated for at least 60 W"),
        ({"cap": "E26", "max_watts": 40}, "stop", "of 60 W is above the 40 W of the customer's own holder"),
    ],
)
def test_the_customers_own_socket_of_a_ceramic_heater_is_told_what_it_must_carry(holder, level, words):
    own = [{"role": "lamp_holder", "figures": holder}, {"role": "night_heat", "figures": COAL}]
    plan = plan_of({**COLD, "own": own})
    [found] = [c for c in plan.cautions if "customer's own holder" in c.text]
    assert (found.level, found.about) == (level, "night_heat")
    assert words in found.text
