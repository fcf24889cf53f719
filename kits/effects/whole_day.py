"""The simulated day of one build with what stands in it: temperatures, humidity, water by the minute."""

from dataclasses import dataclass, replace

from kits.effects import airing, moisture, soil, warmth
from kits.effects.maps import Equipment
from kits.effects.places import CLOSED_TOPS, light_share
from kits.physics.day import simulate
from kits.physics.day_curve import BandCheck, DayCurve
from kits.physics.day_parts import Bands, Enclosure, Heater, Lamp, Mister, RoomDay, Start, box_of
from kits.physics.day_schedule import Schedule
from kits.physics.walls import wall
from kits.terms.build import Build
from kits.terms.conditions import humid, humidity_pct
from kits.terms.needs import Figures
from kits.terms.reading import positive

# Hours of the clock; common practice, no source: twelve hours of light, the basking lamp a little less,
# the spray at the first light and before the last.
LIGHT_H = (8.0, 20.0)
BASKING_H = (9.0, 19.0)
MIST_H = (8.5, 19.5)
# Leaves on a square metre of floor [m2]; estimate.
LEAF_AREA = {"none": 0.0, "sparse": 0.5, "moderate": 1.0, "dense": 2.0}
LEAF_KLUX = 5.0  # at the leaves while the lamps are on; estimate
WET_START, DRY_START = 0.8, 0.05  # of what the soil can hold, in humid and in dry builds; estimates
LEAST_SOIL_M = 0.01
# Of a lit tube or bar on a mesh top: warm air that comes in, light and heat that go down; estimates.
TUBE_AIR, TUBE_SOIL = 0.1, 0.2
HOT_BEAM = 0.6  # of a hot lamp below a closed top goes down, the rest warms the air; estimate
HOT_AIR = 0.2  # of what a lamp on a mesh does not send down; estimate
COLDEST_C, WARMEST_C = 0.0, 50.0
BAND_K = 1.0  # from full power to none of a proportional thermostat; estimate
DAY_MIN = 24 * 60
FEW_DAYS, LONG_REPORT_MIN = 2, 30.0  # more days than these are told by the half hour
SETTLED_K = 0.1  # a day that ends so near to where it began repeats itself


@dataclass(frozen=True, slots=True)
class WholeDay:
    """The curve and how it lies against the bands of the animals."""

    curve: DayCurve
    bands: Bands
    checks: tuple[BandCheck, ...]
    lamp_hours: tuple[tuple[str, float, float], ...]  # role, from, until
    mist_hours: tuple[float, ...]
    soil_holds_l: float

    @property
    def settled(self) -> bool:
        """Whether the first day ends as warm as it began, so that nothing of its run-in is judged."""
        ends = int(self.curve.minutes.searchsorted(DAY_MIN))
        shifts = (abs(values[ends] - values[0]) for values in (self.curve.air_c, self.curve.soil_c))
        return bool(max(shifts) <= SETTLED_K)


def whole_day(build: Build, equipment: Equipment, *, days: int = 1) -> WholeDay:
    """A day (or several) as the plan sets lamps, heater and mister. An estimate for comparing settings.

    It begins after days of the same kind, so that bands are held against a day that repeats itself.
    """
    box, lamps = _enclosure(build, equipment), _lamps(build, equipment)
    mister = _mister(build, equipment)
    schedule = Schedule(
        room=_room(build),
        lamps=tuple(lamp for _, lamp in lamps),
        heater=_heater(build, equipment),
        mister=mister,
    )
    wet = WET_START if humid(build) else DRY_START
    start = Start(
        soil_water_l=box.dry_limit_l + wet * (box.container_capacity_l - box.dry_limit_l),
    )
    report_min = 1.0 if days <= FEW_DAYS else LONG_REPORT_MIN
    curve = simulate(box, schedule=schedule, start=start, days=days, report_min=report_min)
    bands = _bands(build)
    return WholeDay(
        curve=curve,
        bands=bands,
        checks=curve.against(bands),
        lamp_hours=tuple((role, lamp.from_h, lamp.until_h) for role, lamp in lamps),
        mist_hours=mister.times_h if mister else (),
        soil_holds_l=box.container_capacity_l,
    )


