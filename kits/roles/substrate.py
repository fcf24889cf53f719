"""The soil, by style and volume."""

from kits.terms.build import Build
from kits.terms.conditions import SETTLE
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, words

CODE = "substrate"
ORDER = 40
IN_SOIL = False
LEAST_L = 0.01  # where hardscape fills the whole layer nothing is bought


def needs(build: Build) -> tuple[Need, ...]:
    """Poured litres that settle to the layer, less what buried hardscape takes up."""
    settled = build.layer_l(CODE)
    left = settled - min(build.displaced_l, settled)
    if left < LEAST_L:
        return ()
    poured = left * (1 + SETTLE[CODE])
    displaced = f", less {build.displaced_l:.2f} L of hardscape," if build.displaced_l > 0 else ""
    because = (
        f"{settled:.2f} L in place{displaced} and {SETTLE[CODE]:.1%} for settling make {poured:.2f} L.",
    )
    return (
        Need(CODE, litres=poured, wanted={"settled_l": left, "style": build.style.code}, because=because),
    )


def fit(need: Need, figures: Figures) -> Fit:
    """A soil that is listed for the style."""
    if positive(figures, "litres") is None:
        return missing("litres")
    styles, style = words(figures, "styles"), need.wanted["style"]
    if style not in styles:
        return Fit(refusal=f"It is listed for {', '.join(styles) or 'no style'}, not for {style}.")
    settle = number(figures, "settle")
    settle = SETTLE[CODE] if settle is None else settle
    because = (f"It is listed for {style} and settles by {settle:.1%}.",)
    return Fit(because=because, each=(1 + SETTLE[CODE]) / (1 + settle))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Dust and mould spores."""
    if figures is None:
        return ()
    return (Caution("note", CODE, "Moisten dusty soil before pouring it and do not breathe the dust."),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Soil sinks and wears out."""
    return (
        Reminder("Spot-clean droppings and old food", 1, CODE),
        Reminder("Top up soil that has sunk and loosen what has packed", 180, CODE),
    )
