"""Maps of a field: lines where it equals their level, figures in clear gaps, bands that read in grey."""

from dataclasses import replace
from math import inf, nan

import pytest
from reportlab.graphics.shapes import String

from inventory.calc.errors import Impossible
from kits.drawings.field_map import Field, field_map
from kits.drawings.isolines import isolines, value_at
from tests.documents import drawn
from tests.documents.fields import (
    LEVELS,
    distance,
    field_of,
    in_millimetres,
    inner_box,
    lamp_over,
    map_field,
    marked,
    points_of,
    strength_for,
    strokes_of,
)

SIZES = ((480, 330), (700, 420), (250, 262))


def scene_called(name):
    return drawn.scene_of(drawn.CORNERS[name])


@pytest.fixture(scope="module")
def crested():
    scene = scene_called("crested gecko")
    return scene, map_field(scene), field_map(scene, map_field(scene))


def texts(drawing):
    return [box.what for box in drawn.words(drawing)]


def test_isolines_of_an_inverse_square_field_are_circles_around_the_lamp(crested):
    scene, field, _ = crested
    lamp = lamp_over(scene)
    strength = strength_for(scene, lamp)
    for level in LEVELS:
        radius = (strength / level) ** 0.5
        lines = isolines(field.along_mm, field.up_mm, field.values, level)
        off = [abs(distance(point, lamp) - radius) for line in lines for point in line]
        assert lines
        assert max(off) < 0.01 * scene.inside.depth_mm


@pytest.mark.parametrize("name", drawn.CORNERS)
def test_drawn_lines_lie_on_the_circles_too(name):
    scene = scene_called(name)
    drawing, lamp = field_map(scene, map_field(scene)), lamp_over(scene)
    strength, side = strength_for(scene, lamp), max(scene.inside.depth_mm, scene.inside.height_mm)
    found = marked(drawing, "isoline")
    assert found
    for path, marks in found:
        radius = (strength / float(marks["data-level"])) ** 0.5
        for place in in_millimetres(scene, drawing, points_of(path)):
            assert abs(distance(place, lamp) - radius) < 0.01 * side


def test_each_level_that_the_field_crosses_is_drawn_and_has_its_figure(crested):
    _, _, drawing = crested
    levels = {marks["data-level"] for _, marks in marked(drawing, "isoline")}
    figures = {text.text for text, _ in marked(drawing, "level", String)}
    assert levels == figures == {"0.5", "0.7", "1", "1.4", "2", "4", "7.4"}


@pytest.mark.parametrize("name", drawn.CORNERS)
@pytest.mark.parametrize("share", [0.1, 0.5, 0.9])
def test_no_words_touch_and_nothing_lies_outside(name, share):
    scene = scene_called(name)
    for width, height in SIZES:
        drawing = field_map(scene, map_field(scene, share), width=width, height=height)
        assert drawn.clashes(drawing) == []
        assert drawn.outside(drawing) == []


@pytest.mark.parametrize("name", drawn.DEMO)
def test_no_words_touch_in_the_kits_of_the_demo_shop(name):
    scene = drawn.demo_scene(name)
    drawing = field_map(scene, map_field(scene))
    assert drawn.clashes(drawing) == []
    assert drawn.outside(drawing) == []


@pytest.mark.parametrize("name", drawn.CORNERS)
def test_no_line_and_no_pattern_runs_through_a_figure(name):
    scene = scene_called(name)
    drawing = field_map(scene, map_field(scene))
    shapes = [shape for kind in ("isoline", "band") for shape, _ in marked(drawing, kind)]
    figures = [box for box in drawn.words(drawing) if box.what in _figures(drawing)]
    boxes = [box for box in figures if box.left > inner_box(drawing).x]
    for shape in shapes:
        struck = [(line, box) for line in strokes_of(shape) for box in boxes if drawn.strikes(line, box)]
        assert struck == []


def _figures(drawing):
    return {text.text for text, _ in marked(drawing, "level", String)}


@pytest.mark.parametrize("name", drawn.CORNERS)
def test_lines_and_patterns_end_at_the_ground(name):
    scene = scene_called(name)
    drawing = field_map(scene, map_field(scene))
    for kind in ("isoline", "band"):
        for path, _ in marked(drawing, kind):
            for x, y in in_millimetres(scene, drawing, points_of(path)):
                assert y > scene.ground_mm(x) - 0.005 * scene.inside.height_mm


@pytest.mark.parametrize(
    ("pattern", "low", "high"), [("wanted", 0.7, 1.4), ("dots", 1.4, 7.4), ("checks", 7.4, inf)]
)
def test_a_pattern_lies_where_the_field_lies_in_its_band(crested, pattern, low, high):
    scene, field, drawing = crested
    paths = [path for path, marks in marked(drawing, "band") if marks["class"] == f"band {pattern}"]
    middles = [((a + c) / 2, (b + d) / 2) for path in paths for (a, b), (c, d) in strokes_of(path)]
    assert len(middles) > 20
    for place in in_millimetres(scene, drawing, middles):
        value = value_at(field.along_mm, field.up_mm, field.values, place)
        assert low <= value < high


