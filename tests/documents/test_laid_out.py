"""A drawing tells its size before anything of it is drawn."""

import pytest

from inventory.documents.flow import Flow
from inventory.documents.paper import sheet_size
from kits.documents import front_page
from kits.drawings.floor import floor
from kits.drawings.section import section
from kits.drawings.top import top
from tests.documents import drawn
from tests.documents.papers import crested

SCENES = [*map(drawn.demo_scene, sorted(drawn.DEMO)), *map(drawn.scene_of, drawn.CORNERS.values())]
PAGE = Flow(sheet_size("letter"))
AREA = {"width": PAGE.width, "height": front_page.LEAST_NOTES}


def views_of(scene):
    sheet, _ = crested()
    return list(front_page.fitting(PAGE, sheet, scene))


@pytest.mark.parametrize("scene", SCENES)
def test_the_size_that_is_told_is_the_size_that_is_drawn(scene):
    for views in views_of(scene)[-3:]:
        ways = {"section": section, "floor": floor, "top": top}
        for name, way in ways.items():
            told, made = getattr(views, name), way(scene, **AREA, scale=views.scale)
            assert (told.width, told.height) == (made.width, made.height)


@pytest.mark.parametrize("scene", SCENES)
def test_all_that_is_drawn_lies_within_the_size_that_was_told(scene):
    views = views_of(scene)[0]
    for told in (views.section, views.floor, views.top):
        for shape, matrix, _ in drawn.shapes(told.drawn()):
            extent = drawn.extent(shape, matrix)
            assert min(extent.left, extent.low) >= -0.5, extent
            assert max(extent.right - told.width, extent.high - told.height) <= 0.5, extent
