"""Light for the plants."""

import math

from kits.effects.brightness import Top, below_top, top, wanted_ppfd
from kits.effects.season import longest_h, shortest_h
from kits.physics.geometry import overhang_mm
from kits.physics.light import daily_light_integral
from kits.terms.build import Build
from kits.terms.conditions import wants_plant_light
from kits.terms.needs import Coupling, Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, wanted_number
from kits.terms.rounding import rounded

CODE = "plant_light"
ORDER = 130
IN_SOIL = False
OVERHANG_MM = 60.0
MOST_LAMPS = 3
DARK = 1e-6  # umol/m2/s; what brings less brings nothing
ROUNDING = 1e-9  # three lamps that bring just enough are three


def needs(build: Build) -> tuple[Need, ...]:
    """As much light at the ground as the most demanding of the chosen plants grows by."""
    if not wants_plant_light(build):
        return ()
    ppfd = wanted_ppfd(build)
    short, long = shortest_h(build), longest_h(build)
    days = f"{rounded(daily_light_integral(ppfd, short), 1)} mol/m2 in {short:g} hours"
    if long > short:
        most = rounded(daily_light_integral(ppfd, long), 1)
        days = f"{days} in the darkest month and {most} in {long:g} hours"
    because = (f"The ground is to get {rounded(ppfd)} umol/m2/s, or {days} (estimate).",)
    wanted = {"ppfd": ppfd, "top": top(build), "hours": short}
    return (Need(CODE, count=1, wanted=wanted, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """A bar or panel that goes on the top and is bright enough, alone or with its like."""
    lit, wanted = need.wanted["top"], wanted_number(need, "ppfd")
    assert isinstance(lit, Top)
    length, width = positive(figures, "length_mm"), positive(figures, "width_mm") or 0.0
    if length is None:
        return missing("length_mm or flux_umol_s")
    if lit.through <= 0:
        return Fit(refusal="The top of the box lets no light through to the plants.")
    limit = number(figures, "overhang_mm")
    limit = OVERHANG_MM if limit is None else limit
    box_width, box_depth = lit.width_mm, lit.depth_mm
    if overhang_mm(length, box_width) > limit or width > box_depth + 2 * limit:
        said = (
            f"Its {length:g} x {width:g} mm stand out over the {box_width:g} x {box_depth:g} mm of the top."
        )
        return Fit(refusal=said)
    one = below_top(lit, figures, lit.ground_m)
    if one is None:
        return missing("length_mm or flux_umol_s")
    lamps = max(1, math.ceil(wanted / max(one.mean, DARK) - ROUNDING))
    said = f"One brings {rounded(one.mean)} umol/m2/s to the ground; wanted {rounded(wanted)}"
    if lamps > MOST_LAMPS or lamps * width > box_depth + 2 * limit:
        return Fit(refusal=f"{said}: {lamps} would be needed, more than the top has room for.")
    reached = lamps * one.mean
    dli = daily_light_integral(reached, wanted_number(need, "hours"))
    shown = {"ppfd_floor": round(reached, 1), "dli_floor": round(dli, 2)}
    because = (f"{said}: {lamps} of them bring {rounded(reached)} (estimate).",)
    return Fit(because=because, figures=shown, each=1 / lamps)


def coupling(figures: Figures) -> Coupling:
    """It takes its width of the top."""
    width = positive(figures, "width_mm")
    return Coupling(takes={} if width is None else {"top_depth_mm": width})


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Animals need their own light."""
    if figures is None:
        return ()
    return (
        Caution(
            "note", CODE, "Plant light is a planning estimate: watch the growth and adjust hours or height."
        ),
    )


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Dust takes light."""
    return (Reminder("Unplug the plant light and wipe it", 60, CODE),)
