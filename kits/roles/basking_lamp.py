"""The lamp that warms a basking place, or the air of a cold room by day."""

from dataclasses import replace

from kits.effects.airing import air_changes_h, warm_air_c
from kits.effects.warmth import (
    FULL_SUN_W_M2,
    LEAST_DIMMED,
    Place,
    basking_place,
    beam,
    beam_through,
    brings_w,
    dimmed_share,
    loss_w_k,
    set_share,
    surface_at,
)
from kits.physics.walls import wall
from kits.terms.build import Build
from kits.terms.conditions import amphibians, day_gap_k, wants_basking
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, text, wanted_number
from kits.terms.rounding import rounded

CODE = "basking_lamp"
ORDER = 140
IN_SOIL = False
USUAL_LIFE_DAYS = 240
MOST_TIMES = 4.0  # a lamp that only warms air gives at most so many times what is needed
LEAST_W = 40.0  # a small lamp is never too large for the air
BURNS_UNDIMMED = 10  # a lamp that burns once its control fails comes after all that do not
DIMMED_WELL = (0.4, 0.15)  # a lamp dimmed below these is larger, and much larger, than it need be


def needs(build: Build) -> tuple[Need, ...]:
    """One lamp that makes the basking surface as warm as is wanted, or makes up for a cold room."""
    if not wants_basking(build):
        return ()
    place = basking_place(build)
    return (_for_a_surface(build, place) if place else _for_the_air(build),)


def _for_a_surface(build: Build, place: Place) -> Need:
    because = (
        f"A surface of {_band(place)} C is wanted to bask on, in air of {place.air_c:g} C, "
        f"{rounded(place.spot.distance_m * 1000)} mm below the lamp.",
    )
    return Need(CODE, count=1, wanted={"place": place}, because=because)


def _band(place: Place) -> str:
    low, high = f"{place.low_c:g}", f"{place.high_c:g}"
    return low if low == high else f"{low}-{high}"


def _for_the_air(build: Build) -> Need:
    low, room_c = build.climate.day_lo_c, build.room.temperature_c
    assert low is not None  # else nothing is to be warmed
    watts = loss_w_k(build, air_changes_h(build, warm_air_c(build), room_c)) * day_gap_k(build)
    because = (
        f"Day air of {low:g} C is wanted in a room of {room_c:g} C: {rounded(watts)} W of heat (estimate).",
    )
    return Need(CODE, count=1, wanted={"watts": watts, "through": beam_through(build)}, because=because)


def fit(need: Need, figures: Figures) -> Fit:
    """A lamp that, dimmed where need be, makes the surface warm enough and burns nobody."""
    if positive(figures, "watts") is None or not text(figures, "cap"):
        return missing("watts or cap")
    place = need.wanted.get("place")
    if isinstance(place, Place):
        return _on_the_surface(place, figures)
    return _in_the_air(need, figures)


def _on_the_surface(place: Place, figures: Figures) -> Fit:
    full = beam(place, figures)
    assert full is not None  # its watts are known
    said = f"At full power it makes the surface {rounded(full.surface_c)} C; wanted {_band(place)} C"
    shown: dict[str, object] = {
        "basking_surface_full_c": round(full.surface_c, 1),
        "irradiance_w_m2": round(full.irradiance_w_m2, 1),
    }
    if full.surface_c < place.low_c:
        return Fit(refusal=f"{said}.", figures=shown)
    share = set_share(place, full)
    if share < LEAST_DIMMED:
        least = f"it would have to be dimmed to {share:.0%}"
        return Fit(refusal=f"{said}: {least}, less than lamps are dimmed to.", figures=shown)
    nearest = full.nearest_w_m2 * share
    if nearest > FULL_SUN_W_M2:
        burns = f"{rounded(nearest)} W/m2, more than full sun ({FULL_SUN_W_M2:g})"
        return Fit(refusal=f"At the highest reach it gives {burns}: a burn risk.", figures=shown)
    set_c = surface_at(place, full, share)
    low, high = (min(1.0, dimmed_share(place, full, end_c)) for end_c in (place.low_c, place.high_c))
    shown |= {
        "basking_surface_c": round(set_c, 1), "dimmed_to_pct": round(100 * share),
        "dimmed_from_pct": round(100 * low), "dimmed_up_to_pct": round(100 * high),
    }  # fmt: skip
    because = (
        f"{said}; dimmed to {share:.0%} it makes {rounded(set_c)} C, from {low:.0%} to {high:.0%} it stays "
        "in that band (estimate for a dry, thin surface)."
    )
    stops = full.nearest_w_m2 > FULL_SUN_W_M2
    rank = _rank(figures, share) + (BURNS_UNDIMMED if stops else 0)
    return Fit(because=(because,), figures=shown, rank=rank, stops=stops)


