"""Drawings: true to scale, nothing overlaps, nothing lies outside, for every kind of build."""

from itertools import combinations

import pytest
from reportlab.graphics.shapes import Rect

from kits.drawings.floor import floor
from kits.drawings.labels import cross
from kits.drawings.measures import POINTS_PER_MM
from kits.drawings.section import section
from kits.drawings.top import top
from tests.documents import drawn

VIEWS = (section, floor, top)
SIZES = ((480, 330), (700, 420))
NAMED = [*drawn.CORNERS, *drawn.DEMO]


def named_scene(name):
    return drawn.scene_of(drawn.CORNERS[name]) if name in drawn.CORNERS else drawn.demo_scene(name)


def inner_box(drawing):
    """The one rectangle without a fill: the inside of the box."""
    found = [s for s, _, _ in drawn.shapes(drawing) if isinstance(s, Rect) and s.fillColor is None]
    assert len(found) == 1
    return found[0]


@pytest.mark.parametrize("name", NAMED)
@pytest.mark.parametrize("view", VIEWS)
def test_no_words_touch_and_nothing_lies_outside(view, name):
    for width, height in SIZES:
        drawing = view(named_scene(name), width=width, height=height)
        assert drawn.clashes(drawing) == []
        assert drawn.outside(drawing) == []


@pytest.mark.parametrize("view", VIEWS)
def test_no_words_touch_and_nothing_lies_outside_in_200_random_builds(view):
    scenes = drawn.random_scenes()
    assert len(scenes) >= 200
    for scene in scenes:
        drawing = view(scene)
        assert drawn.clashes(drawing) == [], scene
        assert drawn.outside(drawing) == [], scene


def test_leaders_never_cross_each_other_nor_run_through_words():
    for scene in [*map(named_scene, NAMED), *drawn.random_scenes()]:
        drawing = section(scene)
        leaders, boxes = drawn.leaders(drawing), drawn.words(drawing)
        assert not [pair for pair in combinations(leaders, 2) if cross(*pair[0], *pair[1])], scene
        assert not [box for box in boxes for line in leaders if drawn.strikes(line, box)], scene


@pytest.mark.parametrize("name", NAMED)
def test_the_section_is_true_to_scale(name):
    inside, drawing = named_scene(name).inside, section(named_scene(name))
    box = inner_box(drawing)
    assert box.width / box.height == pytest.approx(inside.depth_mm / inside.height_mm, rel=0.001)


@pytest.mark.parametrize("view", [floor, top])
def test_views_from_above_are_true_to_scale(view):
    for name in NAMED:
        inside, box = named_scene(name).inside, inner_box(view(named_scene(name)))
        assert box.height / box.width == pytest.approx(inside.depth_mm / inside.width_mm, rel=0.001)


def test_a_fixed_scale_is_kept_to_the_point():
    box = inner_box(section(drawn.scene_of(drawn.CRESTED), scale=8))
    assert box.width == pytest.approx(443 / 8 * POINTS_PER_MM)
    assert box.height == pytest.approx(592 / 8 * POINTS_PER_MM)


def test_layers_are_drawn_as_deep_as_they_are():
    drawing = section(drawn.scene_of(drawn.CRESTED), scale=8)
    box = inner_box(drawing)
    tones = [s for s, _, _ in drawn.shapes(drawing) if getattr(s, "points", None) and len(s.points) == 8]
    soil = next(s for s in tones if s.points[0] == box.x and s.points[1] > box.y and s.strokeColor is None)
    front, back = soil.points[7] - soil.points[1], soil.points[5] - soil.points[3]
    assert front == pytest.approx(60 / 8 * POINTS_PER_MM)
    assert back == pytest.approx(110 / 8 * POINTS_PER_MM)
