"""A cover over a part of a mesh top, so that a dry room does not dry out a humid box."""

from kits.terms.build import Build
from kits.terms.conditions import CATALOGUE_RULE, humid, humidity_pct
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number

CODE = "mesh_cover"
ORDER = 270
IN_SOIL = False
SHARE = 0.5  # of the depth of the top; the rest stays open. Common practice, no source.
LEAST_OPEN = 0.2


def needs(build: Build) -> tuple[Need, ...]:
    """Half of a mesh top where the room is drier than the box is to be; mesh walls would leak it anyway."""
    box, (low, _) = build.box, humidity_pct(build)
    if (
        box.wall_material == "mesh"
        or box.top_kind != "mesh"
        or box.top_open_fraction < LEAST_OPEN
        or not humid(build)
    ):
        return ()
    if low is None or build.room.relative_humidity_pct >= low:
        return ()
    because = (
        f"The room's {build.room.relative_humidity_pct:g} % are below {low:g} %: half of the mesh is covered "
        f"({CATALOGUE_RULE}).",
    )
    wanted = {"width_mm": box.width_mm, "depth_mm": SHARE * box.depth_mm}
    return (Need(CODE, count=1, wanted=wanted, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """One sheet, either way round; it is cut to size."""
    width, depth = positive(figures, "width_mm"), positive(figures, "depth_mm")
    if width is None or depth is None:
        return missing("width_mm or depth_mm")
    wide, deep = (wanted_number(need, key) for key in ("width_mm", "depth_mm"))
    if (width >= wide and depth >= deep) or (depth >= wide and width >= deep):
        return Fit(because=(f"Its {width:g} x {depth:g} mm are cut to {wide:.0f} x {deep:.0f} mm.",))
    return Fit(refusal=f"Its {width:g} x {depth:g} mm do not cover {wide:.0f} x {deep:.0f} mm.")


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Covers melt, and shut out air."""
    if figures is None:
        return ()
    return (
        Caution(
            "warning", CODE, "Never lay a cover below or beside a hot lamp, and leave half of the mesh open."
        ),
    )


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Nothing to look after."""
    return ()
