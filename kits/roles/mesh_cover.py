"""A cover over a part of a mesh top, so that a dry room does not dry out a humid box."""

from kits.effects.airing import (
    changes_at,
    covered_side_first,
    open_share_wanted,
    room_air_inside_pct,
    slot_rules,
    wants_cover,
    warm_air_c,
)
from kits.terms.build import Build
from kits.terms.conditions import humidity_pct
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number
from kits.terms.rounding import rounded

CODE = "mesh_cover"
ORDER = 270
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """As much of a mesh top as was asked for, or lets a dry room in faster than misting can make up for."""
    if not wants_cover(build):
        return ()
    side, other = covered_side_first(build)
    covered = 1 - open_share_wanted(build)
    warm_c, room_c = warm_air_c(build), build.room.temperature_c
    bare, kept = (changes_at(build, share, warm_c, room_c) for share in (1.0, 1 - covered))
    because = (
        f"{_why(build)}{covered:.0%} of the mesh is covered.",
        f"The bare mesh{_with_slot(build)} exchanges {rounded(bare)} times the air of the box in an hour, "
        f"covered {rounded(kept, 1)} (estimates to a factor of two).",
    )
    wanted = {"width_mm": other, "depth_mm": covered * side}
    return (Need(CODE, count=1, wanted=wanted, because=because),)


def _with_slot(build: Build) -> str:
    return "" if build.box.front_vent is None else " with the slot in the front"


def _why(build: Build) -> str:
    low, _ = humidity_pct(build)
    if build.box.covered_share is not None or low is None:
        return "As asked, "
    room_pct, warm_c = room_air_inside_pct(build), warm_air_c(build)
    return f"The room's air has {rounded(room_pct)} % at {rounded(warm_c)} C, below {low:g} %: "


def fit(need: Need, figures: Figures) -> Fit:
    """One sheet, either way round; it is cut to size."""
    width, depth = positive(figures, "width_mm"), positive(figures, "depth_mm")
    if width is None or depth is None:
        return missing("width_mm or depth_mm")
    wide, deep = (wanted_number(need, key) for key in ("width_mm", "depth_mm"))
    if (width >= wide and depth >= deep) or (depth >= wide and width >= deep):
        return Fit(
            because=(f"Its {width:g} x {depth:g} mm are cut to {rounded(wide)} x {rounded(deep)} mm.",)
        )
    return Fit(refusal=f"Its {width:g} x {depth:g} mm do not cover {rounded(wide)} x {rounded(deep)} mm.")


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Covers melt, and shut out air."""
    if figures is None:
        return ()
    hot = "Never lay a cover below or beside a hot lamp, and leave the rest of the mesh open."
    found = (Caution("warning", CODE, hot),)
    if not slot_rules(build):
        return found
    slot = (
        "The slot in the front lets in more air than misting can make up for, whatever lies on the mesh "
        "(estimate): cover a part of the slot, and look at the hygrometer."
    )
    return (*found, Caution("warning", CODE, slot))


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Nothing to look after."""
    return ()
