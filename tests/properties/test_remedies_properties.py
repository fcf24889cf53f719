"""Every change that a plan offers fills the role it is offered for, whatever is on the shelf."""

from hypothesis import given, settings
from hypothesis import strategies as st

from kits.planning.remedies import changed
from kits.planning.shelf import Shelf
from tests.full_shelf import CRESTED, DESERT, OFFERS
from tests.lit_shelf import offers, plan_of, rafter, read, spot

BOXED = {
    "enclosure": {"interior_mm": {"width": 900, "depth": 450, "height": 700}, "top": {"kind": "mesh"}},
    "animals": [{"species": "correlophus-ciliatus"}],
}
FELT = ("uvb_lamp", "uvb_fixture", "basking_lamp", "night_heat", "mister", "mesh_cover")
CARRIERS = {"uvb_fixture"}  # stands among what is unmet only beside the lamp that it would carry
REST = [one for one in OFFERS if one.role not in FELT]


@st.composite
def things(draw):
    """One thing in each role, good or bad."""
    index, share, watts = (
        draw(st.floats(0.05, 8)),
        draw(st.sampled_from([0.5, 1.0])),
        draw(st.integers(5, 150)),
    )
    pump = {"kind": "pump", "tank_l": 1, "nozzles": 1, "nozzle_l_min": draw(st.sampled_from([0.004, 0.02]))}
    sheet = {"width_mm": draw(st.integers(100, 900)), "depth_mm": draw(st.integers(50, 450))}
    panel = {"kind": "panel", "cap": None, "lightless": True, "watts": draw(st.integers(3, 60))}
    figures = (read(index), rafter(reflector_share=share), spot(watts), panel, pump, sheet)
    return [(role.upper(), role, 900, one) for role, one in zip(FELT, figures, strict=True)]


@st.composite
def rooms(draw):
    day = draw(st.integers(10, 28))
    night = draw(st.integers(4, day))
    return {"temperature_c": day, "night_temperature_c": night,
            "relative_humidity_pct": draw(st.integers(5, 60))}  # fmt: skip


def stopped(plan):
    return {caution.about for caution in plan.cautions if caution.level == "stop"}


@settings(max_examples=60, deadline=None)
@given(things(), st.sampled_from([CRESTED, DESERT, BOXED]), rooms(), st.integers(200, 420))
def test_every_change_that_is_offered_fills_its_role_and_empties_no_other(shelved, data, room, perch_mm):
    both = [*REST, *offers(shelved)]
    shelf = Shelf.build([one.ware for one in both], both)
    data = {**data, "room": room, "perches_mm": [{"height": perch_mm, "back": 200}]}
    plan = plan_of(data, shelf=shelf)
    before = {one.role for one in plan.unmet}
    for gap in plan.unmet:
        for remedy in gap.remedies:
            after = plan_of(changed(data, remedy.pointer, remedy.value), shelf=shelf)
            assert not {one.role for one in after.unmet} - (before - {gap.role}) - CARRIERS, remedy
            assert gap.role not in {one.role for one in after.unmet}
            assert stopped(after) <= stopped(plan) | (before - {gap.role}), remedy
