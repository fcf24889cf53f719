"""Branches and cork for animals that live above the ground."""

from kits.terms.build import Build
from kits.terms.conditions import free_height_mm, of_habit
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number
from kits.terms.rounding import rounded

CODE = "climb"
ORDER = 230
IN_SOIL = True
LEAST = 2
MOST = 12
SHARE_OF_HEIGHT = 0.5


def needs(build: Build) -> tuple[Need, ...]:
    """Two pieces, or one for each climbing animal when there are more: common practice, no source."""
    climbers = sum(occupant.count for occupant in of_habit(build, "arboreal"))
    if not climbers:
        return ()
    air, box = free_height_mm(build), build.box
    longest = (box.width_mm**2 + box.depth_mm**2 + air**2) ** 0.5
    count = min(MOST, max(LEAST, climbers))
    wanted = {"shortest_mm": SHARE_OF_HEIGHT * air, "longest_mm": longest}
    return (Need(CODE, count=count, wanted=wanted, because=(f"{climbers} live above the ground.",)),)


def fit(need: Need, figures: Figures) -> Fit:
    """Long enough to climb, short enough to go in on the slant."""
    length = positive(figures, "length_mm")
    if length is None:
        return missing("length_mm")
    shortest, longest = (wanted_number(need, key) for key in ("shortest_mm", "longest_mm"))
    if not shortest <= length <= longest:
        return Fit(
            refusal=f"Its length of {length:g} mm lies outside {rounded(shortest)} to {rounded(longest)} mm."
        )
    return Fit(because=(f"Its {length:g} mm go in on the slant.",))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Falling branches."""
    if figures is None:
        return ()
    return (Caution("note", CODE, "Wedge or screw branches fast, and keep them out of reach of hot lamps."),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Branches loosen."""
    return (Reminder("Check that branches and perches sit firmly", 30, CODE),)
