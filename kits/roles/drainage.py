"""The drainage layer under the soil, where the style wants one."""

from kits.terms.build import Build
from kits.terms.conditions import SETTLE
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive
from kits.terms.rounding import rounded

CODE = "drainage"
ORDER = 20
IN_SOIL = False


def needs(build: Build) -> tuple[Need, ...]:
    """Poured litres that settle to the layer."""
    settled = build.layer_l(CODE)
    if settled <= 0:
        return ()
    poured = settled * (1 + SETTLE[CODE])
    because = (
        f"{rounded(settled, 2)} L in place and {SETTLE[CODE]:.1%} for settling make {rounded(poured, 2)} L.",
    )
    return (Need(CODE, litres=poured, wanted={"settled_l": settled}, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """Anything open enough to hold water below the soil."""
    if positive(figures, "litres") is None:
        return missing("litres")
    void = number(figures, "void_fraction")
    if void is not None and not 0.2 <= void < 1:
        return Fit(refusal=f"Its void fraction of {void:g} is below the 0.2 that a reservoir needs.")
    settle = number(figures, "settle")
    settle = SETTLE[CODE] if settle is None else settle
    return Fit(because=(f"It settles by {settle:.1%}.",), each=(1 + SETTLE[CODE]) / (1 + settle))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Standing water must stay below the soil."""
    if figures is None:
        return ()
    text = "Keep the water in the drainage layer below the barrier: soil that stands in water turns foul."
    return (Caution("note", CODE, text),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Look at the water before it reaches the soil."""
    return (
        Reminder(
            "Check the water level in the drainage layer and siphon it when it nears the barrier", 14, CODE
        ),
    )
