"""Drinking water, wherever there are animals."""

from kits.terms.build import Build, Occupant
from kits.terms.conditions import of_habit
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number
from kits.terms.rounding import rounded

CODE = "water_dish"
ORDER = 240
IN_SOIL = True
LARGEST_SHARE = 0.6  # of the shorter side of the floor
# Diameter over the length of the animal, and at most this share of the largest dish that the floor takes.
SNAKE_SHARE, BODY_SHARE, LEAST_OF_LARGEST = 0.1, 0.6, 0.6  # common practice, no source
LEAST_BATH_L = 1.0  # for animals that live half in water; common practice, no source


def needs(build: Build) -> tuple[Need, ...]:
    """One dish; a larger one for animals that bathe."""
    if not build.occupants:
        return ()
    bathing = bool(of_habit(build, "semi-aquatic"))
    largest = LARGEST_SHARE * min(build.box.width_mm, build.box.depth_mm)
    least = min(max(_least_mm(occupant) for occupant in build.occupants), LEAST_OF_LARGEST * largest)
    wanted = {"largest_mm": largest, "least_mm": least, "litres": LEAST_BATH_L if bathing else 0.0}
    why = "They bathe." if bathing else "Animals need clean water at all times."
    return (Need(CODE, count=1, wanted=wanted, because=(why,)),)


def _least_mm(occupant: Occupant) -> float:
    subject = occupant.subject
    length = subject.number("length_hi_mm") or 0.0
    return length * (SNAKE_SHARE if subject.text("length_basis") == "TL" else BODY_SHARE)


def fit(need: Need, figures: Figures) -> Fit:
    """A dish that leaves floor to walk on."""
    litres, diameter = positive(figures, "litres"), positive(figures, "diameter_mm")
    if litres is None or diameter is None:
        return missing("litres or diameter_mm")
    largest, smallest, least = (wanted_number(need, key) for key in ("largest_mm", "least_mm", "litres"))
    if diameter < smallest:
        return Fit(
            refusal=f"Its diameter of {diameter:g} mm is less than {rounded(smallest)} mm for these animals."
        )
    if diameter > largest:
        return Fit(
            refusal=(
                f"Its diameter of {diameter:g} mm is more than the {rounded(largest)} mm that leave room to "
                "walk."
            )
        )
    if litres < least:
        return Fit(refusal=f"Its {litres:g} L are less than the {least:g} L of a bath.")
    return Fit(because=(f"It holds {litres:g} L on {diameter:g} mm.",))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Hygiene."""
    if figures is None:
        return ()
    return (
        Caution(
            "note",
            CODE,
            "Let small animals climb out of the water dish.",
        ),
    )


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Fresh water every day."""
    return (Reminder("Give fresh water and wash the dish", 1, CODE),)
