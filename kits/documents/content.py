"""What stands on a build sheet: plain data, ready to be drawn."""

from collections.abc import Callable
from dataclasses import dataclass

from reportlab.graphics.shapes import Drawing


@dataclass(frozen=True, slots=True)
class Heading:
    """The title block: whose sheet this is."""

    shop: str
    town: str
    number: str  # empty for a plan that no quote was written for
    version: int
    date: str
    customer: str = ""
    note: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """One figure with its name and where it comes from."""

    name: str
    value: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class LayerRow:
    """One layer from the floor up."""

    name: str
    depth: str
    in_place: str
    to_pour: str
    bags: tuple[str, ...]
    front_mm: float
    back_mm: float


@dataclass(frozen=True, slots=True)
class PartRow:
    """One line of the kit; `number` is its callout in the drawings."""

    number: int
    item: str
    name: str
    quantity: int
    unit: str
    each: str
    total: str
    missing: int = 0


@dataclass(frozen=True, slots=True)
class Step:
    """Something to do in the first 30 days."""

    when: str
    text: str


@dataclass(frozen=True, slots=True)
class CautionRow:
    """A caution with its sign; level `stop`, `warning` or `note`."""

    level: str
    about: str
    text: str


@dataclass(frozen=True, slots=True)
class UpkeepRow:
    """All upkeep of one interval."""

    every: str
    tasks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Sums:
    """Money as text."""

    net: str
    tax: str
    gross: str
    currency: str
    discount: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing of light, warmth or the day, with what it says in words."""

    title: str
    drawing: Drawing
    sentences: tuple[str, ...] = ()
    larger: Callable[[], Drawing] | None = None  # for a sheet whose pages have room for it
    aside: str = ""  # one more sentence for a sheet that takes no further page for it


@dataclass(frozen=True, slots=True)
class BuildSheet:
    """Everything a customer needs to build and keep the enclosure."""

    heading: Heading
    title: str
    wanted: tuple[Fact, ...]
    layers: tuple[LayerRow, ...]
    parts: tuple[PartRow, ...]
    unmet: tuple[str, ...]
    sums: Sums
    settings: tuple[Fact, ...]
    weights: tuple[Fact, ...]
    steps: tuple[Step, ...]
    cautions: tuple[CautionRow, ...]
    upkeep: tuple[UpkeepRow, ...]
    width_mm: float
    depth_mm: float
    height_mm: float
    pictures: tuple[Picture, ...] = ()
