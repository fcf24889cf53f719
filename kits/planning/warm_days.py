"""The air of the day with every lamp on: how warm it becomes, what is too warm, what to change."""

from collections.abc import Iterator

from kits.effects.airing import air_changes_h, exchange_inputs, open_share
from kits.effects.day_air import COLDEST_ROOM_C, basking_share, day_air_c, lamp_heat_w, loss_at, room_for
from kits.effects.places import CLOSED_TOPS
from kits.effects.warmth import loss_inputs
from kits.physics import heat, warming
from kits.planning.kit import Kit
from kits.planning.worked import worked
from kits.terms.conditions import amphibians, day_gap_k, wants_basking
from kits.terms.needs import Figures
from kits.terms.plan import Caution, Working
from kits.terms.rounding import figure, rounded

WARM_ROLES = ("uvb_lamp", "plant_light", "basking_lamp", "night_heat")
DAY_TOLERANCE_K = 1.5  # of an estimate, where lamps and heaters are too weak
LIVABLE_C = 18.0  # no colder room is proposed; common sense, no source
SUMMER_K = 4.0  # a room is easily so much warmer than usual on a summer day; common sense, no source
SPOKEN = {"uvb_lamp": "UVB lamp"}


def day_air(kit: Kit) -> Iterator[Working]:
    """The air on the room's warmest day with all lamps on, and the warmest room that animals stand then."""
    build, equipment, room_c = kit.build, _equipment(kit), kit.build.room.warmest_c
    brought = lamp_heat_w(build, equipment, room_c)
    heat_w = sum(brought.values())
    if heat_w <= 0:
        return
    loss = loss_at(build, room_c, heat_w)
    inside_c = warming.steady_air_c(room_c, heat_w, loss)
    losing = loss_inputs(build, air_changes_h(build, inside_c, room_c))
    before = [*exchange_inputs(build, inside_c, room_c), (heat.enclosure_loss_w_k, losing)]
    dimmed = f", the basking lamp at {basking_share(build, equipment, room_c):.0%} of its power"
    all_on = f"all lamps on{dimmed if 'basking_lamp' in brought else ''}: {_by_lamp(brought)}"
    doubt = "estimate by shares of the watts that stay in the box: measure it"
    inputs = {"room_c": room_c, "heat_w": heat_w, "loss_w_k": loss}
    note = "; ".join(filter(None, (_which(kit), all_on, _wanted(kit), doubt)))
    yield worked("day_air_c", warming.steady_air_c, inputs, note, before=before)
    if (most := build.climate.day_hi_c) is not None:
        inputs = room_for(build, equipment, most)
        if warming.warmest_room_c(**inputs) < COLDEST_ROOM_C:
            return  # no room on earth: the air that the lamps make tells it
        note = f"the animals stand at most {most:g} C by day; all lamps on; {doubt}"
        yield worked("room_most_c", warming.warmest_room_c, inputs, note, before=before)


def _wanted(kit: Kit) -> str:
    """The day air that suits the animals, as far as it is known."""
    low, most = kit.build.climate.day_lo_c, kit.build.climate.day_hi_c
    if most is None:
        return ""
    return f"wanted at most {most:g} C" if low is None else f"wanted {low:g} to {most:g} C"


def _which(kit: Kit) -> str:
    known = kit.build.room.warmest_day_c is not None
    return "on the room's warmest day" if known else "in the room's usual day; no warmest day is given"


def _by_lamp(brought: dict[str, float]) -> str:
    each = sorted(brought.items(), key=lambda pair: -pair[1])
    return ", ".join(
        f"{SPOKEN.get(role, role.replace('_', ' '))} {rounded(watts, 1)} W" for role, watts in each
    )


def warm_days(kit: Kit) -> Iterator[Caution]:
    """Where lamps and heaters cannot hold the air of the day, or overheat it."""
    yield from _cold(kit)
    yield from _too_cold(kit)
    yield from _too_warm(kit)


def _cold(kit: Kit) -> Iterator[Caution]:
    """Amphibians get no hot lamp for a cold room; the gap is told instead."""
    gap = day_gap_k(kit.build)
    if gap and amphibians(kit.build) and not wants_basking(kit.build):
        text = (
            f"By day the room is {gap:g} K colder than these animals want it. A hot lamp would dry them out: "
            "warm the room, or the box gently through a thermostat, and ask a vet first."
        )
        yield Caution("warning", "day_temperature", text)


def _too_cold(kit: Kit) -> Iterator[Caution]:
    build, low = kit.build, kit.build.climate.day_lo_c
    if low is None or amphibians(build):
        return
    reached = day_air_c(build, _equipment(kit), heated=True)
    if reached < low - DAY_TOLERANCE_K:
        text = (
            f"By day lamps and heaters bring the air to about {rounded(reached)} C, the animals want at "
            f"least {low:g} C (estimate): warm the room, cover more of the mesh, or take another heater with "
            "its thermostat."
        )
        yield Caution("warning", "day_temperature", text)


def _too_warm(kit: Kit) -> Iterator[Caution]:
    """Where the lamps pass what the animals stand, on the warmest day or in a summer nobody told of."""
    build, equipment, room = kit.build, _equipment(kit), kit.build.room
    most, brought = build.climate.day_hi_c, lamp_heat_w(build, equipment, room.warmest_c)
    heat_w = sum(brought.values())
    if most is None or room.warmest_c > most or heat_w <= 0:  # a room that is too warm itself is told already
        return
    loss = loss_at(build, room.warmest_c, heat_w)
    reached = warming.steady_air_c(room.warmest_c, heat_w, loss)
    highest_c = warming.warmest_room_c(**room_for(build, equipment, most))
    highest = figure("room_most_c", highest_c)
    if reached > most:
        too_much_w = heat_w - loss * (most - room.warmest_c)
        cooler = f", or keep the room at most {highest} C meanwhile" if highest_c >= LIVABLE_C else ""
        text = (
            f"With all lamps on the air reaches about {figure('day_air_c', reached)} C in a room of "
            f"{room.warmest_c:g} C, the animals stand at most {most:g} C (estimate). The lamps bring "
            f"{rounded(heat_w)} W of heat ({_by_lamp(brought)}), {rounded(too_much_w)} W too much: take "
            f"weaker or fewer lamps, {_more_air(kit)}{cooler}."
        )
        yield Caution("warning", "day_temperature", text)
    elif room.warmest_day_c is None and highest_c < room.temperature_c + SUMMER_K:
        text = (
            f"With all lamps on the air passes the {most:g} C that the animals stand as soon as the room is "
            f"above {highest} C (estimate): in a room that becomes warmer, cool it or switch lamps off on "
            "such days."
        )
        yield Caution("warning", "day_temperature", text)


def _more_air(kit: Kit) -> str:
    box = kit.build.box
    if box.top_kind in CLOSED_TOPS:
        return "hang them outside over a mesh top"
    return "cover less of the top" if open_share(kit.build) < 1 else "let more air through the box"


def _equipment(kit: Kit) -> dict[str, tuple[Figures, ...]]:
    return {role: tuple(kit.pieces(role)) for role in WARM_ROLES}
