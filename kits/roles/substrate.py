"""The soil, by style, volume, and the water and air that it holds where it lies."""

from collections.abc import Iterator

from kits.effects.soil import ROOT_AIR_PCT, Soil, band_words, bed, common_air, soil
from kits.terms.build import Build
from kits.terms.conditions import SETTLE, humid, planted
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import missing, number, positive, words
from kits.terms.rounding import figure, rounded

CODE = "substrate"
ORDER = 40
IN_SOIL = False
LEAST_L = 0.01  # where hardscape fills the whole layer nothing is bought
ALL, NONE = 100.0, 0.0
SEEN = 0.0005  # a share that shows when it is told in tenths of a per cent


def needs(build: Build) -> tuple[Need, ...]:
    """Poured litres that settle to the layer, less what buried hardscape takes up."""
    settled = build.layer_l(CODE)
    left = settled - min(build.displaced_l, settled)
    if left < LEAST_L:
        return ()
    poured = left * (1 + SETTLE[CODE])
    displaced = f", less {rounded(build.displaced_l, 2)} L of hardscape," if build.displaced_l > 0 else ""
    because = (
        f"{rounded(settled, 2)} L in place{displaced} and {SETTLE[CODE]:.1%} for settling make "
        f"{rounded(poured, 2)} L.",
        *_bounds_told(build),
    )
    wanted = {"settled_l": left, "style": build.style.code, "build": build}
    return (Need(CODE, litres=poured, wanted=wanted, because=because),)


def _bounds_told(build: Build) -> Iterator[str]:
    lies, bands = bed(build), {kind: band_words(build, kind) for kind in ("water", "air")}
    told = [words for words in bands.values() if words]
    if lies and told:
        yield f"Drained {lies.words} deep it is to hold {' and '.join(told)}."
    unbounded = " and ".join(kind for kind, words in bands.items() if not words)
    if unbounded:
        style = build.style.code
        yield f"No bounds on {unbounded} are known for {style}: any soil listed for it will do."
    if lies and planted(build) and (common := common_air(build)):
        yield f"Of air at the roots {common}."


def fit(need: Need, figures: Figures) -> Fit:
    """A soil that is listed for the style and holds its water and air at the built depth."""
    if positive(figures, "litres") is None:
        return missing("litres")
    styles, style = words(figures, "styles"), need.wanted["style"]
    if style not in styles:
        return Fit(refusal=f"It is listed for {', '.join(styles) or 'no style'}, not for {style}.")
    build = need.wanted["build"]
    assert isinstance(build, Build)
    holds = soil(build, figures)
    return _settling(figures, str(style)) if holds is None else _holding(build, figures, str(style), holds)


def _holding(build: Build, figures: Figures, style: str, holds: Soil) -> Fit:
    amounts = {"water": 100 * holds.water, "air": 100 * holds.air}
    water, air = (rounded(amount) for amount in amounts.values())
    said = f"Drained it holds {water} % water and {air} % air{_doubt(holds)}"
    shown: dict[str, object] = {
        "container_capacity_pct": round(amounts["water"], 1),
        "air_space_pct": round(amounts["air"], 1),
        "known_by_recipe_or_curve": holds.known,
    }
    judged = {"water": amounts["water"], "air": max(100 * holds.spare, NONE)}
    failed = [band_words(build, kind) for kind, amount in judged.items() if _outside(build, kind, amount)]
    if failed:
        return Fit(refusal=f"{said}; wanted {' and '.join(failed)}.", figures=shown)
    plain = _settling(figures, style)
    how = "; ".join(filter(None, (holds.source, holds.note)))
    return Fit(because=(*plain.because, f"{said} (estimate: {how})."), figures=shown, each=plain.each)


def _doubt(holds: Soil) -> str:
    if not holds.fits:
        return ", but its parts would hold more water than it has pores"
    return "" if holds.eased < SEEN else f", of which {rounded(100 * holds.spare, 1)} % can be counted on"


def _outside(build: Build, kind: str, amount: float) -> bool:
    low, high = (build.style.number(f"{kind}_{end}_pct") for end in ("lo", "hi"))
    return amount < (NONE if low is None else low) or amount > (ALL if high is None else high)


def _settling(figures: Figures, style: str) -> Fit:
    settle = number(figures, "settle")
    settle = SETTLE[CODE] if settle is None else settle
    because = (f"It is listed for {style} and settles by {settle:.1%}.",)
    return Fit(because=because, each=(1 + SETTLE[CODE]) / (1 + settle))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Dust and mould spores."""
    if figures is None:
        return ()
    dust = Caution("note", CODE, "Moisten dusty soil before pouring it and do not breathe the dust.")
    return (dust, *_little_air(build, figures))


def _little_air(build: Build, figures: Figures) -> tuple[Caution, ...]:
    """Where plants may want more air than the soil holds, and no bound of the style decides it."""
    holds, common = soil(build, figures), common_air(build)
    if holds is None or not common or not planted(build) or 100 * holds.spare >= ROOT_AIR_PCT[0]:
        return ()
    air = figure("air_space_pct", 100 * max(holds.spare, NONE))
    dry = not humid(build) and build.layer_l("drainage") <= 0
    text_ = (
        f"Soaked and drained, the soil holds about {air} % air (estimate): {common}. "
        + ("Water little, and at the plants only" if dry else "Take plants that stand wet roots")
        + ", or loosen the soil at their roots with coarse grit or bark."
    )
    return (Caution("note", CODE, text_),)


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Soil sinks and wears out."""
    return (
        Reminder("Spot-clean droppings and old food", 1, CODE),
        Reminder("Top up soil that has sunk and loosen what has packed", 180, CODE),
    )
