"""How much water keeps the air of a box humid, and for how long a mister has to run for it."""

from collections.abc import Mapping

from kits.effects.airing import air_changes_h, warm_air_c
from kits.physics import air
from kits.terms.build import Build
from kits.terms.conditions import humidity_pct, volume_l
from kits.terms.needs import Figures
from kits.terms.reading import positive

DRAINS_SHARE = 0.4  # of what is sprayed runs into the soil; common practice 0.3 to 0.6, no source
NOZZLE_L_MIN = 0.08  # of a fine nozzle, from memory
HAND_L_MIN = 0.1  # of a pressure sprayer held in the hand; estimate, measure it


def misting_inputs(build: Build) -> Mapping[str, float] | None:
    """The arguments of the day's misting; None where the room is humid enough or nothing is asked for."""
    low, _ = humidity_pct(build)
    room = build.room
    if low is None:
        return None
    inside_c = warm_air_c(build)
    inputs = {
        "volume_m3": volume_l(build) / 1000,
        "air_changes_h": air_changes_h(build, inside_c, room.temperature_c),
        "inside_c": inside_c,
        "inside_pct": low,
        "room_c": room.temperature_c,
        "room_pct": room.relative_humidity_pct,
    }
    return inputs if air.misting_l_day(**inputs) > 0 else None


def evaporated_l_day(build: Build) -> float:
    """Litres a day that the air has to be given to stay at the lowest humidity that is wanted."""
    inputs = misting_inputs(build)
    return 0.0 if inputs is None else air.misting_l_day(**inputs)


def sprayed_l_day(build: Build) -> float:
    """Litres a day that are sprayed for it, of which a part runs into the soil."""
    return evaporated_l_day(build) / (1 - DRAINS_SHARE)


def minutes_a_day(figures: Figures, litres_day: float) -> float:
    """How long a mister with these figures runs for so much water."""
    if figures.get("kind") == "hand":
        return litres_day / HAND_L_MIN
    nozzles = positive(figures, "nozzles") or 1.0
    return litres_day / (nozzles * (positive(figures, "nozzle_l_min") or NOZZLE_L_MIN))
