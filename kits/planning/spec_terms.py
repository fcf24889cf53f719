"""The words of a build spec that has been read."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from kits.planning.faults import Faults
from kits.terms.build import Vent
from kits.terms.facts import Facts


@dataclass(frozen=True, slots=True)
class Enclosure:
    """A catalogue size, or the inside of a box that its owner measured; None where nothing was said."""

    size: str = ""
    width_mm: float = 0.0
    depth_mm: float = 0.0
    height_mm: float = 0.0
    sill_mm: float | None = None
    wall_material: str | None = None
    wall_thickness_mm: float | None = None
    top_kind: str | None = None
    top_open_fraction: float | None = None
    covered_share: float | None = None  # of the mesh top; None where nothing was said
    air_changes_h: float | None = None
    front_vent: Vent | None = None

    @property
    def measured(self) -> bool:
        """Whether the customer measured a box of their own."""
        return not self.size


@dataclass(frozen=True, slots=True)
class Animal:
    """Animals of one species, stage and sex, as ordered."""

    species: str
    count: int = 1
    stage: str = "adult"
    sex: str = "unknown"


@dataclass(frozen=True, slots=True)
class Owned:
    """A role that the customer's own thing fills: an item known here, or its figures, or nothing said."""

    role: str
    item: str = ""
    figures: Mapping[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Extra:
    """Something that comes along with the kit."""

    item: str
    quantity: int


@dataclass(frozen=True, slots=True)
class Reading:
    """A spec being read: what was given, the faults so far, and what names are checked against."""

    given: Mapping[str, object]
    faults: Faults
    facts: Facts
    knows_item: Callable[[str], bool]
