"""One mix as its page shows it: fields with hints, the drawing, figures, bounds and where they come from."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from django.utils.safestring import SafeString, mark_safe

from inventory.errors import FieldError
from inventory.units import length_in_both
from kits.drawings.retention_curve import SoilPicture, retention_curve
from kits.drawings.svg import svg
from kits.physics.mix_bounds import NAMES, Bound
from kits.physics.mix_design import CheaperMix, MixDesign
from kits.physics.mixes import CURVE, POROSITY, Bed, MixFigures, mix_figures
from kits.terms.facts import Subject
from kits.terms.rounding import rounded
from shop.calc.mix_fields import NUMBERS, STYLE, WITH, Asked
from shop.selectors.ingredients import Loose
from shop.selectors.mixes import MixPage, MixRow

# On a phone the same picture has half the points across, so that its letters keep their size.
PICTURES_PT = {"broad": ("mix-curve", 480.0, 330.0), "slim": ("mix-curve-slim", 240.0, 270.0)}
STEPS = 24
CENTS = 100
ASKED = "asked for here"
SEEN = 0.0005  # a share that shows when it is told in tenths of a per cent
# What a part of a mix is known by: words, the figure whose source speaks for all of them, and its unit.
KNOWN_BY = (
    ("grain, mm", "grain_mm"),
    ("voids between grains", "void_fraction"),
    ("pores as poured", POROSITY),
    ("dry density, kg/L", "density_kg_l"),
    ("carbon, % of dry mass", "carbon_pct"),
    ("nitrogen, % of dry mass", "nitrogen_pct"),
)


@dataclass(frozen=True, slots=True)
class ShownField:
    """A field with what was typed, what stands for silence, and what is wrong."""

    name: str
    label: str
    value: str
    hint: str
    fault: str


def sheet(
    page: MixPage, asked: Asked, texts: Mapping[str, str], faults: Sequence[FieldError], *, with_cost: bool
) -> dict[str, Any]:
    """Everything that the template asks for; money only for those who may see what the shop paid."""
    row = page.row
    return {
        "row": row,
        "fields": _fields(page, asked, texts, faults),
        "depth": _depth(row.bed),
        "pictures": _pictures(page),
        "figures": [] if row.figures is None else list(_figures(row.figures, page)),
        "bounds": list(_bounds(page, asked)),
        "cost": _cents(row.cents_per_l) if with_cost else None,
        "design": page.design,
        "made": None if page.design.made is None else _design(page.design.made, with_cost=with_cost),
        "cheaper": [_cheaper(mix, with_cost=with_cost) for mix in page.design.cheaper],
        "saves": _saves(page) if with_cost else None,
        "unpriced": [one.name for one in page.design.pool if one.item in page.design.unpriced],
        "sources": list(_sources(page)),
    }


def _fields(
    page: MixPage, asked: Asked, texts: Mapping[str, str], faults: Sequence[FieldError]
) -> dict[str, ShownField]:
    wrong = {fault.pointer.removeprefix("/"): fault.detail for fault in faults}
    hints = {name: _hint(name, page.row.style, asked) for name in NUMBERS}
    shown = {
        name: ShownField(name, told.name, texts.get(name, ""), hints[name], wrong.get(name, ""))
        for name, told in NUMBERS.items()
    }
    for name, label in ((STYLE, "Style"), (WITH, "Ingredients")):
        shown[name] = ShownField(name, label, texts.get(name, ""), "", wrong.get(name, ""))
    return shown


def _hint(name: str, style: Subject | None, asked: Asked) -> str:
    """What counts where the field is silent; a depth that was typed in both systems."""
    if name in ("front", "back"):
        if name in asked.numbers:
            return f"= {length_in_both(round(asked.numbers[name]))}"
        usual = None if style is None else style.number(f"substrate_{name}_mm")
        return "" if usual is None else f"usual {length_in_both(round(usual))}"
    told = None if style is None else style.number(f"{name}_pct")
    return "" if told is None else f"{style.name.lower() if style else ''}: {told:g} %"


def _depth(bed: Bed) -> str:
    front, back = (length_in_both(round(mm)) for mm in (bed.front_mm, bed.back_mm))
    return front if front == back else f"{front} in front to {back} behind"


def _pictures(page: MixPage) -> dict[str, SafeString]:
    """The mix as a level layer of any height, and what it is at the mean of the depths asked for."""
    row = page.row
    if row.figures is None:
        return {}
    poured = [(part.loose.known, part.parts) for part in row.parts if part.loose.known]
    built = (row.bed.front_mm + row.bed.back_mm) / 2
    heights = [max(2 * built, 200.0) * step / STEPS for step in range(1, STEPS + 1)]
    layers = [mix_figures(poured, Bed.level(height), shrinkage=row.shrinkage) for height in heights]
    drawn = SoilPicture(
        name=row.name,
        heights_mm=heights,
        water_pct=[100 * layer.water for layer in layers],
        pore_pct=100 * row.figures.pores,
        built_mm=built,
        water_bounds=_band(page, "water"),
        air_bounds=_band(page, "air"),
    )
    title = f"Water and air of {row.name} against the height of its layer"
    water, air = _pct(row.figures.water), _pct(row.figures.air)
    told = f"At {rounded(built)} mm {water} water and {air} air; an estimate."
    return {
        screen: mark_safe(  # noqa: S308 - own drawing
            svg(
                retention_curve(drawn, width=width, height=height),
                name=name,
                title=title,
                description=told,
            )
        )
        for screen, (name, width, height) in PICTURES_PT.items()
    }


def _band(page: MixPage, about: str) -> tuple[float, float] | None:
    low, high = (getattr(page.row.bounds, f"{about}_{end}") for end in ("lo", "hi"))
    if not low and high is None:
        return None
    return 100 * (low or 0.0), 100 * (1.0 if high is None else high)


def _figures(figures: MixFigures, page: MixPage) -> Iterator[tuple[str, str, str]]:
    """Name, figure and how it comes about."""
    drained = f"drained, {_depth(page.row.bed)}"
    yield "water held", _pct(figures.water), f"{drained}; {_water_words(figures)}"
    yield "air", _pct(figures.air), f"{drained}; what water leaves of the pores, {_air_words(figures)}"
    yield "pores", _pct(figures.pores), "what is not solid"
    yield (
        "dry density",
        f"{rounded(figures.density_kg_l, 2)} kg/L",
        "mass of the parts over the finished volume",
    )
    ratio = figures.carbon_nitrogen
    yield "C:N", "not known" if ratio is None else f"{rounded(ratio)}", _ratio_words(page)
    yield "shrinkage", _pct(figures.shrinkage), _shrinkage_words(page.row)
    if figures.excess:
        yield "more than fits", _pct(figures.excess), "what its parts would hold beyond the pores of the mix"


def _air_words(figures: MixFigures) -> str:
    """Between what the air lies, and what bounds are held against where more is told."""
    span, counted = _span(figures.air_lo, figures.air_hi), max(figures.spare, 0.0)
    return (
        f"{span}; {rounded(100 * counted, 1)} % can be counted on" if figures.air - counted > SEEN else span
    )


def _water_words(figures: MixFigures) -> str:
    """How the water comes about and between what it lies."""
    summed = "the water of the parts added up"
    if figures.excess or figures.water_hi - figures.water > SEEN:
        summed = (
            "more than fits, eased off" if figures.excess else f"{summed}, less the air that stays trapped"
        )
    return (
        f"{summed}; {_span(figures.water_lo, figures.water_hi)}, by whether the pores that vanish hold water"
    )


def _shrinkage_words(row: MixRow) -> str:
    """How the shrinkage comes about: measured, or worked out although a measured one stands there."""
    vanishes = "of what is poured vanishes"
    if row.measured is None:
        return f"{vanishes}: fine parts fill the gaps of the coarse; nobody has measured it of this mix"
    if row.shrinkage is None:
        told = f"the {row.measured.value:g} % {row.measured.source} would leave no room for what is solid"
        return f"{vanishes}, worked out: {told}"
    hard = f"{row.bed.calibration:.0%} of what hard grains would lose, taken for other mixes on this page too"
    return f"{vanishes}: {row.measured.source}; {hard}"


def _span(low: float, high: float) -> str:
    return _pct(high) if _pct(low) == _pct(high) else f"{rounded(100 * low)} to {_pct(high)}"


def _ratio_words(page: MixPage) -> str:
    unknown = [
        part.loose.name
        for part in page.row.parts
        if part.loose.known and None in (part.loose.known.carbon_pct, part.loose.known.nitrogen_pct)
    ]
    return f"not known of {'; '.join(unknown)}" if unknown else "by the dry mass of what decays"


def _bounds(page: MixPage, asked: Asked) -> Iterator[tuple[str, str]]:
    """Every bound in words with its mark and source."""
    style = page.row.style
    for bound in page.row.asked_for:
        name = f"{bound.about}_{'lo' if bound.least else 'hi'}"
        if name in asked.numbers:
            yield _capital(bound.words), ASKED
        elif style is not None and (source := style.source(f"{name}_pct")):
            yield _capital(bound.words), source


def _design(made: MixDesign, *, with_cost: bool) -> dict[str, Any]:
    return {
        "parts": made.parts,
        "figures": made.figures,
        "cost": _cents(made.cents) if with_cost else None,
        "binding": [_capital(bound.words) for bound in made.binding],
        "clash": made.clash,
    }


def _cheaper(mix: CheaperMix, *, with_cost: bool) -> dict[str, Any]:
    return {
        "without": _without(mix.without),
        "parts": mix.design.parts,
        "failures": [failure.sentence for failure in mix.failures],
        "saving": _cents(mix.saving_cents) if with_cost else None,
        "cost": _cents(mix.design.cents) if with_cost else None,
    }


def _without(bound: Bound) -> str:
    return NAMES.get(bound.about, bound.words)


def _saves(page: MixPage) -> float | None:
    """What the least-cost mix saves against the recipe for the same litres, where both are priced."""
    made, per_litre = page.design.made, page.row.cents_per_l
    if made is None or not made.parts or per_litre is None:
        return None
    saved = per_litre * page.row.bed.litres - made.cents
    return _cents(saved) if saved >= 0.5 else None


def _sources(page: MixPage) -> Iterator[dict[str, str]]:
    """Each figure that a part is known by, with mark and source."""
    for part in page.row.parts:
        medium = part.loose.medium
        if medium is None:
            continue
        curve = ", ".join(f"{medium.number(key):g}" for key in CURVE if medium.number(key) is not None)
        yield _source(part.loose, "water curve: theta r, theta s, alpha per cm, n", curve, medium, "theta_s")
        for words, key in KNOWN_BY:
            value = medium.number(key)
            if key == POROSITY and value is None:
                continue  # its curve says it
            yield _source(part.loose, words, "not known" if value is None else f"{value:g}", medium, key)


def _source(one: Loose, words: str, value: str, medium: Subject, key: str) -> dict[str, str]:
    figure = medium.figures.get(key)
    return {
        "part": one.name,
        "what": words,
        "value": value,
        "mark": figure.mark if figure else "",
        "source": figure.source if figure else "",
    }


def _cents(cents: float | None) -> float | None:
    return None if cents is None else round(cents / CENTS, 4)


def _pct(share: float) -> str:
    return f"{rounded(100 * share)} %"


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
