"""Hides, one for each animal, and a damp one where a dry box asks for it."""

from kits.terms.build import Build, Occupant
from kits.terms.conditions import free_height_mm, heads, of_habit, wants_basking
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, positive, wanted_number
from kits.terms.rounding import rounded

CODE = "hide"
ORDER = 220
IN_SOIL = True
# Length of a hide over the animal's own: a body curls up, a snake coils. Common practice, no source.
SHARE = {"SVL": 0.75, "SCL": 1.1, "TL": 0.18}
YOUNG_SHARE = 0.5


def needs(build: Build) -> tuple[Need, ...]:
    """One for each animal, a warm and a cool one for those of the ground; the damp one comes on top."""
    if not build.occupants:
        return ()
    places = max(heads(build), 2 if _has_gradient(build) else 1)
    length = max(_length_mm(occupant) for occupant in build.occupants)
    wanted = {
        "length_mm": length,
        "side_mm": max(build.box.width_mm, build.box.depth_mm),
        "height_mm": free_height_mm(build),
        "humid": False,
    }
    because = (f"One for each of {heads(build)}.",)
    if places > heads(build):
        because = ("One at the warm end and one at the cool end.",)
    found = [Need(CODE, slot="dry", count=places, wanted=wanted, because=because)]
    damp = sum(o.count for o in build.occupants if "humid hide" in o.subject.text("rh_pattern"))
    if damp:
        because = ("A dry box needs a damp place to shed.",)
        found.append(Need(CODE, slot="humid", count=damp, wanted={**wanted, "humid": True}, because=because))
    return tuple(found)


def _has_gradient(build: Build) -> bool:
    """Whether ground animals choose between a warm and a cool end (common practice, no source)."""
    return wants_basking(build) and bool(of_habit(build, "terrestrial", "fossorial", "saxicolous"))


def _length_mm(occupant: Occupant) -> float:
    subject = occupant.subject
    share = SHARE.get(subject.text("length_basis"), 0.75)
    length = subject.number("length_hi_mm") or 0.0
    return length * share * (YOUNG_SHARE if occupant.stage == "young" else 1.0)


def fit(need: Need, figures: Figures) -> Fit:
    """Long enough for the animal, small enough for the box."""
    length, height = positive(figures, "length_mm"), positive(figures, "height_mm")
    if length is None or height is None:
        return missing("length_mm or height_mm")
    wanted, side, air = (wanted_number(need, key) for key in ("length_mm", "side_mm", "height_mm"))
    if length < wanted:
        return Fit(
            refusal=f"Its length of {length:g} mm is less than the {rounded(wanted)} mm that it needs."
        )
    if length > side or height > air:
        return Fit(
            refusal=(
                f"Its {length:g} x {height:g} mm do not go into {side:g} mm of floor under "
                f"{rounded(air)} mm of air."
            )
        )
    humid = figures.get("humid") is True
    if need.wanted["humid"] and not humid:
        return Fit(refusal="It does not hold damp.")
    return Fit(
        because=(f"Its {length:g} mm take an animal that needs {rounded(wanted)} mm.",),
        rank=int(humid and not need.wanted["humid"]),
    )


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Heavy things crush."""
    if figures is None:
        return ()
    return (
        Caution(
            "warning",
            CODE,
            "Set heavy hides on the floor of the box, not on soil that an animal can dig away.",
        ),
    )


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Hides get dirty."""
    return (Reminder("Clean the hides", 30, CODE),)
