"""A figure that was worked out before is told again as it was, and only that one."""

from kits.physics.geometry import footprint_m2, layer_l
from kits.planning.worked import worked

FLOOR = {"width_m": 0.45, "depth_m": 0.45}
LAYER = {**FLOOR, "front_m": 0.05, "back_m": 0.1}


def test_the_same_question_has_the_same_working():
    assert worked("drainage_l", layer_l, dict(LAYER), "as asked") is worked(
        "drainage_l", layer_l, LAYER, "as asked"
    )


def test_another_figure_input_note_or_step_before_has_a_working_of_its_own():
    first = worked("drainage_l", layer_l, LAYER)
    outside = {"width_m": 90.0, "depth_m": 0.45}
    others = [
        worked("litter_l", layer_l, LAYER),
        worked("drainage_l", layer_l, {**LAYER, "back_m": 0.2}),
        worked("drainage_l", layer_l, LAYER, "as asked"),
        worked("drainage_l", layer_l, LAYER, before=[(footprint_m2, outside)]),
        worked("drainage_l", layer_l, LAYER, percent=True),
    ]
    assert all(other is not first and other != first for other in others[:3])
    assert all(other is not first for other in others)
