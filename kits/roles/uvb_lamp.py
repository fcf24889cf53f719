"""The UVB lamp, where the zone of an animal calls for one."""

import math

from kits.physics.geometry import overhang_mm
from kits.terms.build import Build
from kits.terms.conditions import CATALOGUE_RULE, wants_uvb
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, text, wanted_number

CODE = "uvb_lamp"
ORDER = 110
IN_SOIL = False
OVERHANG_MM = 60.0
GOOD_SHARE = 0.5  # of the width: room for a lit and a shaded end
STEPS = 10  # of length below the good share, so that of tubes too short a longer one comes first
USUAL_LIFE_DAYS = 270
TUBES = ("t5", "t8")


def needs(build: Build) -> tuple[Need, ...]:
    """One lamp that is listed for a zone of all animals."""
    if not wants_uvb(build):
        return ()
    low = build.climate.uv_zone_lo or build.climate.uv_zone_hi or 1
    high = build.climate.uv_zone_hi or low
    span = max(build.box.width_mm, build.box.depth_mm)
    zones = list(range(int(low), int(high) + 1)) or [int(low)]
    named = " or ".join(str(zone) for zone in zones)
    because = (f"The animals live in UV zone {named} ({CATALOGUE_RULE}).",)
    return (Need(CODE, count=1, wanted={"zones": zones, "span_mm": span}, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """A lamp that is listed for the zone; a tube must also go on the box."""
    watts = positive(figures, "watts")
    if watts is None or not text(figures, "cap"):
        return missing("watts or cap")
    listed, wanted = _zones(figures), _zones({"zones": need.wanted["zones"]})
    if not listed & wanted:
        return Fit(refusal=f"It is listed for UV zone {_named(listed)}, the build wants {_named(wanted)}.")
    technology, length = text(figures, "technology"), positive(figures, "length_mm")
    span = wanted_number(need, "span_mm")
    if technology in TUBES and length is None:
        return missing("length_mm")
    if technology in TUBES and length is not None and overhang_mm(length, span) > OVERHANG_MM:
        longest = span + 2 * OVERHANG_MM
        return Fit(
            refusal=f"Its length of {length:g} mm is more than the {longest:g} mm that the box carries."
        )
    because = (f"It is listed for UV zone {_named(listed)} and draws {watts:g} W.",)
    return Fit(because=because, rank=_rank(technology, length, span))


def _rank(technology: str, length: float | None, span: float) -> int:
    if technology not in TUBES or length is None:
        return STEPS + 1
    lacking = 1 - length / (GOOD_SHARE * span)
    return max(0, math.ceil(lacking * STEPS))


def _zones(figures: Figures) -> frozenset[int]:
    value = figures.get("zones")
    listed = value if isinstance(value, list | tuple) else [value]
    return frozenset(int(zone) for zone in listed if isinstance(zone, int | float))


def _named(zones: frozenset[int]) -> str:
    return " or ".join(str(zone) for zone in sorted(zones)) or "none"


def coupling(figures: Figures) -> Coupling:
    """A lamp asks for a fixture with its cap, and with its length when it is a tube."""
    cap, length = text(figures, "cap"), positive(figures, "length_mm")
    key = f"{cap}:{length:g}" if length is not None else cap
    watts = positive(figures, "watts")
    return Coupling() if watts is None or not cap else Coupling(asks=(Tie("uvb_socket", key, watts),))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """UV harms eyes and skin, and glass stops it."""
    if figures is None:
        text_ = "No UVB lamp is part of this kit: ask a vet how the animals then get their vitamin D."
        return (Caution("warning", CODE, text_),)
    text_ = (
        "UVB harms eyes and skin: never look into the lit lamp, switch it off before working "
        "inside, keep the "
        "maker's distance to the highest place an animal reaches, always leave shade, and check "
        "with a UV index "
        "meter: the listed zone is an estimate."
    )
    found = [Caution("warning", CODE, text_)]
    if build.box.top_kind in ("glass", "solid"):
        found.append(
            Caution(
                "warning", CODE, f"A {build.box.top_kind} top stops UVB: the lamp must hang inside, guarded."
            )
        )
    return tuple(found)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """UVB output fades long before the light does."""
    days = int(number(figures, "life_days") or USUAL_LIFE_DAYS)
    return (Reminder("Measure the UV index or replace the UVB lamp", max(1, days), CODE),)
