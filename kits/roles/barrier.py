"""The mesh between drainage and soil, cut to the footprint."""

from kits.physics.geometry import sheets_to_cover
from kits.terms.build import Build
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number

CODE = "barrier"
ORDER = 30
IN_SOIL = False
OVERLAP_MM = 30.0
MOST_SHEETS = 8


def needs(build: Build) -> tuple[Need, ...]:
    """One cover of the footprint, where soil lies on drainage."""
    if build.layer_l("drainage") <= 0 or build.layer_l("substrate") <= 0:
        return ()
    width, depth = build.box.width_mm, build.box.depth_mm
    because = (f"It parts drainage and soil over the whole floor of {width:g} x {depth:g} mm.",)
    return (Need(CODE, count=1, wanted={"width_mm": width, "depth_mm": depth}, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """Whole sheets side by side; sheets are cut down, never pieced out of scraps."""
    width, depth = (
        positive(figures, "width_mm"),
        positive(figures, "depth_mm") or positive(figures, "length_mm"),
    )
    if width is None or depth is None:
        return missing("width or depth")
    if min(width, depth) <= OVERLAP_MM:
        return Fit(refusal=f"Its {min(width, depth):g} mm are no more than the overlap of {OVERLAP_MM:g} mm.")
    floor_width, floor_depth = (wanted_number(need, key) for key in ("width_mm", "depth_mm"))
    sheets = sheets_to_cover(floor_width, floor_depth, width, depth, OVERLAP_MM)
    if sheets > MOST_SHEETS:
        return Fit(
            refusal=f"{sheets} sheets of {width:g} x {depth:g} mm would be needed, more than {MOST_SHEETS}."
        )
    return Fit(because=(f"{sheets} of {width:g} x {depth:g} mm cover the floor.",), each=1 / sheets)


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Nothing to look after."""
    return ()
