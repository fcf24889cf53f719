"""How warm the air of a box becomes by day from its lamps and heaters: whether the day band can be held."""

from collections.abc import Mapping, Sequence

from kits.effects.airing import air_changes_h, warm_air_c
from kits.effects.places import CLOSED_TOPS, light_share
from kits.effects.warmth import basking_place, beam, enters_w, loss_w_k, set_share
from kits.terms.build import Build
from kits.terms.needs import Figures
from kits.terms.reading import positive, text

# Of the watts of a tube or bar that warm the box: all below a closed top, else what comes through; estimates.
COOL_LAMPS = ("uvb_lamp", "plant_light")
THROUGH_MESH, MERCURY = 0.3, 0.6
Equipment = Mapping[str, Sequence[Figures]]


def lamps_bring_w(build: Build, equipment: Equipment) -> float:
    """Heat that the lamps give the box by day, the basking lamp at the power that it is set to."""
    found = sum(_cool_w(build, figures) for role in COOL_LAMPS for figures in equipment.get(role, ()))
    place = basking_place(build)
    for figures in equipment.get("basking_lamp", ()):
        full = beam(place, figures) if place else None
        share = set_share(place, full) if place and full else 1.0
        found += enters_w(build, figures) * share
    return found


def _cool_w(build: Build, figures: Figures) -> float:
    watts = positive(figures, "watts") or 0.0
    if build.box.top_kind in CLOSED_TOPS:
        return watts
    share = MERCURY if text(figures, "technology") == "mercury" else THROUGH_MESH
    return watts * share * light_share(build)


def day_air_c(build: Build, equipment: Equipment, *, heated: bool) -> float:
    """Air by day in the usual room: from the lamps alone, or with every heater at full power too."""
    room_c = build.room.temperature_c
    heat_w = lamps_bring_w(build, equipment)
    if heated:
        heat_w += sum(positive(figures, "watts") or 0.0 for figures in equipment.get("night_heat", ()))
    return room_c + heat_w / loss_w_k(build, air_changes_h(build, warm_air_c(build), room_c))
