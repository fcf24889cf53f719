"""A build as its plan leaves it: what nothing could be found for has no effect in any picture."""

import pytest

from kits.effects.airing import air_changes_h
from kits.selectors.builds import build_of, planned_build
from kits.selectors.plans import plan_for
from kits.services.facts import load_facts
from kits.terms.plan import Terms

pytestmark = pytest.mark.django_db
HUMID = {
    "enclosure": {"size": "45x45x60-glass"},
    "style": "humid-forest",
    "room": {"temperature_c": 21, "night_temperature_c": 18, "relative_humidity_pct": 30},
}


def test_a_cover_that_cannot_be_had_holds_no_air_back_in_the_pictures_either():
    load_facts()  # and nothing on the shelf
    plan = plan_for(HUMID, terms=Terms(today="2026-03-02")).as_json()
    assert "mesh_cover" in {unmet["role"] for unmet in plan["unmet"]}
    wished, there = build_of(HUMID), planned_build(HUMID, plan)
    [loss] = [working for working in plan["workings"] if working["figure"] == "heat_loss_w_k"]
    assert air_changes_h(there, 23, 21) > air_changes_h(wished, 23, 21)
    inside_c = 21 + 2  # the room with its lamps on, as nobody lives here
    assert air_changes_h(there, inside_c, 18) == pytest.approx(loss["inputs"]["air_changes_h"], abs=1e-3)
