"""No heater runs without a thermostat, however it came into the kit."""

import pytest

from kits.planning.registry import ROLES
from tests.full_shelf import CRESTED, DESERT
from tests.lit_shelf import build_of, plan_of

SPOT = {"item": "WARM-50", "quantity": 1}
COLD = {"room": {"temperature_c": 21, "night_temperature_c": 14, "relative_humidity_pct": 45}}


def stops(data):
    return " ".join(caution.text for caution in plan_of(data).stops if caution.about == "thermostat")


@pytest.mark.parametrize("data", [DESERT, {**CRESTED, **COLD}], ids=["basking lamp", "night heat"])
def test_a_heater_whose_thermostat_was_left_out_is_a_stop(data):
    assert stops(data) == ""
    assert "No heater may run without a thermostat" in stops({**data, "without": ["thermostat"]})


def test_a_hot_lamp_added_by_hand_is_a_stop_until_a_thermostat_comes_along():
    warm = {**CRESTED, "room": {**COLD["room"], "night_temperature_c": 20}}
    assert "no heater may run without one" in stops({**warm, "extra": [SPOT]})
    assert stops({**warm, "extra": [SPOT], "own": ["thermostat"]}) == ""
    assert stops({**DESERT, "extra": [SPOT]}) == ""


def test_heat_at_night_gives_no_light():
    need = ROLES["night_heat"].needs(build_of({**CRESTED, **COLD}))[0]
    refused = ROLES["night_heat"].fit(need, {"watts": need.wanted["watts"], "lightless": False})
    assert "disturbs the night" in refused.refusal
