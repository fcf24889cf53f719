"""What a simulated day is made of: the box, the room around it, lamps, a heater and a mister."""

import math
from dataclasses import dataclass

from inventory.calc.errors import Impossible

DAY_H = 24.0
# A change over less than this is a jump for people and a kink for the numbers.
SHORTEST_RAMP_H = 0.25


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosure:
    """A box with a lump of walls, a lump of soil and a small lump of air, as areas, resistances and stores.

    The heat of the walls sits in the middle of their panes. The top is a film without heat of its own: for a
    mesh top 5 W/m2K is an engineering choice without a source. Air changes are volumes of inside air an hour;
    with buoyancy they are air_changes_h + buoyant_changes_h x |inside - room|^buoyancy_exponent.
    """

    volume_m3: float
    wall_area_m2: float
    pane_m2k_w: float
    wall_capacity_j_k: float
    top_area_m2: float
    top_u_w_m2k: float
    floor_area_m2: float
    floor_u_w_m2k: float
    soil_capacity_j_k: float
    container_capacity_l: float
    dry_limit_l: float
    reservoir_capacity_l: float
    air_changes_h: float
    leaf_area_m2: float = 0.0
    inside_film_m2k_w: float = 0.13
    outside_film_m2k_w: float = 0.13
    soil_film_m2k_w: float = 0.15
    evaporation_factor: float = 1.0
    buoyant_changes_h: float = 0.0
    buoyancy_exponent: float = 0.5

    def __post_init__(self) -> None:
        _above_zero(
            self, "volume_m3", "wall_area_m2", "wall_capacity_j_k", "floor_area_m2", "soil_capacity_j_k",
            "inside_film_m2k_w", "outside_film_m2k_w", "soil_film_m2k_w", "buoyancy_exponent",
        )  # fmt: skip
        _not_negative(
            self, "pane_m2k_w", "top_area_m2", "top_u_w_m2k", "floor_u_w_m2k", "container_capacity_l",
            "dry_limit_l", "reservoir_capacity_l", "air_changes_h", "leaf_area_m2", "evaporation_factor",
            "buoyant_changes_h",
        )  # fmt: skip
        if self.dry_limit_l > self.container_capacity_l:
            raise Impossible("dry_limit_l", "must not exceed the container capacity")


@dataclass(frozen=True, slots=True, kw_only=True)
class RoomDay:
    """The room by day and by night, with a smooth change that begins at each of the two hours."""

    day_c: float
    night_c: float
    day_pct: float
    night_pct: float
    day_from_h: float = 7.0
    day_until_h: float = 21.0
    ramp_h: float = 2.0

    def __post_init__(self) -> None:
        for name in ("day_c", "night_c"):
            _within(self, name, -40, 80)
        for name in ("day_pct", "night_pct"):
            _within(self, name, 0, 100)
        length = span_h(self.day_from_h, self.day_until_h)
        _within(self, "ramp_h", SHORTEST_RAMP_H, max(SHORTEST_RAMP_H, min(length, DAY_H - length)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """A lamp on a timer. What the three shares leave of its watts goes straight to the room.

    soil_share is the radiation that ends on soil and hardscape, air_share the warm air that stays inside.
    leaf_klux is the light at the leaves while it is on: it opens them.
    """

    watts: float
    from_h: float
    until_h: float
    soil_share: float
    air_share: float
    glass_share: float = 0.0
    leaf_klux: float = 0.0

    def __post_init__(self) -> None:
        span_h(self.from_h, self.until_h)
        _not_negative(self, "watts", "leaf_klux", "soil_share", "air_share", "glass_share")
        if self.soil_share + self.air_share + self.glass_share > 1 + 1e-9:
            raise Impossible("soil_share", "must not add up to more than the whole with the other shares")


@dataclass(frozen=True, slots=True, kw_only=True)
class Heater:
    """A heater whose duty falls in proportion from full to nothing across a band around its target.

    The probe follows the air with a first-order lag. The heat that does not go to the soil goes to the air.
    """

    watts: float
    day_c: float
    night_c: float
    day_from_h: float = 7.0
    day_until_h: float = 19.0
    band_k: float = 1.0
    probe_lag_s: float = 180.0
    soil_share: float = 0.0

    def __post_init__(self) -> None:
        span_h(self.day_from_h, self.day_until_h)
        _not_negative(self, "watts")
        _above_zero(self, "band_k", "probe_lag_s")
        _within(self, "soil_share", 0, 1)
        for name in ("day_c", "night_c"):
            _within(self, name, -40, 80)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mister:
    """Water sprayed at fixed hours: a share hangs as drops, a share drains at once, the rest wets the soil.

    A drained share of 30 to 60 % is common practice without a source.
    """

    litres_per_event: float
    times_h: tuple[float, ...]
    evaporating_share: float = 0.55
    drain_share: float = 0.45

    def __post_init__(self) -> None:
        _not_negative(self, "litres_per_event", "evaporating_share", "drain_share")
        if self.evaporating_share + self.drain_share > 1 + 1e-9:
            raise Impossible("drain_share", "must not exceed the whole with the evaporating share")
        if not all(0 <= hour < DAY_H for hour in self.times_h):
            raise Impossible("times_h", "must lie from 0 to below 24")


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """Water in the box at midnight. Without a temperature the box has stood through days like this one."""

    soil_water_l: float
    reservoir_l: float = 0.0
    air_c: float | None = None
    air_pct: float = 50.0

    def __post_init__(self) -> None:
        _not_negative(self, "soil_water_l", "reservoir_l")
        _within(self, "air_pct", 0, 100)
        if self.air_c is not None:
            _within(self, "air_c", -40, 80)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bands:
    """What the animals want by day and by night; the day of the bands begins and ends with its hours."""

    day_c: tuple[float, float]
    night_c: tuple[float, float]
    day_pct: tuple[float, float]
    night_pct: tuple[float, float]
    day_from_h: float = 7.0
    day_until_h: float = 19.0

    def __post_init__(self) -> None:
        span_h(self.day_from_h, self.day_until_h)
        for name in ("day_c", "night_c", "day_pct", "night_pct"):
            low, high = getattr(self, name)
            if not low <= high:
                raise Impossible(name, "must run from low to high")


def span_h(from_h: float, until_h: float) -> float:
    """Hours from one hour of the clock to another, across midnight where needed; 0 to 24 is the whole day."""
    if not (0 <= from_h < DAY_H and 0 <= until_h <= DAY_H) or from_h == until_h:
        raise Impossible(
            "until_h", "must be another hour of the day than the first; 0 to 24 is the whole day"
        )
    return until_h - from_h if until_h > from_h else until_h - from_h + DAY_H


def _above_zero(part: object, *names: str) -> None:
    for name in names:
        if not 0 < getattr(part, name) < math.inf:
            raise Impossible(name, "must be above zero")


def _not_negative(part: object, *names: str) -> None:
    for name in names:
        if not 0 <= getattr(part, name) < math.inf:
            raise Impossible(name, "must not be negative")


def _within(part: object, name: str, low: float, high: float) -> None:
    if not low <= getattr(part, name) <= high:
        raise Impossible(name, f"must lie from {low:g} to {high:g}")