def test_marked_points_carry_the_value_of_the_field(crested):
    scene, field, drawing = crested
    x, y, _ = field.marks[0]
    lamp = lamp_over(scene)
    value = strength_for(scene, lamp) / distance((x, y), lamp) ** 2
    assert f"back on the perch {value:.1f}" in texts(drawing)


@pytest.mark.parametrize("name", drawn.CORNERS)
@pytest.mark.parametrize(("form", "share"), [("tube", 1.05), ("spot", 1.0), ("spot", 0.7)])
def test_the_lamp_of_a_field_stands_where_it_is_reckoned_and_alone(name, form, share):
    scene = scene_called(name)
    inside = scene.inside
    lamp = (form, 0.6 * inside.depth_mm, share * inside.height_mm)
    drawing = field_map(scene, replace(map_field(scene), lamp=lamp))
    shapes = [drawn.extent(s, m) for s, m, marks in drawn.shapes(drawing) if marks.get("class") == "lamp"]
    box = inner_box(drawing)
    middle = (min(one.left for one in shapes) + max(one.right for one in shapes)) / 2
    assert (middle - box.x) / box.width == pytest.approx(0.6, abs=0.2 if box.width < 30 else 0.01)
    assert not any("data-part" in marks for _, _, marks in drawn.shapes(drawing))
    assert drawn.clashes(drawing) == drawn.outside(drawing) == []


def with_more_above(scene, height_mm):
    """A field of a lamp at a height, with values above it that stand for nothing."""
    return field_of(
        scene, lambda x, y: x + (1e6 if y > height_mm else 0), levels=(50.0,), wanted=(60.0, 9e4), limit=1e5,
        lamp=("spot", 0.5 * scene.inside.depth_mm, height_mm),
    )  # fmt: skip


@pytest.mark.parametrize("name", drawn.CORNERS)
def test_above_its_lamp_a_field_is_neither_drawn_nor_in_the_key(name):
    scene = scene_called(name)
    top = 0.7 * scene.inside.height_mm
    drawing = field_map(scene, with_more_above(scene, top))
    paths = [path for kind in ("isoline", "band") for path, _ in marked(drawing, kind)]
    places = [place for path in paths for place in in_millimetres(scene, drawing, points_of(path))]
    assert max(y for _, y in places) == pytest.approx(top, abs=0.05 * scene.inside.height_mm)
    assert not any(text.startswith("too much") for text in texts(drawing))
    assert drawn.clashes(drawing) == drawn.outside(drawing) == []


@pytest.mark.parametrize("name", drawn.CORNERS)
def test_below_the_ground_a_lamp_has_no_field(name):
    scene = scene_called(name)
    drawing = field_map(scene, with_more_above(scene, 0.0))
    assert marked(drawing, "isoline") == marked(drawing, "band") == []
    assert drawn.clashes(drawing) == drawn.outside(drawing) == []


def test_a_mark_beyond_the_field_carries_words_alone(crested):
    scene, _, _ = crested
    field = field_of(scene, lambda x, y: 1.0 + y, marks=((100.0, scene.inside.height_mm + 30, "lamp"),))
    assert "lamp" in texts(field_map(scene, field))


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (1.0, "1.0 everywhere"),
        (0.2, "wanted 0.7 to 1.4: nowhere here"),
        (0.0, "below wanted"),
        (9.0, "too much, above 7.4"),
    ],
)
def test_a_field_without_lines_says_what_it_is(crested, value, said):
    scene, _, _ = crested
    field = field_of(scene, lambda x, y: value, levels=LEVELS, wanted=(0.7, 1.4), limit=7.4)
    drawing = field_map(scene, field)
    assert marked(drawing, "isoline") == []
    assert said in texts(drawing)
    assert drawn.clashes(drawing) == drawn.outside(drawing) == []


def test_a_level_outside_the_range_has_no_line(crested):
    scene, _, _ = crested
    field = field_of(scene, lambda x, y: 20 + y / scene.inside.height_mm, levels=(20.5, 35.0), unit="C")
    drawing = field_map(scene, field)
    assert {marks["data-level"] for _, marks in marked(drawing, "isoline")} == {"20.5"}
    assert "UV index, °C" in texts(drawing)


def test_without_a_wanted_band_stronger_is_darker(crested):
    scene, _, _ = crested
    field = field_of(scene, lambda x, y: y / scene.inside.height_mm, levels=(0.5, 0.7, 0.9))
    names = [marks["class"] for _, marks in marked(field_map(scene, field), "band")]
    assert names == ["band thin dots", "band dots", "band thick dots"]


@pytest.mark.parametrize(
    ("changed", "argument"),
    [
        ({"values": ((1.0, nan), (1.0, 1.0))}, "values"),
        ({"values": ((1.0, inf), (1.0, 1.0))}, "values"),
        ({"values": ((1.0, 1.0),)}, "values"),
        ({"along_mm": (0.0, 0.0)}, "along_mm"),
        ({"up_mm": (0.0,), "values": ((1.0, 1.0),)}, "up_mm"),
    ],
)
def test_a_field_that_cannot_be_is_refused_by_name(changed, argument):
    sound = {"along_mm": (0.0, 1.0), "up_mm": (0.0, 1.0), "values": ((1.0, 1.0), (1.0, 1.0)), "name": "x"}
    with pytest.raises(Impossible) as refused:
        Field(**{**sound, **changed})
    assert refused.value.argument == argument
