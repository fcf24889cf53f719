"""The timer that makes day and night."""

from kits.terms.build import Build
from kits.terms.conditions import lit_loads
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive

CODE = "timer"
ORDER = 190
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """An outlet for each lamp."""
    loads = lit_loads(build)
    if not loads:
        return ()
    named = ", ".join(load.replace("_", " ") for load in loads)
    return (Need(CODE, count=len(loads), because=(f"It switches {named}.",)),)


def fit(need: Need, figures: Figures) -> Fit:
    """Outlets are counted, the rating must be known."""
    watts, outlets = positive(figures, "max_watts"), positive(figures, "outlets") or 1.0
    if watts is None:
        return missing("max_watts")
    return Fit(because=(f"It switches {outlets:g} outlets, {watts:g} W.",), each=float(max(1, int(outlets))))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of beyond the ratings."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Clocks drift, seasons change."""
    return (Reminder("Check the timer's clock and set the hours of the season", 30, CODE),)
