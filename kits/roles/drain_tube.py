"""A tube down to the drainage layer, through which water is siphoned off."""

from kits.terms.build import Build
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number
from kits.terms.rounding import rounded

CODE = "drain_tube"
ORDER = 260
IN_SOIL = False
STANDS_OUT_MM = 20.0


def needs(build: Build) -> tuple[Need, ...]:
    """One that reaches from the floor to above the ground, where there is drainage."""
    if build.layer_l("drainage") <= 0:
        return ()
    front, _ = build.surface_mm()
    length = front + STANDS_OUT_MM
    because = (
        f"From the floor to {STANDS_OUT_MM:g} mm above the ground at the front: {rounded(length)} mm.",
    )
    return (Need(CODE, count=1, wanted={"length_mm": length}, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """Long enough; it is cut to length."""
    length, wanted = positive(figures, "length_mm"), wanted_number(need, "length_mm")
    if length is None:
        return missing("length_mm")
    if length < wanted:
        return Fit(refusal=f"Its length of {length:g} mm is less than {rounded(wanted)} mm.")
    return Fit(because=(f"Its {length:g} mm are cut to {rounded(wanted)} mm.",))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Small animals fall in."""
    if figures is None:
        return ()
    return (
        (Caution("note", CODE, "Cap the drain tube so that no animal falls in."),) if build.occupants else ()
    )


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Told by the drainage."""
    return ()
