"""Diagrams of light, a day and a soil: curves where their figures say, nothing touches, nothing outside."""

from dataclasses import dataclass
from math import exp, nan
from xml.etree import ElementTree as ET

import pytest
from reportlab.graphics.shapes import Polygon, Rect, String

from inventory.calc.errors import Impossible
from kits.drawings import render
from kits.drawings.day_curve import DayPicture, day_curve
from kits.drawings.field_map import field_map
from kits.drawings.light_profile import PlantClass, light_profile
from kits.drawings.pen import FINE
from kits.drawings.retention_curve import SoilPicture, retention_curve
from kits.physics.retention import container_capacity
from tests.documents import drawn
from tests.documents.fields import map_field, marked, points_of

SIZES = ((480, 330), (250, 262), (340, 260), (120, 60), (720, 500))
CLASSES = (PlantClass("low", 0.9, 2.6), PlantClass("medium", 1.7, 4.3), PlantClass("high", 6.5, 17.3))


@dataclass(frozen=True)
class Light:
    heights_mm: tuple
    middle: tuple
    edge: tuple


def light(bright=9.0):
    heights = tuple(150.0 + 10 * n for n in range(41))
    middle = tuple(bright * 0.15 / (0.15 + (592 - mm) / 1000) for mm in heights)
    return Light(heights, middle, tuple(0.55 * value for value in middle))


def day(days=1, **changed):
    minutes = tuple(range(0, 1440 * days + 1, 2))
    lit = [1.0 if 8 <= minute / 60 % 24 < 20 else 0.0 for minute in minutes]
    sound = {
        "minutes": minutes,
        "air_c": tuple(20 + 5 * on for on in lit),
        "soil_c": tuple(20 + 2 * on for on in lit),
        "humidity_pct": tuple(55 + 40 * exp(-((minute / 60 - 8.5) % 12) / 2) for minute in minutes),
        "heater_duty": tuple(0.4 * (1 - on) for on in lit),
        "day_c": (22, 26),
        "night_c": (18, 22),
        "humidity_band": (50, 80),
        "lamp_hours": (("UVB lamp", 8, 20), ("plant light", 7, 21)),
        "mist_hours": (8.5, 20.5),
    }
    return DayPicture(**{**sound, **changed})


def soil(**changed):
    heights = tuple(10.0 * n for n in range(1, 31))
    water = tuple(100 * container_capacity(mm / 10, 0.05, 0.72, 0.25, 1.6) for mm in heights)
    sound = {
        "name": "humid forest mix", "heights_mm": heights, "water_pct": water, "pore_pct": 72.0,
        "built_mm": 85.0, "water_bounds": (40, 60), "air_bounds": (10, 25),
    }  # fmt: skip
    return SoilPicture(**{**sound, **changed})


def lit(profile, classes=CLASSES, **named):
    return light_profile(drawn.scene_of(drawn.CRESTED), profile, classes, **named)


DIAGRAMS = {
    "light": lambda **size: lit(light(), hours=12, **size),
    "light without classes": lambda **size: lit(light(), (), **size),
    "no light": lambda **size: lit(light(0.0), **size),
    "far too much light": lambda **size: lit(light(400.0), hours=12, **size),
    "day": lambda **size: day_curve(day(), **size),
    "day in US units": lambda **size: day_curve(day(units="us", surface_c=day().air_c), **size),
    "fortnight": lambda **size: day_curve(day(14), **size),
    "steady day": lambda **size: day_curve(
        DayPicture(minutes=(0, 1440), air_c=(20, 20), humidity_pct=(60, 60)), **size
    ),
    "soil": lambda **size: retention_curve(soil(), **size),
    "sodden soil": lambda **size: retention_curve(
        soil(heights_mm=(5, 6), water_pct=(40, 40), pore_pct=40, built_mm=900, name="x" * 99), **size
    ),
    "soil of air": lambda **size: retention_curve(
        soil(water_pct=(0,) * 30, pore_pct=100, built_mm=0.5, units="us"), **size
    ),
}


