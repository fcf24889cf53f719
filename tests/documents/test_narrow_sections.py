"""A section stays a drawing however narrow the sheet: true to scale, legible, with nothing over anything."""

import pytest

from kits.drawings.measures import POINTS_PER_MM, SCALES
from kits.drawings.section import numbers_only, section
from tests.documents import drawn
from tests.documents.test_drawings_layout import NAMED, inner_box, named_scene

PHONE_PT = (200, 330)


@pytest.mark.parametrize("name", NAMED)
def test_the_section_for_a_phone_has_nothing_over_anything(name):
    drawing = numbers_only(named_scene(name), width=PHONE_PT[0], height=PHONE_PT[1])
    assert drawn.clashes(drawing) == []
    assert drawn.outside(drawing) == []
    assert drawing.width < 1.8 * PHONE_PT[0]


@pytest.mark.parametrize("words", [True, False])
@pytest.mark.parametrize("width", [120, 200, 300, 400])
def test_a_narrow_sheet_keeps_the_box_in_one_of_the_ruler_scales(width, words):
    scene = drawn.demo_scene(next(iter(drawn.DEMO)))
    box = inner_box(section(scene, width=width, height=330, words=words))
    n = scene.inside.depth_mm * POINTS_PER_MM / box.width
    assert box.height / box.width == pytest.approx(scene.inside.height_mm / scene.inside.depth_mm)
    assert min(abs(n - scale) for scale in SCALES) < 1e-6
    assert box.width > width / 8
