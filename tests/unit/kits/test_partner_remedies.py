"""A fixture, holder or thermostat that alone is unmet: the pair that can be had is named."""

import pytest

from kits.planning.remedies import changed
from tests.full_shelf import CRESTED
from tests.lit_shelf import REPLACED, THINGS, line_of, plan_of, rafter, read, shelf_of, spot, unmet

DRAGON = {
    "enclosure": {"size": "120x60x60-pvc"},
    "animals": [{"species": "pogona-vitticeps"}],
    "room": {"temperature_c": 22, "night_temperature_c": 18, "relative_humidity_pct": 40},
    "perches_mm": [{"height": 250, "back": 290}],
}
LONG = ("LONG-438", "uvb_lamp", 2000, read(0.4, length=438, watts=20))
WIDE = ("WIDE-60", "basking_lamp", 990, {**spot(60), "cap": "GU10"})


def with_thing(thing):
    return shelf_of((*THINGS, thing), instead_of=REPLACED)


NAMED = [  # the spec, what is named in it, the partner that cannot be had for it
    ({**CRESTED, "choose": {"uvb_lamp": ["LONG-438"]}}, "uvb_lamp", "uvb_fixture", LONG),
    ({**DRAGON, "choose": {"basking_lamp": ["WIDE-60"]}}, "basking_lamp", "lamp_holder", WIDE),
]


@pytest.mark.parametrize(("spec", "load", "partner", "thing"), NAMED)
def test_a_named_lamp_that_nothing_carries_is_answered_by_a_pair_that_can_be_had(spec, load, partner, thing):
    shelf = with_thing(thing)
    plan = plan_of(spec, shelf=shelf)
    assert {gap.role for gap in plan.unmet} == {partner}
    [remedy] = plan.unmet[0].remedies
    assert remedy.pointer == f"/choose/{load}"
    assert remedy.text in unmet(plan, partner)
    after = plan_of(changed(spec, remedy.pointer, remedy.value), shelf=shelf)
    assert after.unmet == ()
    assert [line_of(after, load).item] == remedy.value


def test_the_customers_own_lamp_that_nothing_carries_is_answered_by_one_of_the_shop():
    own = {**CRESTED, "own": [{"role": "uvb_lamp", "figures": LONG[3]}, "thermometer"]}
    plan = plan_of(own)
    [gap] = plan.unmet
    [remedy] = gap.remedies
    assert (gap.role, remedy.pointer, remedy.value) == ("uvb_fixture", "/own", ["thermometer"])
    assert "instead of the customer's own it would do" in gap.because
    assert plan_of(changed(own, "/own", remedy.value)).unmet == ()


def test_where_no_pair_can_be_had_it_is_said_that_no_change_of_the_spec_does():
    long = rafter(length_mm=900)
    kept = tuple(thing for thing in THINGS if thing[1] != "uvb_fixture")
    shelf = shelf_of((*kept, ("AWAY", "uvb_fixture", 900, long)))
    plan = plan_of(CRESTED, shelf=shelf)
    said = "No change of the spec was found to do: it takes another uvb fixture on the shelf."
    assert unmet(plan, "uvb_fixture").endswith(said)


def test_what_mends_the_lamp_together_with_its_fixture_is_told_of_the_fixture_too():
    kept = tuple(thing for thing in THINGS if thing[1] not in ("uvb_lamp", "uvb_fixture"))
    beam = ("BEAM", "uvb_fixture", 900, rafter(reflector_share=1.0))
    shelf = shelf_of((*kept, ("BRIGHT", "uvb_lamp", 2000, read(0.9)), beam))
    spec = {**CRESTED, "perches_mm": [{"height": 440, "back": 290}]}
    plan = plan_of(spec, shelf=shelf)
    lamp, fixture = plan.unmet
    assert lamp.remedies == fixture.remedies
    [remedy] = fixture.remedies
    assert remedy.text in fixture.because
    assert plan_of(changed(spec, remedy.pointer, remedy.value), shelf=shelf).unmet == ()