def frames(drawing):
    """The panels of a diagram: its largest rectangles without a fill, from below."""
    rects = [s for s, _, _ in drawn.shapes(drawing) if isinstance(s, Rect) and s.fillColor is None]
    wide = max(rect.width for rect in rects)
    panels = [r for r in rects if r.width == wide and r.strokeWidth == FINE]
    return sorted(panels, key=lambda rect: rect.y)


def texts(drawing):
    return [box.what for box in drawn.words(drawing)]


@pytest.mark.parametrize("name", DIAGRAMS)
@pytest.mark.parametrize("size", SIZES)
def test_no_words_touch_and_nothing_lies_outside(name, size):
    drawing = DIAGRAMS[name](width=size[0], height=size[1])
    assert drawn.clashes(drawing) == []
    assert drawn.outside(drawing) == []


@pytest.mark.parametrize("name", [*DIAGRAMS, "map"])
def test_they_are_sound_svg_and_twice_the_same(name):
    scene = drawn.scene_of(drawn.CRESTED)
    draw = DIAGRAMS.get(name, lambda: field_map(scene, map_field(scene)))
    texts = [render.svg(draw(), name="a", title="t", description="d") for _ in range(2)]
    assert ET.fromstring(texts[0]).get("role") == "img"
    assert texts[0] == texts[1]
    assert "nan" not in texts[0]
    assert render.pdf(draw(), title="t") == render.pdf(draw(), title="t")


def curve(drawing, name):
    """The points of a curve without its halo."""
    found = [shape for shape, marks in marked(drawing, "curve") if marks["class"] == f"curve {name}"]
    return points_of(found[-1])


def test_the_temperature_stands_at_its_hour_and_degree():
    drawing = day_curve(day())
    panel = frames(drawing)[1]
    (_, low), *_, (_, last) = curve(drawing, "air")
    high = max(y for _, y in curve(drawing, "air"))
    degrees = sorted(float(t) for t in texts(drawing) if t.isdigit() and 16 <= float(t) <= 28)
    assert (high - low) / panel.height == pytest.approx(5 / (degrees[-1] - degrees[0]), rel=0.01)
    rise = next(x for x, y in curve(drawing, "air") if y > low + 1)
    assert (rise - panel.x) / panel.width == pytest.approx(8 / 24, abs=0.002)
    assert last == pytest.approx(low)


@pytest.mark.parametrize(("days", "spells"), [(1, 2), (3, 6)])
def test_a_lamp_past_midnight_has_two_bars_a_day(days, spells):
    drawing = day_curve(day(days, lamp_hours=(("moon", 20, 6),)))
    bars = [s for s, _ in marked(drawing, "row", Rect) if s.fillColor is None]
    assert len(bars) == spells
    panel = frames(drawing)[0]
    assert bars[0].x == pytest.approx(panel.x)
    assert bars[0].width == pytest.approx(panel.width * 6 / 24 / days)


def test_the_heater_is_as_high_as_its_duty():
    drawing = day_curve(day(heater_duty=(0.5,) * 721))
    ((outline, _),) = marked(drawing, "row", Polygon)
    heights = outline.points[1::2]
    assert max(heights) - min(heights) == pytest.approx(4.5)


def test_bands_of_day_and_night_have_their_own_patterns_and_words():
    drawing = day_curve(day())
    patterns = {marks["class"] for _, marks in marked(drawing, "band")}
    assert patterns == {"band wanted", "band dots", "band levels"}
    assert {"wanted by day 22 to 26 °C", "wanted by night 18 to 22 °C"} <= set(texts(drawing))


def test_what_is_not_known_of_a_day_is_not_drawn():
    drawing = DIAGRAMS["steady day"]()
    assert marked(drawing, "band") == marked(drawing, "row", Polygon) == []
    assert not {"soil", "mist", "heater"} & set(texts(drawing))