def _enclosure(build: Build, equipment: Equipment) -> Enclosure:
    sides, made_of = build.box, wall(build.box.wall_material)
    loss = warmth.loss_inputs(build, 0.0)
    depth_m = max(build.layer_l("substrate") / 1000 / sides.footprint_m2, LEAST_SOIL_M)
    air_c, room_c = airing.warm_air_c(build), build.room.temperature_c
    box = box_of(
        (sides.width_mm / 1000, sides.depth_mm / 1000, sides.height_mm / 1000),
        u_w_m2k=(loss["wall_u"], loss["top_u"], loss["floor_u"]),
        air_changes_h=airing.air_changes_h(build, air_c, room_c),
        soil_depth_m=min(depth_m, 0.9 * sides.height_mm / 1000),
        leaf_area_m2=LEAF_AREA[build.planting] * sides.footprint_m2,
        wall_kg_m2=made_of.density_kg_m3 * sides.wall_thickness_mm / 1000,
        wall_j_kgk=made_of.heat_j_kgk,
    )
    earth = next(iter(equipment.get("substrate", ())), None)
    holds = soil.soil(build, earth) if earth is not None else None
    if holds is None:
        return box
    return replace(
        box, container_capacity_l=max(holds.water * build.layer_l("substrate"), box.dry_limit_l + 0.01)
    )


def _lamps(build: Build, equipment: Equipment) -> list[tuple[str, Lamp]]:
    found = []
    for role in ("uvb_lamp", "plant_light"):
        watts = sum(positive(figures, "watts") or 0.0 for figures in equipment.get(role, ()))
        if watts > 0:
            found.append((role, _cool_lamp(build, watts)))
    hot = next(iter(equipment.get("basking_lamp", ())), None)
    if hot is not None:
        found.append(("basking_lamp", _hot_lamp(build, hot)))
    return found


def _cool_lamp(build: Build, watts: float) -> Lamp:
    return Lamp(
        watts=watts, soil_share=TUBE_SOIL * light_share(build), air_share=TUBE_AIR, leaf_klux=LEAF_KLUX,
        from_h=LIGHT_H[0], until_h=LIGHT_H[1],
    )  # fmt: skip


def _hot_lamp(build: Build, figures: Figures) -> Lamp:
    """The basking lamp at the share of its power that it is set to."""
    place = warmth.basking_place(build)
    full = warmth.beam(place, figures) if place else None
    share = warmth.set_share(place, full) if place and full else 1.0
    watts = (positive(figures, "watts") or 0.0) * share
    down = min(1.0, warmth.enters_w(build, figures) / max(positive(figures, "watts") or 0.0, 1e-9))
    closed = build.box.top_kind in CLOSED_TOPS
    soil_share = HOT_BEAM if closed else down
    return Lamp(
        watts=watts, soil_share=soil_share, air_share=1 - soil_share if closed else HOT_AIR * (1 - down),
        from_h=BASKING_H[0], until_h=BASKING_H[1],
    )  # fmt: skip


def _heater(build: Build, equipment: Equipment) -> Heater | None:
    watts = sum(positive(figures, "watts") or 0.0 for figures in equipment.get("night_heat", ()))
    low = build.climate.night_lo_c
    if watts <= 0 or low is None:
        return None
    # A thermostat gives full power at the foot of its band, which must not lie below the coldest night.
    target = low + BAND_K / 2
    return Heater(watts=watts, day_c=target, night_c=target, band_k=BAND_K)


def _mister(build: Build, equipment: Equipment) -> Mister | None:
    litres = moisture.sprayed_l_day(build) if equipment.get("mister") else 0.0
    if litres <= 0:
        return None
    return Mister(
        litres_per_event=litres / len(MIST_H), times_h=MIST_H,
        evaporating_share=1 - moisture.DRAINS_SHARE, drain_share=moisture.DRAINS_SHARE,
    )  # fmt: skip


def _room(build: Build) -> RoomDay:
    room = build.room
    return RoomDay(
        day_c=room.temperature_c, night_c=room.night_temperature_c,
        day_pct=room.relative_humidity_pct, night_pct=room.relative_humidity_pct,
    )  # fmt: skip


def _bands(build: Build) -> Bands:
    climate, (low, high) = build.climate, humidity_pct(build)
    moist = (0.0 if low is None else low, 100.0 if high is None else high)
    return Bands(
        day_c=_band(climate.day_lo_c, climate.day_hi_c),
        night_c=_band(climate.night_lo_c, climate.night_hi_c),
        day_pct=moist, night_pct=moist, day_from_h=LIGHT_H[0], day_until_h=LIGHT_H[1],
    )  # fmt: skip


def _band(low: float | None, high: float | None) -> tuple[float, float]:
    """An open side reaches as far as any air in a house."""
    return (COLDEST_C if low is None else low, WARMEST_C if high is None else high)
