"""The figures of a plan, each with its working; nothing is worked out from a rounded figure."""

from collections.abc import Iterator
from decimal import ROUND_HALF_UP, Decimal

from kits.effects.season import mean_h
from kits.physics.geometry import footprint_m2, layer_l, poured_l
from kits.physics.power import energy_kwh
from kits.physics.weight import floor_load_kg_m2
from kits.planning.effect_figures import effects, running_shares
from kits.planning.kit import Kit
from kits.planning.masses import goods_kg, installed_kg, masses_kg, outer_m, shipping_kg
from kits.planning.warm_days import day_air
from kits.planning.worked import tidy, worked
from kits.terms.build import Build
from kits.terms.conditions import SETTLE, SETTLE_SOURCE
from kits.terms.plan import Working
from kits.terms.reading import number

PUBLISHED = frozenset(
    (
        *("footprint_m2", "drainage_l", "substrate_l", "litter_l", "drainage_to_buy_l", "substrate_to_buy_l"),
        *("litter_to_buy_l", "mesh_mm", "reservoir_l", "container_capacity_pct", "air_space_pct"),
        *("first_watering_l", "siphon_days", "misting_l_day", "uvi_at_basking", "uvi_maximum_reachable"),
        *("air_changes_h", "vapour_pressure_deficit_pa"),
        *("uvi_at_replacement", "uvi_closest_safe_m", "keeper_limit_min"),
        *("lit_hours_by_month", "day_length_shortest_h", "day_length_longest_h"),
        *("dli_floor_longest", "dli_middle_longest", "dli_top_longest"),
        *("dli_floor", "dli_middle", "dli_top", "heat_loss_w_k", "heat_needed_w", "basking_surface_c"),
        *("day_air_c", "room_most_c"),
        *("power_w", "installed_kg", "floor_load_kg_m2", "shipping_kg", "running_cost_month"),
    )
)
DAYS_A_MONTH = 365 / 12
# Hours a day at full power; a thermostat or dimmer makes it less. Common practice, no source.
HOURS = {"night_heat": 12.0, "mister": 0.1}
BASKING_LESS_H = 2.0  # the hot lamp is on in the middle of the day
ALWAYS_ON = 24.0


def work_out(kit: Kit, *, perches_given: bool) -> tuple[Working, ...]:
    """Every figure that applies to this kit."""
    found = [
        *_geometry(kit),
        *_to_buy(kit),
        *_mesh(kit),
        *_perches(kit, given=perches_given),
        *_masses(kit),
        *_power(kit),
        *effects(kit),
        *day_air(kit),
    ]
    return tuple(found)


def published(found: tuple[Working, ...]) -> dict[str, object]:
    """The figures of the published interface."""
    return {working.figure: working.value for working in found if working.figure in PUBLISHED}


def _geometry(kit: Kit) -> Iterator[Working]:
    box = kit.build.box
    floor = {"width_m": box.width_mm / 1000, "depth_m": box.depth_mm / 1000}
    yield worked("footprint_m2", footprint_m2, floor, "inside, where soil and animals are")
    for name, layer in kit.build.layers.items():
        depths = {"front_m": layer.front_mm / 1000, "back_m": layer.back_mm / 1000}
        note = (
            "depth as asked for" if layer.explicit else "depth worked out from style, animal, sill and height"
        )
        yield worked(f"{name}_l", layer_l, {**floor, **depths}, note)


def _to_buy(kit: Kit) -> Iterator[Working]:
    """Poured litres: settled litres, less hardscape in the soil, and what settles."""
    for role in ("drainage", "substrate", "litter"):
        if kit.need_litres(role) is None:
            continue
        settle, whose = _settle(kit, role)
        displaced = kit.build.displaced_l if role == "substrate" else 0.0
        inputs = {"settled_l": kit.build.layer_l(role), "settle": settle, "displaced_l": displaced}
        yield worked(f"{role}_to_buy_l", poured_l, inputs, f"settling: {whose}")


def _settle(kit: Kit, role: str) -> tuple[float, str]:
    """The chosen product's own settling, else the default of the role."""
    figures = next((figures for figures, _ in kit.chosen(role)), {})
    own = number(figures, "settle")
    return (
        (SETTLE[role], SETTLE_SOURCE)
        if own is None
        else (own, "the product's own figure; estimate, measure it")
    )


