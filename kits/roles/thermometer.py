"""Thermometers for the warm and the cool end."""

from kits.terms.build import Build
from kits.terms.conditions import wants_basking, wants_night_heat
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import positive

CODE = "thermometer"
ORDER = 200
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """Two probes where something heats, one elsewhere."""
    heated = wants_basking(build) or wants_night_heat(build)
    why = "Warm and cool end are measured." if heated else "The temperature is to be known."
    return (Need(CODE, count=2 if heated else 1, because=(why,)),)


def fit(need: Need, figures: Figures) -> Fit:
    """Probes are counted."""
    probes = max(1, int(positive(figures, "probes") or 1))
    return Fit(because=(f"It has {probes} probe{'s' if probes > 1 else ''}.",), each=float(probes))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Figures of a plan are estimates."""
    if figures is not None or not build.occupants:
        return ()
    return (
        Caution("warning", CODE, "Without a thermometer nobody knows whether the animals are warm enough."),
    )


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Read it."""
    return (Reminder("Read the temperatures", 1, CODE),)
