"""The dimmer that sets the basking surface."""

from kits.terms.build import Build
from kits.terms.conditions import wants_basking
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive

CODE = "dimmer"
ORDER = 160
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """One for a basking lamp that no dimming thermostat drives: two dimmers in a row disturb each other."""
    if not wants_basking(build) or build.goes_without("basking_lamp") or not _lacks_dimming(build):
        return ()
    because = ("It sets the temperature below the basking lamp.",)
    return (Need(CODE, count=1, because=because, serves="basking_lamp"),)


def _lacks_dimming(build: Build) -> bool:
    """No thermostat is wanted, or the customer's only switches on and off."""
    owned = build.owned.get("thermostat", {})
    return "thermostat" in build.without or owned.get("kind") == "on-off"


def fit(need: Need, figures: Figures) -> Fit:
    """A dimmer of known rating."""
    watts = positive(figures, "max_watts")
    return missing("max_watts") if watts is None else Fit(because=(f"It is rated for {watts:g} W.",))


def coupling(figures: Figures) -> Coupling:
    """Control of a lamp up to its rated watts."""
    watts = positive(figures, "max_watts")
    return Coupling() if watts is None else Coupling(offers=(Tie("control", "basking_lamp", watts),))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of beyond the ratings."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Nothing to look after."""
    return ()
