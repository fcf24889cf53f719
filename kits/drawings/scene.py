"""What is drawn of a kit: plain data, stored as JSON with the plan, so that old quotes can be drawn."""

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Inside:
    """The inside of the enclosure, its walls and its top."""

    width_mm: float
    depth_mm: float
    height_mm: float
    sill_mm: float
    wall_mm: float
    wall_material: str
    top_kind: str  # mesh, glass, solid or open


@dataclass(frozen=True, slots=True)
class Bed:
    """One layer of the ground."""

    name: str  # drainage, substrate or litter
    front_mm: float
    back_mm: float


@dataclass(frozen=True, slots=True)
class Seat:
    """A perch: height above the floor of the box and distance from the front."""

    height_mm: float
    back_mm: float


@dataclass(frozen=True, slots=True)
class Part:
    """A line of the parts list that is drawn; 0 is the size of what has no size of its own."""

    number: int  # its place in the parts list, 0 for what the customer has already
    role: str
    label: str
    quantity: int
    length_mm: float = 0.0  # along the width of the box
    width_mm: float = 0.0  # along its depth
    height_mm: float = 0.0
    form: str = ""  # the shape of a plant, the kind of a lamp
    position: str = ""  # where a plant stands: front, middle, back or mounted


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything that the drawings of one kit show."""

    inside: Inside
    beds: tuple[Bed, ...]
    seats: tuple[Seat, ...]
    parts: tuple[Part, ...]
    units: str = "metric"
    water_mm: float = 0.0  # safe water level above the floor, 0 where it is not known

    def ground_mm(self, back_mm: float) -> float:
        """Height of the finished ground at a distance from the front."""
        share = min(1.0, max(0.0, back_mm / self.inside.depth_mm))
        return sum(bed.front_mm + (bed.back_mm - bed.front_mm) * share for bed in self.beds)

    def with_roles(self, *roles: str) -> tuple[Part, ...]:
        """The parts that do one of these jobs, in parts list order."""
        return tuple(part for part in self.parts if part.role in roles)

    def as_json(self) -> dict[str, Any]:
        """The scene as JSON values."""
        return {key: [*value] if isinstance(value, tuple) else value for key, value in asdict(self).items()}


def from_json(data: Mapping[str, Any]) -> Scene:
    """The scene that `as_json` wrote, also after a round through a JSON column."""
    return Scene(
        inside=Inside(**data["inside"]),
        beds=tuple(Bed(**bed) for bed in data["beds"]),
        seats=tuple(Seat(**seat) for seat in data["seats"]),
        parts=tuple(Part(**part) for part in data["parts"]),
        units=data["units"],
        water_mm=data["water_mm"],
    )
