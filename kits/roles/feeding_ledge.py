"""A ledge with cups for climbing animals that eat fruit."""

from kits.terms.build import Build
from kits.terms.conditions import of_habit
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import positive

CODE = "feeding_ledge"
ORDER = 280
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """A cup for each climbing fruit eater."""
    eaters = sum(o.count for o in of_habit(build, "arboreal") if _eats_fruit(o.subject.text("diet")))
    if not eaters:
        return ()
    return (
        Need(
            CODE,
            count=eaters,
            because=(f"Cups above the ground for {eaters} that lick fruit or nectar mixes.",),
        ),
    )


def _eats_fruit(diet: str) -> bool:
    prepared = ("prepared", "nectar")  # offered in cups; others take a little fruit among their insects
    return "fruit" in diet and any(word in diet for word in prepared)


def fit(need: Need, figures: Figures) -> Fit:
    """Cups are counted."""
    cups = max(1, int(positive(figures, "cups") or 1))
    return Fit(because=(f"It has {cups} cup{'s' if cups > 1 else ''}.",), each=float(cups))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Old fruit ferments."""
    return (Reminder("Take out old food and wash the cups", 1, CODE),)
