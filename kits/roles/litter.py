"""Leaf litter on the soil."""

from kits.terms.build import Build
from kits.terms.conditions import SETTLE
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, words
from kits.terms.rounding import rounded

CODE = "litter"
ORDER = 70
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
    return (
        Need(CODE, litres=poured, wanted={"settled_l": settled, "style": build.style.code}, because=because),
    )


def fit(need: Need, figures: Figures) -> Fit:
    """Litter that is listed for the style, or for none in particular."""
    if positive(figures, "litres") is None:
        return missing("litres")
    styles, style = words(figures, "styles"), need.wanted["style"]
    if styles and style not in styles:
        return Fit(refusal=f"It is listed for {', '.join(styles)}, not for {style}.")
    settle = number(figures, "settle")
    settle = SETTLE[CODE] if settle is None else settle
    return Fit(because=(f"It settles by {settle:.1%}.",), each=(1 + SETTLE[CODE]) / (1 + settle))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Litter is eaten."""
    return (Reminder("Top up the leaf litter, which the clean-up crew eats", 90, CODE),)
