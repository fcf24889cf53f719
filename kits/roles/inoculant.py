"""Soil life from a packet, dosed by the volume of the soil."""

from kits.terms.build import Build
from kits.terms.conditions import yes
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number
from kits.terms.rounding import rounded

CODE = "inoculant"
ORDER = 50
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """A dose for the soil in place, in styles whose soil is meant to live."""
    litres = build.layer_l("substrate")
    if litres <= 0 or not yes(build.style, CODE):
        return ()
    return (
        Need(
            CODE,
            count=1,
            wanted={"litres": litres},
            because=(f"{rounded(litres, 1)} L of soil are to be treated.",),
        ),
    )


def fit(need: Need, figures: Figures) -> Fit:
    """One packet treats so many litres."""
    treats = positive(figures, "treats_l")
    if treats is None:
        return missing("dose (treats_l)")
    litres = wanted_number(need, "litres")
    return Fit(because=(f"One treats {treats:g} L of soil.",), each=min(1.0, treats / litres))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """The maker's dose wins."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Nothing to look after."""
    return ()
