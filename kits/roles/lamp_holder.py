"""The holder of the basking lamp, rated for its watts."""

from kits.terms.build import Build
from kits.terms.conditions import wants_basking
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, text, wanted_number

CODE = "lamp_holder"
ORDER = 150
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """One for the basking lamp."""
    if not wants_basking(build) or build.goes_without("basking_lamp"):
        return ()
    side = min(build.box.width_mm, build.box.depth_mm)
    because = ("It carries the basking lamp.",)
    return (Need(CODE, count=1, wanted={"side_mm": side}, because=because, serves="basking_lamp"),)


def fit(need: Need, figures: Figures) -> Fit:
    """A holder of known rating that goes on the top."""
    watts = positive(figures, "max_watts")
    if watts is None or not text(figures, "cap"):
        return missing("max_watts or cap")
    diameter, side = positive(figures, "diameter_mm"), wanted_number(need, "side_mm")
    if diameter is not None and diameter > side:
        return Fit(refusal=f"Its diameter of {diameter:g} mm is more than the {side:g} mm of the top.")
    return Fit(because=(f"It is rated for {watts:g} W.",))


def coupling(figures: Figures) -> Coupling:
    """A socket up to its rated watts; it stands beside the fixtures and takes its diameter of the top."""
    watts, cap = positive(figures, "max_watts"), text(figures, "cap")
    offers = () if watts is None or not cap else (Tie("socket", cap, watts),)
    diameter = positive(figures, "diameter_mm")
    return Coupling(offers=offers, takes={} if diameter is None else {"top_depth_mm": diameter})


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """The rating is a limit, not advice."""
    if figures is None:
        return ()
    text_ = (
        "Never put a lamp of more watts into the holder than its label allows; heat lamps "
        "ask for a ceramic holder."
    )
    return (Caution("warning", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Heat ages sockets and cables."""
    return (Reminder("Unplug the lamp holder and check socket and cable for scorching", 90, CODE),)
