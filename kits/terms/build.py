"""The build: a spec with every gap filled, in millimetres, litres and degrees Celsius."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from kits.terms.facts import Subject


@dataclass(frozen=True, slots=True)
class Vent:
    """A slot in the front, below the doors, that lets the room's air in."""

    width_mm: float
    height_mm: float
    open_fraction: float

    @property
    def area_m2(self) -> float:
        """Of the whole slot, in square metres."""
        return self.width_mm * self.height_mm / 1e6


@dataclass(frozen=True, slots=True)
class Box:
    """The inside of an enclosure and what it is made of."""

    width_mm: float
    depth_mm: float
    height_mm: float
    sill_mm: float
    wall_material: str  # a word of kits.physics.walls
    wall_thickness_mm: float
    top_kind: str  # mesh, glass, solid or open
    top_open_fraction: float
    size_code: str = ""  # empty for an enclosure measured by its owner
    covered_share: float | None = None  # of a mesh top, as asked for; None where the plan decides
    air_changes_h: float | None = None  # measured with the whole top open; None where nobody has
    front_vent: Vent | None = None  # None where none is known

    @property
    def footprint_m2(self) -> float:
        """Inside floor area in square metres."""
        return self.width_mm * self.depth_mm / 1e6


@dataclass(frozen=True, slots=True)
class Room:
    """The room at its usual day and its worst night, and on its warmest day where that is known."""

    temperature_c: float
    night_temperature_c: float
    relative_humidity_pct: float
    warmest_day_c: float | None = None  # of the year, where the customer says so

    @property
    def warmest_c(self) -> float:
        """The room on the warmest day that is known of."""
        return self.temperature_c if self.warmest_day_c is None else self.warmest_day_c


@dataclass(frozen=True, slots=True)
class Occupant:
    """Animals of one species, stage and sex."""

    subject: Subject
    count: int
    stage: str
    sex: str


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer in place: depths at front and back, and its settled volume before hardscape."""

    name: str  # drainage, substrate or litter
    front_mm: float
    back_mm: float
    litres: float
    explicit: bool  # the customer asked for this depth


@dataclass(frozen=True, slots=True)
class Perch:
    """A place where an animal sits: height above the floor of the box and distance from the front."""

    height_mm: float
    back_mm: float


@dataclass(frozen=True, slots=True)
class Climate:
    """The band that suits every occupant; a missing bound is None."""

    day_lo_c: float | None = None
    day_hi_c: float | None = None
    night_lo_c: float | None = None
    night_hi_c: float | None = None
    bask_lo_c: float | None = None
    bask_hi_c: float | None = None
    humidity_lo_pct: float | None = None
    humidity_hi_pct: float | None = None
    uv_zone_lo: int | None = None
    uv_zone_hi: int | None = None


@dataclass(frozen=True, slots=True)
class Build:
    """Everything that requirements are worked out from; immutable and free of stock."""

    box: Box
    room: Room
    style: Subject
    occupants: tuple[Occupant, ...]
    climate: Climate
    layers: Mapping[str, Layer]
    perches: tuple[Perch, ...]
    planting: str
    units: str
    owned: Mapping[str, Mapping[str, object]]  # role -> figures of what the customer has
    without: frozenset[str]
    plants: Mapping[str, Subject]  # facts that plant and crew roles choose from
    cleanup: Mapping[str, Subject]
    media: Mapping[str, Subject] = field(default_factory=dict)  # what soils and their ingredients hold
    mixes: Mapping[str, Subject] = field(default_factory=dict)  # the house's recipes
    displaced_l: float = 0.0  # volume of the chosen hardscape that stands in the substrate
    planted: tuple[Subject, ...] = ()  # the species that were chosen, for the lamp that must light them
    latitude_deg: float | None = None  # whose seasons the lamps follow; None for the same hours all year
    unmet: frozenset[str] = frozenset()  # lamps and heaters that nothing known here can do
    timed: tuple[tuple[str, float], ...] = ()  # role and watts of each plug of the chosen lamps, 0 unknown

    def goes_without(self, role: str) -> bool:
        """Whether nothing fills this role, by wish or for want of an item: nothing is bought to carry it."""
        return role in self.without or role in self.unmet

    def layer_l(self, name: str) -> float:
        """Settled litres of a layer, 0 where the build has none."""
        layer = self.layers.get(name)
        return 0.0 if layer is None else layer.litres

    def surface_mm(self) -> tuple[float, float]:
        """Height of the finished ground at front and back, litter included."""
        layers = self.layers.values()
        return sum(layer.front_mm for layer in layers), sum(layer.back_mm for layer in layers)
