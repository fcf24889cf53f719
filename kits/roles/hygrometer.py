"""The hygrometer, wherever a humidity is wanted."""

from kits.terms.build import Build
from kits.terms.conditions import humidity_pct
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder

CODE = "hygrometer"
ORDER = 210
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """One where a band of humidity is known."""
    low, high = humidity_pct(build)
    if low is None and high is None:
        return ()
    band = " to ".join(f"{bound:g}" for bound in (low, high) if bound is not None)
    return (Need(CODE, count=1, because=(f"{band} % relative humidity is to be held.",)),)


def fit(need: Need, figures: Figures) -> Fit:
    """Any will do."""
    return Fit(because=("It reads relative humidity.",))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Sensors drift."""
    return (
        Reminder("Read the humidity", 1, CODE),
        Reminder("Check the hygrometer over a saturated salt solution (75 % at room temperature)", 180, CODE),
    )
