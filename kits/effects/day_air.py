"""How warm the air of a box becomes by day from its lamps and heaters: whether the day band can be held."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from kits.effects.airing import air_changes_h, warm_air_c
from kits.effects.places import CLOSED_TOPS, light_share
from kits.effects.warmth import basking_place, beam, enters_w, loss_w_k, set_share
from kits.physics.warming import steady_air_c, warmest_room_c
from kits.terms.build import Build
from kits.terms.conditions import LAMPS_WARM_K
from kits.terms.needs import Figures
from kits.terms.reading import positive, text

# Of the watts of a tube or bar that warm the box: all below a closed top, else what comes through; estimates.
COOL_LAMPS = ("uvb_lamp", "plant_light")
THROUGH_MESH, MERCURY = 0.3, 0.6
STEPS = 4  # of a warmer box airing more: each leaves a third of the error or less
COLDEST_ROOM_C = -20.0  # that anyone can tell of: no colder one is reckoned with
Equipment = Mapping[str, Sequence[Figures]]


def lamp_heat_w(build: Build, equipment: Equipment, room_c: float) -> dict[str, float]:
    """Heat that each role's lamps give the box by day, the basking lamp at the power that it is set to."""
    found = {
        role: sum(_cool_w(build, figures) for figures in equipment[role])
        for role in COOL_LAMPS
        if equipment.get(role)
    }
    if equipment.get("basking_lamp"):
        share = basking_share(build, equipment, room_c)
        entering = (enters_w(build, figures) for figures in equipment["basking_lamp"])
        found["basking_lamp"] = share * sum(entering)
    return found


def basking_share(build: Build, equipment: Equipment, room_c: float) -> float:
    """Share of its power that the basking lamp is set to in such a room; all where it warms the air."""
    place = basking_place(build)
    if place is None:
        return 1.0
    here = replace(place, air_c=max(place.air_c, room_c))
    full = next((beam(here, figures) for figures in equipment.get("basking_lamp", ())), None)
    return 1.0 if full is None else set_share(here, full)


def _cool_w(build: Build, figures: Figures) -> float:
    watts = positive(figures, "watts") or 0.0
    if build.box.top_kind in CLOSED_TOPS:
        return watts
    share = MERCURY if text(figures, "technology") == "mercury" else THROUGH_MESH
    return watts * share * light_share(build)


def day_air_c(build: Build, equipment: Equipment, *, heated: bool, room_c: float | None = None) -> float:
    """Air by day in the usual room: from the lamps alone, or with every heater at full power too."""
    room = build.room.temperature_c if room_c is None else room_c
    heat_w = sum(lamp_heat_w(build, equipment, room).values())
    if heated:
        heat_w += sum(positive(figures, "watts") or 0.0 for figures in equipment.get("night_heat", ()))
    return steady_air_c(room, heat_w, loss_at(build, room, heat_w))


def loss_at(build: Build, room_c: float, heat_w: float) -> float:
    """What the box loses for each kelvin once it is as warm as this heat makes it: a warmer box airs more."""
    inside_c = max(warm_air_c(build), room_c)
    for _ in range(STEPS):
        loss = loss_w_k(build, air_changes_h(build, inside_c, room_c))
        inside_c = steady_air_c(room_c, heat_w, loss)
    return loss


def room_for(build: Build, equipment: Equipment, air_c: float) -> dict[str, float]:
    """The arguments of the warmest room in which the lamps make the air of the box just so warm."""
    room_c = air_c - LAMPS_WARM_K
    for _ in range(STEPS):
        loss = loss_w_k(build, air_changes_h(build, air_c, room_c))
        found = {
            "air_c": air_c,
            "heat_w": sum(lamp_heat_w(build, equipment, room_c).values()),
            "loss_w_k": loss,
        }
        room_c = max(warmest_room_c(**found), COLDEST_ROOM_C)
    return found