def may_do_between(one: Need, other: Need, figures: Figures) -> bool:
    """Whether the lamp could do, without a stop, between two places that differ in distance and air alone.

    What it gives, and how warm it makes the surface, rise all the way from one end to the other, so that each
    limit is held against the end, and the air, with which it is kept most easily.
    """
    places = [need.wanted.get("place") for need in (one, other)]
    found = [place for place in places if isinstance(place, Place)]
    beams = [full for place in found if (full := beam(place, figures)) is not None]
    if len(beams) < len(places):
        return True  # it is to warm the air: what is asked for is then worked out at every step
    cool, warm = (replace(found[0], air_c=end(place.air_c for place in found)) for end in (min, max))
    weak, strong = (end(beams, key=lambda full: full.irradiance_w_m2) for end in (min, max))
    return (
        surface_at(warm, strong, 1.0) >= warm.low_c
        and set_share(cool, weak) >= LEAST_DIMMED
        and min(full.nearest_w_m2 for full in beams) <= FULL_SUN_W_M2
    )


def _rank(figures: Figures, share: float) -> int:
    """Halogen lamps that are not far too large come first."""
    too_large = next((steps for steps, least in enumerate(DIMMED_WELL) if share >= least), len(DIMMED_WELL))
    return (0 if text(figures, "kind") == "halogen" else 1) + 2 * too_large


def _in_the_air(need: Need, figures: Figures) -> Fit:
    wanted, given = wanted_number(need, "watts"), brings_w(number(need.wanted, "through"), figures)
    said = f"It brings {rounded(given)} W of heat into the box; wanted {rounded(wanted)} W"
    if not wanted <= given <= max(MOST_TIMES * wanted, LEAST_W):
        return Fit(refusal=f"{said}.")
    return Fit(
        because=(f"{said} (estimate).",), figures={"heat_w": round(given, 1)}, rank=_rank(figures, 1.0)
    )


def coupling(figures: Figures) -> Coupling:
    """It asks for a holder that is rated for it and for a control."""
    watts, cap = positive(figures, "watts"), text(figures, "cap")
    if watts is None:
        return Coupling()
    control = Tie("control", CODE, watts)
    return Coupling(asks=(Tie("socket", cap, watts), control) if cap else (control,))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Hot lamps burn animals, people and houses."""
    if figures is None:
        return ()
    text_ = (
        "A hot lamp burns skin and sets fire: guard it, keep the maker's distance to animals and to all in "
        "the box, and 0.9 m outside it to whatever burns. Begin with it dimmed, measure the surface below "
        "it, and work up before an animal moves in: its power is an estimate."
    )
    found = [Caution("warning", CODE, text_), *_burns(build, figures), *_softens(build)]
    if amphibians(build):
        dry = (
            "Amphibians dry out under a hot lamp: warm the room or the box gently instead, and "
            "ask a vet first."
        )
        found.append(Caution("warning", CODE, dry))
    return tuple(found)


def _softens(build: Build) -> tuple[Caution, ...]:
    """Plastic walls near a hot lamp."""
    softens_c = wall(build.box.wall_material).softens_c
    if softens_c is None:
        return ()
    text_ = (
        f"Walls of {build.box.wall_material} soften above about {softens_c:g} C (from memory; the maker's "
        "figure comes first): keep the hot lamp and its holder clear of them."
    )
    return (Caution("note", CODE, text_),)


def _burns(build: Build, figures: Figures) -> tuple[Caution, ...]:
    """A lamp named in the spec or owned that burns whoever climbs towards it."""
    place = basking_place(build)
    full = beam(place, figures) if place else None
    if place is None or full is None:
        return ()
    share = set_share(place, full)
    nearest = full.nearest_w_m2 * share
    if nearest <= FULL_SUN_W_M2:
        return ()
    text_ = (
        f"The basking lamp gives {rounded(nearest)} W/m2 where an animal can reach, more than full sun "
        f"({FULL_SUN_W_M2:g} W/m2): it burns. Lower the highest perch or take a wider, weaker lamp."
    )
    return (Caution("stop", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Lamps fail without warning."""
    days = int(number(figures, "life_days") or USUAL_LIFE_DAYS)
    return (
        Reminder("Measure the temperature of the basking surface", 7, CODE),
        Reminder("Replace the basking lamp and keep a spare", max(1, days), CODE),
    )
