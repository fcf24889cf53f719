"""The UVB lamp, by the UV index that reaches the animals."""

import math
from dataclasses import replace

from kits.effects.ageing import how, kept, life_days
from kits.effects.places import CLOSED_TOPS, Spot, basking_spot
from kits.effects.sunlight import (
    TUBES,
    Reached,
    Reading,
    Wanted,
    reached,
    reading,
    reflector_range,
    reflector_share,
    wanted,
    zones,
)
from kits.physics.geometry import overhang_mm
from kits.terms.build import Build
from kits.terms.conditions import wants_uvb
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, text, wanted_number
from kits.terms.rounding import rounded, uv_index

CODE = "uvb_lamp"
BESIDE = "uvb_fixture"  # whose reflector changes what the lamp gives: see fit_beside
ORDER = 110
IN_SOIL = False
OVERHANG_MM = 60.0
GOOD_SHARE = 0.5  # of the width: room for a lit and a shaded end
STEPS = 10  # of length below the good share, so that of tubes too short a longer one comes first
TENTHS, ROUNDING = 10, 1e-9
BARE = 0.4  # of a polished reflector a bare tube throws down; less no fixture does; 0.4 to 0.67 from memory
UNREAD = 2 * STEPS  # a lamp of which only a listing is known comes after all that can be computed
UNREAD_MM = 100.0  # nearer than that nothing but a reading will do; common sense, no source


def needs(build: Build) -> tuple[Need, ...]:
    """One lamp that brings the UV index of the animals' zones to the highest perch."""
    if not wants_uvb(build):
        return ()
    low, high = zones(build)
    named = " or ".join(str(zone) for zone in range(low, high + 1))
    asked, spot = wanted(build), basking_spot(build)
    because = (
        f"The animals live in UV zone {named}: {_bands(asked)}.",
        f"The lamp hangs {rounded(spot.distance_m * 1000)} mm above the back of an animal on the highest "
        "perch.",
    )
    span = max(build.box.width_mm, build.box.depth_mm)
    wanted_here = {
        "asked": asked,
        "spot": spot,
        "zone_lo": low,
        "zone_hi": high,
        "span_mm": span,
        "reflector": _given_reflector(build),
    }
    return (Need(CODE, count=1, wanted=wanted_here, because=because),)


def _given_reflector(build: Build) -> float | None:
    """What the fixture throws down where the kit has none to choose and that of the customer is not known.

    It is then taken to be like that of the reading, so that no lamp passes that would be too bright in it.
    """
    own = build.owned.get(BESIDE)
    if own is not None and positive(own, "max_watts") is not None and text(own, "cap"):
        return None
    return None if own is None and BESIDE not in build.without else reflector_share(own or {})


def _bands(asked: Wanted) -> str:
    (low, high), most = asked.average, asked.most
    return f"wanted {low:g}-{high:g} average, at most {most:g}"


def fit(need: Need, figures: Figures) -> Fit:
    """A lamp whose UV index at the back and at the highest reach lies inside the zones' bands."""
    watts = positive(figures, "watts")
    if watts is None or not text(figures, "cap"):
        return missing("watts or cap")
    if _spot(need).open_fraction <= 0:
        return Fit(refusal="The top of the box lets no light through to the animals.")
    refusal = _too_long(figures, wanted_number(need, "span_mm"))
    if refusal:
        return Fit(refusal=refusal)
    read = reading(figures)
    return _listed(need, figures) if read is None else _measured(need, figures, read)


def _too_long(figures: Figures, span: float) -> str:
    technology, length = text(figures, "technology"), positive(figures, "length_mm")
    if technology not in TUBES:
        return ""
    if length is None:
        return "Its length_mm is not recorded."
    if overhang_mm(length, span) <= OVERHANG_MM:
        return ""
    return f"Its length of {length:g} mm is more than the {span + 2 * OVERHANG_MM:g} mm that the box carries."


