"""What the UVB lamp sits in, on top of the box."""

from dataclasses import replace

from kits.effects.sunlight import reflector_share
from kits.physics.geometry import overhang_mm
from kits.terms.build import Build
from kits.terms.conditions import wants_uvb
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, text, wanted_number
from kits.terms.rounding import rounded

CODE = "uvb_fixture"
ORDER = 120
IN_SOIL = False
OVERHANG_MM = 60.0


def needs(build: Build) -> tuple[Need, ...]:
    """One for the UVB lamp."""
    if not wants_uvb(build) or build.goes_without("uvb_lamp"):
        return ()
    box = build.box
    wanted = {"width_mm": box.width_mm, "depth_mm": box.depth_mm, "top": box.top_kind}
    because = ("It carries the UVB lamp.",)
    return (Need(CODE, count=1, wanted=wanted, because=because, serves="uvb_lamp"),)


def fit(need: Need, figures: Figures) -> Fit:
    """It rests on two rims, or on the mesh between them, or is screwed under a closed top."""
    length, depth = positive(figures, "length_mm"), positive(figures, "width_mm")
    if length is None or positive(figures, "max_watts") is None:
        return missing("length_mm or max_watts")
    box_depth = wanted_number(need, "depth_mm")
    if depth is not None and depth > box_depth:
        return Fit(refusal=f"Its width of {depth:g} mm is more than the {box_depth:g} mm of the top.")
    limit = number(figures, "overhang_mm")
    found = _lies(need, length, OVERHANG_MM if limit is None else limit)
    return replace(found, figures={"reflector_pct": round(100 * reflector_share(figures))})


def _lies(need: Need, length: float, limit: float) -> Fit:
    width = wanted_number(need, "width_mm")
    for span in (width, wanted_number(need, "depth_mm")):
        over = overhang_mm(length, span)
        if 0 <= over <= limit:
            where = f"rest on two rims {span:g} mm apart, {rounded(over)} mm over each end"
            return Fit(because=(f"Its {length:g} mm {where}.",))
    if length > width + 2 * limit:
        return Fit(refusal=f"Its {length:g} mm are more than {width:g} mm and {limit:g} mm over each end.")
    if need.wanted["top"] == "open":
        return Fit(refusal=f"Its {length:g} mm do not reach from rim to rim of an open top.")
    return Fit(because=(f"Its {length:g} mm lie within the {width:g} mm of the {need.wanted['top']} top.",))


def coupling(figures: Figures) -> Coupling:
    """A socket for its cap, and for the length when it is for tubes; it takes its width of the top."""
    cap, length = text(figures, "cap"), positive(figures, "lamp_length_mm")
    key = f"{cap}:{length:g}" if length is not None else cap
    watts, width = positive(figures, "max_watts"), positive(figures, "width_mm")
    takes = {} if width is None else {"top_depth_mm": width}
    if watts is None or not cap:
        return Coupling(takes=takes)
    share = reflector_share(figures)
    throws = (Tie("reflector", "", share), Tie("weak_reflector", "", 1 / share))
    return Coupling(offers=(Tie("uvb_socket", key, watts), *throws), takes=takes)


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Mesh must carry the fixture."""
    if figures is None:
        return ()
    if build.box.top_kind != "mesh":
        return ()
    text_ = (
        "See that the mesh carries the fixture; mesh also takes away part of the UVB, so measure below it."
    )
    return (Caution("note", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Dust takes light."""
    return (Reminder("Unplug the UVB fixture and wipe its reflector and the mesh below it", 60, CODE),)
