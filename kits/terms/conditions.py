"""What several roles ask of a build, answered once."""

from dataclasses import replace

from kits.terms.build import Build, Climate, Occupant
from kits.terms.facts import Subject

# Extra bag litres for a layer in place; estimates, a product's own figure wins.
SETTLE = {"drainage": 0.03, "substrate": 0.125, "litter": 0.40, "moss": 0.0}
SETTLE_SOURCE = (
    "planning values around two measured anchors (bark: Owen and Altland 2008); estimate, measure it"
)
HUMID_FROM_PCT = 50.0
LOADS = frozenset(("uvb_lamp", "plant_light", "basking_lamp", "night_heat"))  # what heats or shines
LAMPS_WARM_K = 2.0  # a box is at least so much warmer than its room while its lamps are on; estimate
AMPHIBIANS = frozenset(("ranoidea", "dryophytes", "dendrobates", "ceratophrys", "ambystoma", "salamandra"))


def yes(subject: Subject, key: str) -> bool:
    """A yes/no figure; unknown counts as no."""
    return subject.value(key) is True or subject.text(key) == "yes"


def heads(build: Build) -> int:
    """Number of animals."""
    return sum(occupant.count for occupant in build.occupants)


def of_habit(build: Build, *habits: str) -> tuple[Occupant, ...]:
    """The animals that live in one of these ways."""
    return tuple(o for o in build.occupants if o.subject.text("habit") in habits)


def amphibians(build: Build) -> bool:
    """Whether frogs or salamanders live here: their skin takes up what is in the water."""
    return any(o.subject.code.partition("-")[0] in AMPHIBIANS for o in build.occupants)


def humidity_pct(build: Build) -> tuple[float | None, float | None]:
    """The relative humidity to hold: that of the animals, else that of the style."""
    climate = build.climate
    if climate.humidity_lo_pct is not None or climate.humidity_hi_pct is not None:
        return climate.humidity_lo_pct, climate.humidity_hi_pct
    return build.style.number("rh_lo_pct"), build.style.number("rh_hi_pct")


def humid(build: Build) -> bool:
    """Whether the box is to be kept humid, so that water has to be added."""
    low, _ = humidity_pct(build)
    return low is not None and low >= HUMID_FROM_PCT


def planted(build: Build) -> bool:
    """Whether there will be plants."""
    return build.planting != "none"


def wants_uvb(build: Build) -> bool:
    """Whether an animal's UV zone calls for a UVB lamp."""
    zone = build.climate.uv_zone_hi or build.climate.uv_zone_lo
    return zone is not None and zone >= 1


def day_gap_k(build: Build) -> float:
    """How much the room, warmed a little by lamps that are on anyway, stays below the day air wanted."""
    low = build.climate.day_lo_c
    lit = (wants_uvb(build) and not build.goes_without("uvb_lamp")) or (
        wants_plant_light(build) and not build.goes_without("plant_light")
    )
    warmed = build.room.temperature_c + (LAMPS_WARM_K if lit else 0.0)
    return 0.0 if low is None else max(0.0, low - warmed)


def wants_basking(build: Build) -> bool:
    """Whether a lamp has to warm a spot, or the air above the room by day, which would dry out amphibians."""
    return build.climate.bask_lo_c is not None or (day_gap_k(build) > 0 and not amphibians(build))


def wants_night_heat(build: Build) -> bool:
    """Whether the room's worst night is colder than the animals may have it."""
    low = build.climate.night_lo_c
    return low is not None and build.room.night_temperature_c < low


def wants_plant_light(build: Build) -> bool:
    """Whether plants, which need soil, want a lamp of their own."""
    return planted(build) and build.layer_l("substrate") > 0


def lit_loads(build: Build) -> tuple[str, ...]:
    """The roles that a timer switches."""
    wanted = (
        ("uvb_lamp", wants_uvb(build)),
        ("plant_light", wants_plant_light(build)),
        ("basking_lamp", wants_basking(build)),
    )
    return tuple(role for role, wants in wanted if wants and not build.goes_without(role))


def mains(build: Build) -> bool:
    """Whether anything here runs on mains electricity."""
    heated = wants_night_heat(build) and not build.goes_without("night_heat")
    return heated or bool(lit_loads(build))


def wet(build: Build) -> bool:
    """Whether water is sprayed, stands under the soil or in a dish, or is part of the scenery."""
    scenery = humid(build) or yes(build.style, "mister") or build.layer_l("drainage") > 0
    return scenery or bool(build.occupants)


def free_height_mm(build: Build) -> float:
    """Height of the air above the highest ground."""
    return build.box.height_mm - max(build.surface_mm())


def volume_l(build: Build) -> float:
    """Inside volume of the box."""
    box = build.box
    return box.width_mm * box.depth_mm * box.height_mm / 1e6


def growing_climate(build: Build) -> Climate:
    """The climate that plants and crews live in: that of the animals, else of the style in this room."""
    if build.occupants:
        return build.climate
    low, high = humidity_pct(build)
    air_c = build.room.temperature_c
    return replace(build.climate, day_lo_c=air_c, day_hi_c=air_c, humidity_lo_pct=low, humidity_hi_pct=high)
