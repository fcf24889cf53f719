"""What the plan says of the floor: IRC R301.5 asks 40 lb/ft2, 195.3 kg/m2, of a whole room."""

import pytest

from tests.lit_shelf import plan_of, told

PSF_40 = 40 * 0.45359237 / 0.3048**2


def box_with(depth_mm):
    wall, top = {"material": "wood", "thickness_mm": 12}, {"kind": "mesh", "open_fraction": 0.6}
    box = {"interior_mm": {"width": 600, "depth": 600, "height": 700}, "wall": wall, "top": top}
    depths = {"drainage": 0, "substrate_front": depth_mm, "substrate_back": depth_mm, "litter": 0}
    return {"enclosure": box, "style": "dry-scrub", "depths_mm": depths, "planting": "none"}


@pytest.mark.parametrize(
    ("depth_mm", "loads", "words"),
    [
        (20, (0, 1), ""),
        (200, (1, 2), "which is normal for one box on its own"),
        (500, (2, 9), "more than twice the 195 kg/m2 that floors are usually built for: ask an engineer"),
    ],
)
def test_the_load_on_the_footprint_is_told_by_how_far_it_passes_that_of_a_room(depth_mm, loads, words):
    plan = plan_of(box_with(depth_mm))
    load = plan.figures["installed_kg"] / 0.624**2 / PSF_40
    assert loads[0] < load < loads[1]
    assert words in told(plan, "installed_kg")
    assert bool(words) == ("kg on each square metre" in told(plan, "installed_kg"))


def test_a_load_that_wants_an_engineer_is_a_warning_and_a_usual_one_a_note():
    levels = [
        {c.level for c in plan_of(box_with(mm)).cautions if "each square metre" in c.text}
        for mm in (200, 500)
    ]
    assert levels == [{"note"}, {"warning"}]


def test_what_the_goods_weigh_in_the_post_is_told_item_by_item():
    plan = plan_of({"enclosure": {"size": "45x45x60-glass"}, "style": "humid-forest"})
    (shipping,) = [w for w in plan.workings if w.figure == "shipping_kg"]
    assert set(shipping.inputs) == {line.item for line in plan.lines}
    assert sum(shipping.inputs.values()) == pytest.approx(shipping.value)
