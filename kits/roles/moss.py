"""Moss on a part of the ground, in styles that stay damp."""

from kits.terms.build import Build
from kits.terms.conditions import SETTLE, yes
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, words
from kits.terms.rounding import rounded

CODE = "moss"
ORDER = 60
IN_SOIL = False
SHARE_OF_FLOOR = 0.25
THICKNESS_MM = 25.0


def needs(build: Build) -> tuple[Need, ...]:
    """Litres for a quarter of the floor, 25 mm thick: common practice, no source."""
    if not yes(build.style, CODE):
        return ()
    litres = build.box.footprint_m2 * SHARE_OF_FLOOR * THICKNESS_MM
    because = (
        f"A quarter of the floor, {THICKNESS_MM:g} mm thick, makes {rounded(litres, 2)} L (common practice).",
    )
    wanted = {"settled_l": litres, "style": build.style.code}
    return (Need(CODE, litres=litres, wanted=wanted, because=because),)


def fit(need: Need, figures: Figures) -> Fit:
    """A moss that is listed for the style."""
    if positive(figures, "litres") is None:
        return missing("litres")
    styles, style = words(figures, "styles"), need.wanted["style"]
    if style not in styles:
        return Fit(refusal=f"It is listed for {', '.join(styles) or 'no style'}, not for {style}.")
    settle = number(figures, "settle") or SETTLE[CODE]
    return Fit(because=(f"It is listed for {style}.",), each=(1 + SETTLE[CODE]) / (1 + settle))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Nothing to warn of."""
    return ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Moss dries first."""
    return (Reminder("Check that the moss is damp, never soaked", 7, CODE),)