def _mesh(kit: Kit) -> Iterator[Working]:
    build = kit.build
    if build.layer_l("drainage") <= 0 or build.layer_l("substrate") <= 0:
        return
    cut = [_whole(build.box.width_mm), _whole(build.box.depth_mm)]
    yield Working(
        "mesh_mm",
        "inside width x depth",
        {"width_mm": cut[0], "depth_mm": cut[1]},
        cut,
        "mm",
        "the barrier covers the whole floor",
    )


def _whole(value: float) -> int | float:
    return int(value) if value == int(value) else tidy(value)


def _perches(kit: Kit, *, given: bool) -> Iterator[Working]:
    for perch in kit.build.perches:
        source = (
            "the spec" if given else "default: 60 % (climbers) or 15 % of the air; common practice, no source"
        )
        at = [_whole(perch.height_mm), _whole(perch.back_mm)]
        yield Working("perch_mm", "height above the floor, distance from the front", {}, at, "mm", source)


def _masses(kit: Kit) -> Iterator[Working]:
    parts = masses_kg(kit)
    source = (
        "glass 2500 kg/m3; soil by its recipe with the water it holds, else wet soil 0.9, drainage 0.5, "
        "litter 0.05 kg/L; estimates; goods as weighed"
    )
    inputs = {part: tidy(mass) for part, mass in parts.items()}
    yield Working("installed_kg", "sum of the parts in place", inputs, tidy(installed_kg(kit)), "kg", source)
    width_m, depth_m, _ = outer_m(kit.build.box)
    stands_on = {"mass_kg": installed_kg(kit), "width_m": width_m, "depth_m": depth_m}
    outside = "by its outside, walls included; footprint_m2 is the floor inside"
    yield worked("floor_load_kg_m2", floor_load_kg_m2, stands_on, outside)
    shipped, unweighed = shipping_kg(kit)
    if shipped > 0:
        note = f"No mass is recorded for {', '.join(unweighed)}." if unweighed else ""
        formula = "sum of pieces x mass, without packing"
        yield Working(
            "shipping_kg",
            formula,
            goods_kg(kit),
            tidy(shipped),
            "kg",
            "masses of the items",
            not unweighed,
            note,
        )


def _hours(build: Build, role: str) -> float:
    """Hours a day of a load, on the mean of the year where the lamps follow the seasons."""
    lamps = {"uvb_lamp": 0.0, "plant_light": 0.0, "basking_lamp": BASKING_LESS_H}
    return mean_h(build) - lamps[role] if role in lamps else HOURS.get(role, ALWAYS_ON)


def _power(kit: Kit) -> Iterator[Working]:
    loads: dict[str, float] = {}
    for role, watts in kit.loads():
        loads[role] = loads.get(role, 0.0) + watts
    if not loads:
        return
    yield Working(
        "power_w", "sum of rated watts", dict(loads), tidy(sum(loads.values())), "W", "ratings of the items"
    )
    shares = running_shares(kit)
    hours = {role: _hours(kit.build, role) for role in loads}
    kwh = sum(
        energy_kwh(watts * shares.get(role, 1.0), hours[role], DAYS_A_MONTH) for role, watts in loads.items()
    )
    price = kit.terms.electricity_per_kwh
    cost = (Decimal(repr(kwh)) * Decimal(str(price))).quantize(Decimal("0.01"), ROUND_HALF_UP)
    running = {f"{role}_running_share": tidy(share) for role, share in shares.items()}
    yield Working(
        figure="running_cost_month",
        formula="sum of watts x running share x hours a day x 30.4 days / 1000 x price",
        inputs={
            **{f"{role}_h_day": tidy(lit) for role, lit in hours.items()},
            **running,
            "kwh_month": tidy(kwh),
            "price_per_kwh": price,
        },
        value=str(cost),
        unit=kit.terms.currency,
        source=(
            "hours are common practice, no source; the price is the house's; a heater's share is that of "
            "the worst night, so an upper figure"
        ),
    )
