"""Scenes to draw, and what lies where on a drawing: boxes of words, leaders, circles, extents."""

from dataclasses import dataclass
from functools import cache

from hypothesis import HealthCheck, Phase, given, settings
from reportlab.graphics.shapes import Circle, Group, Line, Path, Polygon, Rect, String

from inventory.documents.typeface import text_width
from kits.drawings.pen import Marked
from kits.drawings.scene import from_json
from kits.planning import pipeline
from kits.planning.shelf import Shelf
from kits.planning.spec import read_spec
from kits.terms.needs import Offer, Ware
from kits.terms.plan import Terms
from shop.demo import tables
from tests.full_shelf import CRESTED, FERN_BOX, plan_of
from tests.known_facts import known_facts

DEMO = tables.specs()
CORNERS = {
    "crested gecko": CRESTED,
    "small box": FERN_BOX,
    "cube of 190": {**FERN_BOX, "enclosure": {"interior_mm": {"width": 190, "depth": 190, "height": 190}}},
    "1800 x 900 x 900": {
        "enclosure": {"interior_mm": {"width": 1800, "depth": 900, "height": 900}},
        "style": "humid-forest",
        "planting": "dense",
    },
    "300 mm of soil": {**DEMO["hognose-dig"], "depths_mm": {"substrate_front": 300}},
    "high and narrow": {
        **FERN_BOX,
        "enclosure": {"interior_mm": {"width": 100, "depth": 100, "height": 2500}},
    },
    "low and deep": {**FERN_BOX, "enclosure": {"interior_mm": {"width": 2500, "depth": 1500, "height": 200}}},
}


@cache
def demo_shelf():
    """The demo shop's shelf, straight from its tables."""
    offers, wares = [], []
    for row in tables.item_rows():
        ware = Ware(row["code"], row["name"], row["unit_name"], 100)
        wares.append(ware)
        offers += [Offer(ware, role, figures) for role, figures in tables.profiles(row).items()]
    return Shelf.build(wares, offers)


@cache
def demo_scene(name):
    """The scene of one of the demo shop's specs."""
    spec = read_spec(DEMO[name], facts=known_facts(), knows_item=demo_shelf().knows)
    plan = pipeline.plan(
        spec,
        facts=known_facts(),
        shelf=demo_shelf(),
        read_free=lambda items: dict.fromkeys(items, 99),
        terms=Terms(),
    )
    return from_json(plan.scene)


def scene_of(spec):
    """The scene of a spec with the small invented shelf."""
    return from_json(plan_of(spec).scene)


@cache
def random_scenes(count=200):
    """The same builds of every kind at each run."""
    from tests.build_specs import specs

    found = []

    @settings(
        max_examples=count, derandomize=True, database=None, deadline=None, phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )  # fmt: skip
    @given(specs())
    def collect(spec):
        found.append(scene_of(spec))

    collect()
    return found


@dataclass(frozen=True)
class Extent:
    """Where a shape lies: left, low, right, high."""

    left: float
    low: float
    right: float
    high: float
    what: str = ""

    def meets(self, other, slack=0.05):
        """Whether two extents share more than a hair."""
        across = min(self.right, other.right) - max(self.left, other.left)
        up = min(self.high, other.high) - max(self.low, other.low)
        return across > slack and up > slack


def shapes(drawing):
    """Every shape with the transform of its groups and the marks around it."""
    yield from _below(drawing.contents, (1, 0, 0, 1, 0, 0), {})


def _below(contents, matrix, marks):
    for shape in contents:
        if isinstance(shape, Group):
            inner = {**marks, **(shape.marks if isinstance(shape, Marked) else {})}
            yield from _below(shape.contents, _times(matrix, shape.transform), inner)
        else:
            yield shape, matrix, marks


def _times(m, n):
    a, b, c, d, e, f = m
    return (
        a * n[0] + c * n[1], b * n[0] + d * n[1], a * n[2] + c * n[3], b * n[2] + d * n[3],
        a * n[4] + c * n[5] + e, b * n[4] + d * n[5] + f,
    )  # fmt: skip


def _points(shape):
    if isinstance(shape, String):
        wide = text_width(shape.text.rstrip(), shape.fontSize, shape.fontName)
        left = shape.x - {"start": 0, "middle": wide / 2, "end": wide}[shape.textAnchor]
        # Digits and capitals of DejaVu are 0.73 of the type size high; descenders reach 0.24 below.
        below = 0 if shape.text.isdigit() else 0.24 * shape.fontSize
        return [(left, shape.y - below), (left + wide, shape.y + 0.73 * shape.fontSize)]
    if isinstance(shape, Line):
        return [(shape.x1, shape.y1), (shape.x2, shape.y2)]
    if isinstance(shape, Rect):
        return [(shape.x, shape.y), (shape.x + shape.width, shape.y + shape.height)]
    if isinstance(shape, Circle):
        return [(shape.cx - shape.r, shape.cy - shape.r), (shape.cx + shape.r, shape.cy + shape.r)]
    assert isinstance(shape, Path | Polygon), type(shape)
    return list(zip(shape.points[::2], shape.points[1::2], strict=True))


def extent(shape, matrix):
    """The extent of one shape on the sheet."""
    a, b, c, d, e, f = matrix
    placed = [(a * x + c * y + e, b * x + d * y + f) for x, y in _points(shape)] or [(e, f)]
    xs, ys = zip(*placed, strict=True)
    return Extent(min(xs), min(ys), max(xs), max(ys), getattr(shape, "text", type(shape).__name__))


def words(drawing):
    """The extents of all words and numbers."""
    return [extent(shape, matrix) for shape, matrix, _ in shapes(drawing) if isinstance(shape, String)]


def clashes(drawing):
    """Pairs of words that touch."""
    found = sorted(words(drawing), key=lambda one: one.left)
    return [
        (one.what, other.what)
        for n, one in enumerate(found)
        for other in found[n + 1 :]
        if other.left < one.right and one.meets(other)
    ]


def outside(drawing):
    """Shapes that reach over the edge of the drawing."""
    found = [extent(shape, matrix) for shape, matrix, _ in shapes(drawing)]
    return [
        one
        for one in found
        if one.left < -0.1
        or one.low < -0.1
        or one.right > drawing.width + 0.1
        or one.high > drawing.height + 0.1
    ]


def leaders(drawing):
    """The leader lines, as pairs of points."""
    return [
        ((shape.x1, shape.y1), (shape.x2, shape.y2))
        for shape, _, marks in shapes(drawing)
        if marks.get("class") == "leader" and isinstance(shape, Line)
    ]


def strikes(line, box, slack=0.2):
    """Whether a line runs through a box of words (Liang and Barsky's clipping)."""
    (x, y), (x2, y2) = line
    low, high = 0.0, 1.0
    for step, near, far in ((x2 - x, box.left - x, box.right - x), (y2 - y, box.low - y, box.high - y)):
        if abs(step) < 1e-9:
            if near + slack > 0 or far - slack < 0:
                return False
            continue
        enter, leave = sorted(((near + slack) / step, (far - slack) / step))
        low, high = max(low, enter), min(high, leave)
    return low < high
