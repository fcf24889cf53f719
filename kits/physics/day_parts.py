"""What a simulated day is made of: the box, the room around it, lamps, a heater and a mister."""

from dataclasses import dataclass

from inventory.calc.checks import not_negative, positive, within
from inventory.calc.errors import Impossible
from kits.physics.checks import percent, share

DAY_H = 24.0
# A change over less than this is a jump for people and a kink for the numbers.
SHORTEST_RAMP_H = 0.25
COLDEST_C, HOTTEST_C = -40.0, 80.0
# Surface resistances indoors, heat going up and down: ISO 6946 (from memory).
FACE_UP_M2K_W = 0.10
FACE_DOWN_M2K_W = 0.17
GLASS_J_KG_K = 720.0
# Moist soil: heat of a litre, conductivity, greatest and least share of water; estimates.
SOIL_J_L_K = 2000.0
SOIL_W_MK = 0.5
SOIL_HOLDS = 0.45
SOIL_DRY = 0.10
RESERVOIR_MM = 10.0
# Litter halves the evaporation of wet soil: two weighing studies of mulch and litter (abstracts).
LITTER_FACTOR = 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Enclosure:
    """A box with a lump of walls, a lump of soil and a small lump of air, as areas, resistances and stores.

    The heat of the walls sits in the middle of their panes. The top is a film without heat of its own: for a
    mesh top 5 W/m2K is an engineering choice without a source. Air changes are volumes of inside air an hour;
    with buoyancy they are air_changes_h + buoyant_changes_h x |inside - room|^buoyancy_exponent, rounded off
    below a difference of 0.1 K.
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
        liveable(day_c=self.day_c, night_c=self.night_c)
        percent(day_pct=self.day_pct, night_pct=self.night_pct)
        length = span_h(self.day_from_h, self.day_until_h)
        longest = max(SHORTEST_RAMP_H, min(length, DAY_H - length))
        within(SHORTEST_RAMP_H, longest, ramp_h=self.ramp_h)


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
        share(soil_share=self.soil_share)
        liveable(day_c=self.day_c, night_c=self.night_c)


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
        percent(air_pct=self.air_pct)
        if self.air_c is not None:
            liveable(air_c=self.air_c)


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


def box_of(
    size_m: tuple[float, float, float],
    *,
    u_w_m2k: tuple[float, float, float],
    air_changes_h: float,
    soil_depth_m: float,
    leaf_area_m2: float = 0.0,
    wall_kg_m2: float = 10.0,
    wall_j_kgk: float = GLASS_J_KG_K,
) -> Enclosure:
    """An enclosure from its sides (width, depth, height) and the U-values of walls, top and floor in a room.

    Formula:
        half of a wall's resistance lies on each side of its heat; soil holds 0.45 of its volume in water,
        0.10 when dry; the reservoir is 10 mm of water; litter halves the evaporation of the soil
    Args:
        size_m: width, depth, height inside [m]
        u_w_m2k: U-values with both faces indoors [W/m2K]
        air_changes_h: volumes of air an hour [1/h]
        soil_depth_m: mean depth of the soil [m]
        leaf_area_m2: area of the leaves, one side [m2]
        wall_kg_m2: mass of a square metre of wall, 10 for 4 mm glass [kg/m2]
        wall_j_kgk: heat that a kilogram of wall keeps for each kelvin [J/kgK]
    Returns:
        the enclosure, every figure open to `dataclasses.replace`
    Raises:
        Impossible: a side, a U-value, a depth or a mass not above zero
    Valid:
        glass or board; the shares of water, the heat of moist soil (2 MJ/m3K), its conductivity (0.5 W/mK)
        and the reservoir are estimates
    Source:
        ISO 6946 for the faces (from memory); 720 J/kgK for glass, EN 572-1 (from memory)
    """
    width_m, depth_m, height_m = size_m
    wall_u, top_u, floor_u = u_w_m2k
    positive(width_m=width_m, depth_m=depth_m, height_m=height_m, soil_depth_m=soil_depth_m)
    positive(wall_u=wall_u, top_u=top_u, floor_u=floor_u)
    positive(wall_kg_m2=wall_kg_m2, wall_j_kgk=wall_j_kgk)
    if soil_depth_m >= height_m:
        raise Impossible("soil_depth_m", "must be less than the height")
    floor_m2, wall_m2 = width_m * depth_m, 2 * (width_m + depth_m) * height_m
    soil_l = 1000 * floor_m2 * soil_depth_m
    half_soil_m2k_w = soil_depth_m / 2 / SOIL_W_MK
    return Enclosure(
        volume_m3=floor_m2 * (height_m - soil_depth_m),
        wall_area_m2=wall_m2,
        inside_film_m2k_w=0.5 / wall_u,
        pane_m2k_w=0.0,
        outside_film_m2k_w=0.5 / wall_u,
        wall_capacity_j_k=wall_m2 * wall_kg_m2 * wall_j_kgk,
        top_area_m2=floor_m2,
        top_u_w_m2k=top_u,
        floor_area_m2=floor_m2,
        floor_u_w_m2k=1 / (max(0.0, 1 / floor_u - FACE_DOWN_M2K_W) + half_soil_m2k_w),
        soil_film_m2k_w=FACE_UP_M2K_W + half_soil_m2k_w,
        soil_capacity_j_k=soil_l * SOIL_J_L_K,
        container_capacity_l=soil_l * SOIL_HOLDS,
        dry_limit_l=soil_l * SOIL_DRY,
        reservoir_capacity_l=floor_m2 * RESERVOIR_MM,
        air_changes_h=air_changes_h,
        leaf_area_m2=leaf_area_m2,
        evaporation_factor=LITTER_FACTOR,
    )


def liveable(**celsius: float) -> None:
    """Refuse temperatures that no room, thermostat or box has."""
    within(COLDEST_C, HOTTEST_C, **celsius)


def span_h(from_h: float, until_h: float) -> float:
    """Hours from one hour of the clock to another, across midnight where needed; 0 to 24 is the whole day."""
    if not (0 <= from_h < DAY_H and 0 <= until_h <= DAY_H) or from_h == until_h:
        raise Impossible(
            "until_h", "must be another hour of the day than the first; 0 to 24 is the whole day"
        )
    return until_h - from_h if until_h > from_h else until_h - from_h + DAY_H


def _above_zero(part: object, *names: str) -> None:
    positive(**{name: getattr(part, name) for name in names})


def _not_negative(part: object, *names: str) -> None:
    not_negative(**{name: getattr(part, name) for name in names})
