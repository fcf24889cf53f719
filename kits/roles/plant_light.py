"""Light for the plants."""

from kits.physics.geometry import overhang_mm
from kits.terms.build import Build
from kits.terms.conditions import CATALOGUE_RULE, humid, wants_plant_light
from kits.terms.needs import Coupling, Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, wanted_number

CODE = "plant_light"
ORDER = 130
IN_SOIL = False
OVERHANG_MM = 60.0
UTILISATION = 0.5  # share of the light that reaches the ground; estimate, measure it
PPFD_FOREST, PPFD_DRY = 40.0, 80.0  # lower ends of the medium and bright classes of the plant table
MOST_LAMPS = 3


def needs(build: Build) -> tuple[Need, ...]:
    """Light over the whole floor for plants of the middle class, or the bright class in a dry box."""
    if not wants_plant_light(build):
        return ()
    ppfd = PPFD_FOREST if humid(build) else PPFD_DRY
    flux = ppfd * build.box.footprint_m2 / UTILISATION
    box = build.box
    wanted = {"flux_umol_s": flux, "width_mm": box.width_mm, "depth_mm": box.depth_mm, "top": box.top_kind}
    because = (f"{ppfd:g} umol/m2/s on the floor ask for a lamp of {flux:.1f} umol/s ({CATALOGUE_RULE}).",)
    return (Need(CODE, count=1, wanted=wanted, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """A bar or panel that goes on the top and is bright enough, alone or with its like."""
    length, flux = positive(figures, "length_mm"), positive(figures, "flux_umol_s")
    if length is None or flux is None:
        return missing("length_mm or flux_umol_s")
    limit = number(figures, "overhang_mm")
    limit = OVERHANG_MM if limit is None else limit
    box_width, box_depth, wanted = (wanted_number(need, k) for k in ("width_mm", "depth_mm", "flux_umol_s"))
    width = positive(figures, "width_mm") or 0.0
    if overhang_mm(length, box_width) > limit or width > box_depth + 2 * limit:
        return Fit(
            refusal=(
                f"Its {length:g} x {width:g} mm stand out over the {box_width:g} x "
                f"{box_depth:g} mm of the top."
            )
        )
    lamps = max(1, -int(-wanted // flux))
    if lamps > MOST_LAMPS or lamps * width > box_depth + 2 * limit:
        return Fit(
            refusal=f"{lamps} lamps of {flux:g} umol/s would be needed, more than the top has room for."
        )
    return Fit(because=(f"{lamps} of {flux:g} umol/s reach {wanted:.1f} umol/s.",), each=1 / lamps)


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