def _measured(need: Need, figures: Figures, read: Reading) -> Fit:
    given = need.wanted["reflector"]
    if isinstance(given, float):
        return _in_the_given(need, figures, read, given)
    asked, found = _asked(need), reached(_spot(need), read, kept=kept(figures).share)
    said = _said(found, "the fixture of its reading", asked)
    shown = _shown(found, read)
    least, most = reflector_range(found, asked)
    if not _some_fixture_does(found, asked):
        return Fit(refusal=f"{said}.", figures=shown)
    rank = _place(found, asked) + _short_steps(figures, wanted_number(need, "span_mm"))
    asks = _reflectors(least, most)
    because = (*_in_which_fixture(asks), f"{said}{_doubt(read, figures)}.")
    return Fit(because=because, figures=shown, rank=rank, asks=asks)


def may_do_between(one: Need, other: Need, figures: Figures) -> bool:
    """Whether the lamp could do at any place between two that differ only in how far away it hangs.

    What it gives falls all the way from the nearer to the farther one, so that each limit is held against
    the end where it is kept most easily.
    """
    if _spot(one).open_fraction <= 0 or _too_long(figures, wanted_number(one, "span_mm")):
        return False
    asked, given, read = _asked(one), one.wanted["reflector"], reading(figures)
    if read is None:
        return any(fit(need, figures).passes for need in (one, other))
    share = given if isinstance(given, float) else 1.0
    left = kept(figures).share
    ends = [reached(_spot(need), read, reflector=share, kept=left) for need in (one, other)]
    worn, highest = max(end.worn for end in ends), min(end.highest for end in ends)
    if isinstance(given, float):
        return worn >= asked.least and highest <= asked.most
    least, most = asked.least / worn, asked.most / highest
    return least <= 1 and most >= max(least, BARE)


def _in_the_given(need: Need, figures: Figures, read: Reading, share: float) -> Fit:
    """A lamp for a fixture that is not to be chosen: it has to do in that one."""
    asked = _asked(need)
    found = reached(_spot(need), read, reflector=share, kept=kept(figures).share)
    said, shown = _said(found, "a fixture like that of its reading", asked), _shown(found, read)
    if found.worn < asked.least or found.highest > asked.most:
        return Fit(refusal=f"{said}.", figures=shown)
    rank = _place(found, asked) + _short_steps(figures, wanted_number(need, "span_mm"))
    return Fit(because=(f"{said}{_doubt(read, figures)}.",), figures=shown, rank=rank)


def _said(found: Reached, where: str, asked: Wanted) -> str:
    new = f"{uv_index(found.back)} at the back, {uv_index(found.highest)} at the highest reach new"
    worn = f"about {uv_index(found.worn)} at the back worn"
    return f"It reaches {new}, {worn}, in {where}; {_bands(asked)}, the least of the worn lamp"


def _shown(found: Reached, read: Reading) -> dict[str, object]:
    return {
        "uvi_at_basking": round(found.back, 2),
        "uvi_maximum_reachable": round(found.highest, 2),
        "uvi_uncertainty_pct": round(100 * read.unsure),
        "uvi_estimated": read.estimated,
        "uvi_at_replacement": round(found.worn, 2),
    }


def fit_beside(need: Need, figures: Figures, fixture: Figures) -> Fit:
    """The same lamp with the figures of the fixture that it shines in here."""
    alone, read = fit(need, figures), reading(figures)
    if read is None:
        return alone
    left = kept(figures).share
    asked, found = _asked(need), reached(_spot(need), read, reflector=reflector_share(fixture), kept=left)
    told = f"{_said(found, _here(fixture), asked)}{_doubt(read, figures)}."
    rank = _place(found, asked) + _short_steps(figures, wanted_number(need, "span_mm"))
    return replace(alone, because=(*alone.because[:-1], told), figures=_shown(found, read), rank=rank)


def _here(fixture: Figures) -> str:
    """The fixture of the kit beside that of the reading."""
    if positive(fixture, "reflector_share") is None:
        return "this kit's fixture, taken to be like that of its reading"
    share = reflector_share(fixture)
    return "this kit's fixture" + (f", {share:.0%} of that of its reading" if share != 1 else "")


def _some_fixture_does(found: Reached, asked: Wanted) -> bool:
    """Whether any reflector between none and that of the reading makes the lamp do."""
    least, most = reflector_range(found, asked)
    return least <= 1 and most >= max(least, BARE)


def _reflectors(least: float, most: float) -> tuple[Tie, ...]:
    """What the fixture must throw back, in tenths to the safe side; nothing where every reflector will do."""
    low, high = math.ceil(TENTHS * least - ROUNDING) / TENTHS, math.floor(TENTHS * most + ROUNDING) / TENTHS
    at_least = (Tie("reflector", "", low),) if low > 1 / TENTHS else ()
    at_most = (Tie("weak_reflector", "", 1 / high),) if 0 < high < 1 else ()
    return (*at_least, *at_most)