@pytest.mark.parametrize(
    ("changed", "argument"),
    [
        ({"minutes": (0,)}, "minutes"),
        ({"air_c": ()}, "air_c"),
        ({"soil_c": (1.0,)}, "soil_c"),
        ({"air_c": (nan,) * 721}, "air_c"),
    ],
)
def test_a_day_that_cannot_be_is_refused_by_name(changed, argument):
    with pytest.raises(Impossible) as refused:
        day(**changed)
    assert refused.value.argument == argument


def test_light_stands_over_the_same_axis_as_the_strips():
    drawing = lit(light())
    panel = frames(drawing)[0]
    ground = curve(drawing, "middle")[0][0]
    strip = next(points_of(s) for s, marks in marked(drawing, "strip") if marks["class"] == "strip high")
    per_mol = (ground - panel.x) / light().middle[0]
    left, right = min(x for x, _ in strip), max(x for x, _ in strip)
    assert left == pytest.approx(panel.x + 6.5 * per_mol, abs=2.6)
    assert right == pytest.approx(panel.x + 17.3 * per_mol, abs=2.6)


def test_light_beyond_the_axis_leaves_at_the_side_and_its_figure_stays():
    drawing = lit(light(80.0))
    panel, points = frames(drawing)[0], curve(drawing, "middle")
    assert max(x for x, _ in points) == pytest.approx(panel.x + panel.width, abs=0.1)
    assert points[-1][1] < panel.y + panel.height * 0.9
    assert f"top {light(80.0).middle[-1]:.0f}, edge {light(80.0).edge[-1]:.0f}" in texts(drawing)


def test_photon_flux_gives_its_daily_light():
    drawing = lit(light(), hours=10)
    assert "µmol/m²s in 10 h" in texts(drawing)
    panel = frames(drawing)[0]
    flux = next(s for s, _, _ in drawn.shapes(drawing) if isinstance(s, String) and s.text == "400")
    mol = next(s for s, _, _ in drawn.shapes(drawing) if isinstance(s, String) and s.text == "10")
    assert (flux.x - panel.x) / (mol.x - panel.x) == pytest.approx(400 * 36000 / 1e6 / 10)


def test_solids_water_and_air_of_the_built_soil_make_up_all_of_it():
    said = [text for text in texts(retention_curve(soil())) if text.startswith(("solid ", "water ", "air "))]
    shares = [int(text.split()[1]) for text in said if text.endswith("%") and "wanted" not in text]
    water = 100 * container_capacity(8.5, 0.05, 0.72, 0.25, 1.6)
    assert len(shares) == 3
    assert sum(shares) == pytest.approx(100, abs=1)
    assert f"water {water:.0f} %" in said


@pytest.mark.parametrize(("built_mm", "inside"), [(85.0, True), (20.0, False)])
def test_a_mix_that_does_passes_through_both_brackets(built_mm, inside):
    picture = soil(built_mm=built_mm)
    drawing = retention_curve(picture)
    panel = frames(drawing)[0]
    border = panel.y + panel.height * (picture.solid_pct + picture.water_at(built_mm)) / 100
    brackets = [points_of(shape) for shape, _ in marked(drawing, "bound")][1::2]
    passed = [min(y for _, y in one) <= border <= max(y for _, y in one) for one in brackets]
    assert len(passed) == 2
    assert all(passed) == inside


def test_the_built_depth_stands_at_its_place():
    drawing = retention_curve(soil(built_mm=150.0))
    panel = frames(drawing)[0]
    words = next(s for s, _, _ in drawn.shapes(drawing) if isinstance(s, String) and s.text == "built 150 mm")
    assert words.x == pytest.approx(panel.x + panel.width / 2)


@pytest.mark.parametrize(
    ("changed", "argument"),
    [
        ({"built_mm": 0}, "built_mm"),
        ({"pore_pct": 30.0}, "water_pct"),
        ({"heights_mm": (1.0,)}, "heights_mm"),
    ],
)
def test_a_soil_that_cannot_be_is_refused_by_name(changed, argument):
    with pytest.raises(Impossible) as refused:
        soil(**changed)
    assert refused.value.argument == argument
