"""Lamps and fixtures of any strength: no pair that is planned gives an animal too little or too much."""

from hypothesis import given, settings
from hypothesis import strategies as st

from kits.effects.sunlight import wanted
from tests.full_shelf import CRESTED
from tests.lit_shelf import build_of, line_of, plan_of, rafter, read, unmet, working
from tests.unit.kits.test_effects_lamps import DRAGON, fixture, lamp, shelf_with


@settings(max_examples=80, deadline=None)
@given(st.floats(0.05, 20), st.sampled_from([0.3, 0.5, 0.8, 1.0]), st.sampled_from([CRESTED, DRAGON]))
def test_no_pair_that_is_planned_gives_too_little_or_too_much(index, share, data):
    shelf = shelf_with(lamp("LAMP", read(index)), fixture("FIXTURE", rafter(reflector_share=share)))
    plan = plan_of(data, shelf=shelf)
    if line_of(plan, "uvb_lamp") is None or line_of(plan, "uvb_fixture") is None:
        assert unmet(plan, "uvb_lamp") or unmet(plan, "uvb_fixture")
        return
    asked = wanted(build_of(data))
    assert plan.figures["uvi_at_replacement"] >= asked.least - 1e-4
    assert plan.figures["uvi_maximum_reachable"] <= asked.most + 1e-4
    assert working(plan, "uvi_at_basking").inputs["transmission"] <= share