def _in_which_fixture(asks: tuple[Tie, ...]) -> tuple[str, ...]:
    """The figures of a lamp are those of the fixture that it was read in; how far another one may differ."""
    shares = {tie.kind: tie.amount for tie in asks}
    limits = [f"at least {shares['reflector']:.0%}"] if "reflector" in shares else []
    limits += [f"at most {1 / shares['weak_reflector']:.0%}"] if "weak_reflector" in shares else []
    told = f"{' and '.join(limits)} of what the fixture of its reading does"
    return (f"Its fixture is to throw down {told}.",) if limits else ()


def _asked(need: Need) -> Wanted:
    asked = need.wanted["asked"]
    assert isinstance(asked, Wanted)
    return asked


def _spot(need: Need) -> Spot:
    spot = need.wanted["spot"]
    assert isinstance(spot, Spot)
    return spot


def _doubt(read: Reading, figures: Figures) -> str:
    off, worn = f"{read.unsure:.0%} either way", how(kept(figures))
    if read.estimated:
        return f" (estimate by its class, {off}: measure it; {worn})"
    return f" (one meter reading, {off}; {worn})"


def _place(found: Reached, asked: Wanted) -> int:
    """0 inside the band that is aimed at, 1 where it only just does."""
    low, high = asked.maximum if asked.sunbeam else (asked.least, asked.average[1])
    return 0 if low <= found.back <= high else 1


def _short_steps(figures: Figures, span: float) -> int:
    """How far a tube lacks of half the box, in steps; what shines from a point lights too little of it."""
    length = positive(figures, "length_mm")
    if text(figures, "technology") not in TUBES or length is None:
        return STEPS + 1
    return max(0, math.ceil((1 - length / (GOOD_SHARE * span)) * STEPS))


def _listed(need: Need, figures: Figures) -> Fit:
    """Without a reading there is only the maker's listing, which is a weak estimate."""
    low, high = (int(wanted_number(need, key)) for key in ("zone_lo", "zone_hi"))
    listed = _zones(figures)
    wants = _named(frozenset((low, high)))
    if listed.isdisjoint(range(low, high + 1)):
        return Fit(refusal=f"It is listed for UV zone {_named(listed)}, the build wants {wants}.")
    nearest_mm = 1000 * _spot(need).nearest_m
    if nearest_mm < UNREAD_MM:
        said = (
            f"Nothing is recorded of what it gives, and an animal comes within {rounded(nearest_mm)} mm of it"
        )
        return Fit(refusal=f"{said}; unread lamps stay {UNREAD_MM:g} mm away.")
    because = (
        f"It is listed for UV zone {_named(listed)}; no reading is recorded, so measure it (estimate).",
    )
    return Fit(because=because, rank=UNREAD)


def _zones(figures: Figures) -> frozenset[int]:
    value = figures.get("zones")
    listed = value if isinstance(value, list | tuple) else [value]
    return frozenset(int(zone) for zone in listed if isinstance(zone, int | float))


def _named(listed: frozenset[int]) -> str:
    return " or ".join(str(zone) for zone in sorted(listed)) or "none"


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
        "UVB harms eyes and skin: never look into the lit lamp, switch it off before working inside, keep "
        "the maker's distance to the highest place an animal reaches, always leave shade, and check with a "
        "UV index meter: computed figures are estimates. Albino and pale animals want the next lower zone."
    )
    found = [Caution("warning", CODE, text_)]
    if build.box.top_kind in CLOSED_TOPS:
        top = f"A {build.box.top_kind} top stops UVB: the lamp must hang inside, guarded."
        found.append(Caution("warning", CODE, top))
    if reading(figures) is None:
        unread = (
            "Nothing is recorded of what the UVB lamp gives, only for which zone it is sold: read the UV "
            "index at the animal's back and at its highest reach before it moves in."
        )
        found.append(Caution("warning", CODE, unread))
    return tuple(found)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """UVB output fades long before the light does."""
    return (Reminder("Measure the UV index or replace the UVB lamp", life_days(figures), CODE),)
