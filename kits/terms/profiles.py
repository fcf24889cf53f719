"""What a profile may say of an item: the figures of each role and what is wrong with a given set."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from inventory.errors import FieldError

STYLES = (
    "humid-forest", "seasonal-forest", "temperate-woodland", "dry-scrub",
    "desert", "water-margin", "deep-soil",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Kind:
    """What a figure may be, in words and as a test."""

    words: str
    accepts: Callable[[object], bool]
    many: bool = False  # a list of words or numbers


@dataclass(frozen=True, slots=True)
class Key:
    """One figure of a role."""

    kind: Kind
    needed: bool = True
    nullable: bool = False


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _positive(value: object) -> bool:
    return _number(value) and value > 0  # type: ignore[operator]


def _from_zero(value: object) -> bool:
    return _number(value) and value >= 0  # type: ignore[operator]


def _share(value: object) -> bool:
    return _from_zero(value) and value <= 1  # type: ignore[operator]


def _below_one(value: object) -> bool:
    return _from_zero(value) and value < 1  # type: ignore[operator]


def _whole(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and value > 0


def _text(value: object) -> bool:
    return isinstance(value, str) and bool(value.strip())


def _yes_no(value: object) -> bool:
    return isinstance(value, bool)


def _styles(value: object) -> bool:
    return isinstance(value, list | tuple) and bool(value) and all(style in STYLES for style in value)


def _zones(value: object) -> bool:
    return isinstance(value, list | tuple) and bool(value) and all(zone in (1, 2, 3, 4) for zone in value)


def _loads(value: object) -> bool:
    return isinstance(value, list | tuple) and bool(value) and set(value) <= {"basking_lamp", "night_heat"}


def _one_of(*words: str) -> Kind:
    return Kind("one of " + ", ".join(words), lambda value: value in words)


POSITIVE = Kind("a number above zero", _positive)
FROM_ZERO = Kind("a number not below zero", _from_zero)
SHARE = Kind("a share between 0 and 1", _share)
LOSS = Kind("a share from 0 to below 1", _below_one)
WHOLE = Kind("a whole number above zero", _whole)
TEXT = Kind("text", _text)
YES_NO = Kind("true or false", _yes_no)
STYLE_LIST = Kind("a list of styles", _styles, many=True)
ZONE_LIST = Kind("a list of UV zones 1 to 4", _zones, many=True)
LOAD_LIST = Kind("a list of basking_lamp and night_heat", _loads, many=True)


def _all(kind: Kind, *names: str, needed: bool = True) -> dict[str, Key]:
    return {name: Key(kind, needed=needed) for name in names}


VOLUME = {**_all(POSITIVE, "litres"), **_all(TEXT, "family")}
PROPERTIES = {**_all(SHARE, "settle", needed=False), **_all(POSITIVE, "density_kg_l", needed=False)}
STYLED_VOLUME = {**VOLUME, **_all(STYLE_LIST, "styles"), **PROPERTIES}
LOADED = _all(POSITIVE, "max_watts")

ROLE_FIGURES: Mapping[str, Mapping[str, Key]] = {
    "enclosure": _all(TEXT, "size"),
    "drainage": {
        **VOLUME,
        **_all(SHARE, "void_fraction"),
        **PROPERTIES,
        **_all(POSITIVE, "grain_mm", needed=False),
    },
    "barrier": {
        **_all(POSITIVE, "width_mm"),
        **_all(POSITIVE, "depth_mm", "length_mm", needed=False),
    },
    "substrate": {
        **STYLED_VOLUME,
        "mix": Key(TEXT, needed=False, nullable=True),
        **_all(TEXT, "medium", needed=False),
    },
    "inoculant": _all(POSITIVE, "treats_l"),
    "moss": STYLED_VOLUME,
    "litter": STYLED_VOLUME,
    "bark": {**_all(POSITIVE, "length_mm", "width_mm"), **_all(STYLE_LIST, "styles")},
    "cleanup_crew": {**_all(TEXT, "taxon"), **_all(WHOLE, "animals")},
    "plant": {**_all(TEXT, "species"), **_all(POSITIVE, "pot_mm")},
    "uvb_lamp": {
        "technology": Key(_one_of("t5", "t8", "compact", "mercury")),
        **_all(TEXT, "cap"),
        **_all(POSITIVE, "watts", "life_days"),
        "length_mm": Key(POSITIVE, needed=False, nullable=True),
        **_all(ZONE_LIST, "zones"),
        # One meter reading after 100 hours, in its reflector, without mesh; else the class in percent.
        **_all(POSITIVE, "uvi_ref", "uvi_ref_mm", "uvb_pct", needed=False),
        **_all(LOSS, "loss_a_year", needed=False),  # of its UV index, by readings of worn lamps
    },
    "uvb_fixture": {
        **_all(TEXT, "cap"),
        **_all(POSITIVE, "length_mm", "width_mm", "max_watts"),
        "lamp_length_mm": Key(POSITIVE, needed=False, nullable=True),
        **_all(FROM_ZERO, "overhang_mm", needed=False),
        **_all(
            SHARE, "reflector_share", needed=False
        ),  # of what the fixture of the lamp's reading throws down
    },
    "plant_light": {
        "kind": Key(_one_of("bar", "panel")),
        **_all(POSITIVE, "length_mm", "width_mm", "watts", "flux_umol_s"),
        **_all(FROM_ZERO, "overhang_mm", needed=False),
    },
    "basking_lamp": {
        **_all(TEXT, "cap"),
        **_all(POSITIVE, "watts", "life_days"),
        "kind": Key(_one_of("halogen", "incandescent")),
        **_all(POSITIVE, "beam_deg", needed=False),
        **_all(SHARE, "radiant_fraction", "beam_fraction", needed=False),
    },
    "lamp_holder": {**_all(TEXT, "cap"), **LOADED, **_all(POSITIVE, "diameter_mm")},
    "dimmer": LOADED,
    "thermostat": {**LOADED, "kind": Key(_one_of("on-off", "pulse", "dimming")), **_all(LOAD_LIST, "for")},
    "night_heat": {
        **_all(POSITIVE, "watts"),
        "kind": Key(_one_of("ceramic", "panel", "cable")),
        "cap": Key(TEXT, needed=False, nullable=True),
        **_all(YES_NO, "lightless"),
        **_all(POSITIVE, "length_mm", "width_mm", needed=False),
    },
    "timer": {**LOADED, **_all(WHOLE, "outlets")},
    "thermometer": _all(WHOLE, "probes"),
    "hygrometer": _all(WHOLE, "probes"),
    "hide": {
        **_all(POSITIVE, "length_mm", "width_mm", "height_mm"),
        **_all(YES_NO, "humid"),
        **_all(FROM_ZERO, "buried_l"),
    },
    "climb": {**_all(POSITIVE, "length_mm", "diameter_mm"), **_all(FROM_ZERO, "buried_l")},
    "water_dish": {**_all(POSITIVE, "litres", "diameter_mm"), **_all(FROM_ZERO, "buried_l", needed=False)},
    "mister": {
        "kind": Key(_one_of("hand", "pump")),
        **_all(POSITIVE, "tank_l"),
        **_all(WHOLE, "nozzles", needed=False),
        **_all(FROM_ZERO, "watts", needed=False),
        **_all(POSITIVE, "nozzle_l_min", needed=False),
    },
    "drain_tube": _all(POSITIVE, "length_mm", "diameter_mm"),
    "mesh_cover": _all(POSITIVE, "width_mm", "depth_mm"),
    "feeding_ledge": _all(WHOLE, "cups"),
    "supplement": {"kind": Key(_one_of("calcium", "calcium-d3", "vitamin"))},
    "water_conditioner": _all(POSITIVE, "treats_l"),
    "residual_current_device": {**LOADED, **_all(POSITIVE, "trip_ma")},
}
# A loose ingredient does no job in a kit by itself: it goes into the shop's mixes.
INGREDIENT = "ingredient"
PROFILE_FIGURES: Mapping[str, Mapping[str, Key]] = {
    **ROLE_FIGURES,
    INGREDIENT: {**_all(TEXT, "medium"), **_all(SHARE, "least_share", "most_share", needed=False)},
}


def figure_faults(role: str, figures: Mapping[str, object]) -> tuple[FieldError, ...]:
    """Everything wrong with the figures of one role, each as a sentence naming the figure."""
    keys = PROFILE_FIGURES.get(role)
    if keys is None:
        return (FieldError("/role", f"There is no role {role!r}."),)
    unknown = [
        FieldError(f"/figures/{name}", f"The role {role} has no figure {name!r}.")
        for name in figures
        if name not in keys
    ]
    faults = [fault for name, key in keys.items() if (fault := _fault(role, name, key, figures))]
    return (*unknown, *faults, *_barrier_faults(role, figures))


def _fault(role: str, name: str, key: Key, figures: Mapping[str, object]) -> FieldError | None:
    pointer = f"/figures/{name}"
    if name not in figures:
        return FieldError(pointer, f"The role {role} needs the figure {name!r}.") if key.needed else None
    value = figures[name]
    if (value is None and key.nullable) or key.kind.accepts(value):
        return None
    return FieldError(pointer, f"The figure {name!r} must be {key.kind.words}, not {value!r}.")


def _barrier_faults(role: str, figures: Mapping[str, object]) -> tuple[FieldError, ...]:
    if role != "barrier" or "depth_mm" in figures or "length_mm" in figures:
        return ()
    return (FieldError("/figures/depth_mm", "A barrier needs the figure 'depth_mm' or 'length_mm'."),)
