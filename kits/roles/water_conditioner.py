"""What makes tap water fit for amphibians and for standing water."""

from kits.terms.build import Build
from kits.terms.conditions import amphibians
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive

CODE = "water_conditioner"
ORDER = 300
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """One bottle where skin or scenery takes up water."""
    frogs = amphibians(build)
    if not frogs and build.style.code != "water-margin":
        return ()
    why = "Amphibians take up water through the skin." if frogs else "Water stands in the scenery."
    return (Need(CODE, count=1, because=(why,)),)


def fit(need: Need, figures: Figures) -> Fit:
    """Any whose dose is known."""
    treats = positive(figures, "treats_l")
    return (
        missing("dose (treats_l)") if treats is None else Fit(because=(f"It treats {treats:g} L of water.",))
    )


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Chlorine harms skin that breathes."""
    if figures is None:
        return ()
    return (Caution("note", CODE, "Treat tap water before it touches amphibians or standing water."),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Nothing to look after."""
    return ()
