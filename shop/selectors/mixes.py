"""The shop's mixes: what each is like where it will lie, what it costs, and the least-cost mix instead."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from inventory.calc.errors import Impossible
from inventory.errors import BadInput, FieldError, Unknown
from inventory.models import Mix, MixPart
from kits.models import Profile
from kits.physics.mix_bounds import STOCK, Bound, Bounds, Failure, listed
from kits.physics.mix_design import (
    MOST_INGREDIENTS,
    CheaperMix,
    Judgement,
    MixDesign,
    design_mix,
    judge_mix,
    nearest_cheaper,
)
from kits.physics.mixes import SHRINKAGE, Bed, Ingredient, MixFigures, calibration_of, measured_shrinkage
from kits.selectors.facts import facts
from kits.terms.facts import Facts, Figure, Subject
from shop.calc.mix_fields import BOUNDS, LITRES, Asked
from shop.selectors.ingredients import Loose, loose

DEPTH_MM = 100.0  # of a mix that no style is named for
SUBSTRATE = "substrate"


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a mix: parts by volume, its share of what is poured, and the litres for what is wanted."""

    loose: Loose
    parts: float
    share: float
    litres: float | None = None


@dataclass(frozen=True, slots=True)
class MixRow:
    """A mix at its style's usual depth; where a part is not known `unknown` says which, and no figure is."""

    code: str
    name: str
    styles: tuple[str, ...]
    style: Subject | None
    bed: Bed
    bounds: Bounds
    parts: tuple[Part, ...]
    judgement: Judgement | None
    unknown: tuple[str, ...]
    cents_per_l: float | None
    mixable_l: float | None
    measured: Figure | None = None  # the shop's own shrinkage of it, in per cent of what is poured

    @property
    def shrinkage(self) -> float | None:
        """The measured shrinkage, where it is what counts."""
        return self.figures.shrinkage if self.figures is not None and self.figures.measured else None

    @property
    def figures(self) -> MixFigures | None:
        """Water, air, density and the rest."""
        return None if self.judgement is None else self.judgement.figures

    @property
    def asked_for(self) -> tuple[Bound, ...]:
        """What is asked of it, one at a time."""
        return tuple(bound for bound in listed([], self.bounds) if not bound.is_physics)

    @property
    def failures(self) -> tuple[Failure, ...]:
        """The bounds that it does not keep, whatever is free."""
        return tuple(failure for failure in self._about(stock=False) if not failure.bound.is_physics)

    @property
    def is_overfull(self) -> bool:
        """Whether its parts would hold more water than it has pores, so that their sum cannot be right."""
        return self.figures is not None and self.figures.excess > 0

    @property
    def shortages(self) -> tuple[Failure, ...]:
        """What it takes for the litres wanted and is not free."""
        return self._about(stock=True)

    def _about(self, *, stock: bool) -> tuple[Failure, ...]:
        every = () if self.judgement is None else self.judgement.failures
        return tuple(failure for failure in every if (failure.bound.about == STOCK) is stock)


@dataclass(frozen=True, slots=True)
class Design:
    """The least-cost mix for a bed, cheaper ones that fail, what was left out, and why there is none."""

    pool: tuple[Loose, ...]
    made: MixDesign | None
    cheaper: tuple[CheaperMix, ...] = ()
    unpriced: tuple[str, ...] = ()
    left_out: str = ""
    refusal: str = ""


@dataclass(frozen=True, slots=True)
class Study:
    """A mix, the styles that it is made for, and everything that mixes can be made of."""

    mix: Mix
    styles: tuple[str, ...]
    ingredients: Mapping[str, Loose]
    facts: Facts

    @property
    def usable(self) -> tuple[Loose, ...]:
        """Ingredients of which enough is known to design with."""
        return tuple(one for one in self.ingredients.values() if one.known)

    @property
    def every_style(self) -> tuple[Subject, ...]:
        """The styles that one can ask for, its own first."""
        own = [self.facts.styles[style] for style in self.styles]
        return (*own, *(style for code, style in sorted(self.facts.styles.items()) if style not in own))


@dataclass(frozen=True, slots=True)
class MixPage:
    """One mix in the bed that is asked for, and what to make instead."""

    row: MixRow
    design: Design
    study: Study


def listing() -> list[MixRow]:
    """Every active mix by name, at the usual depth of its first style; six queries."""
    known = facts()
    ingredients = loose(known.media)
    recipes = _recipes(ingredients)
    listed = _listed_styles()
    return [
        _row(mix, recipes.get(mix.code, ()), Asked(), known, _styles(mix, known, listed))
        for mix in Mix.objects.filter(active=True).order_by("name")
    ]


def study(code: str) -> Study:
    """A mix with what there is to judge and to make it from; raises Unknown; six queries."""
    mix = Mix.objects.filter(code=code, active=True).first()
    if mix is None:
        raise Unknown("mix", code)
    known = facts()
    return Study(mix, _styles(mix, known, _listed_styles(code)), loose(known.media), known)


def page(found: Study, asked: Asked) -> MixPage:
    """One mix as asked; one query."""
    parts = _recipes(found.ingredients).get(found.mix.code, ())
    row = _row(found.mix, parts, asked, found.facts, found.styles)
    own = [part.loose for part in parts]
    return MixPage(row, _designed(found.usable, own, asked, row), found)


def usable() -> dict[str, Ingredient]:
    """Ingredients of which enough is known to design with, by item code; four queries."""
    return {code: one.known for code, one in loose(facts().media).items() if one.known}


def design(ingredients: Sequence[Ingredient], bounds: Bounds, bed: Bed) -> Design:
    """The least-cost mix of exactly these ingredients; raises BadInput where they cannot be compared."""
    unpriced = tuple(known.code for known in ingredients if not known.cents_per_l)
    try:
        made = design_mix(ingredients, bounds, bed)
        return Design((), made, nearest_cheaper(ingredients, bounds, bed, design=made), unpriced)
    except Impossible as impossible:
        raise BadInput(
            [FieldError("/ingredients", f"{impossible.argument} {impossible.sentence}.")]
        ) from impossible


def bounds_for(style: Subject | None, asked: Asked) -> Bounds:
    """The bounds of a style with what is asked in their place."""
    ends: dict[str, float] = {}
    for about in BOUNDS:
        for end in ("lo", "hi"):
            name = f"{about}_{end}"
            pct = None if style is None else style.number(f"{name}_pct")
            value = asked.numbers.get(name, None if pct is None else pct / 100)
            if value is not None:
                ends[name] = value
    return Bounds(**ends)


def bed_for(style: Subject | None, asked: Asked) -> Bed:
    """The depths asked for, else the style's usual ones, else 100 mm."""
    depths = {}
    for side in ("front", "back"):
        usual = None if style is None else style.number(f"substrate_{side}_mm")
        depths[side] = asked.numbers.get(side, DEPTH_MM if usual is None else usual)
    litres = asked.numbers.get("litres", LITRES)
    return Bed(front_mm=depths["front"], back_mm=depths["back"], litres=litres)


def _recipes(ingredients: Mapping[str, Loose]) -> dict[str, tuple[Part, ...]]:
    rows: dict[str, list[tuple[Loose, float]]] = {}
    for code, item, parts in MixPart.objects.order_by("-parts", "pk").values_list(
        "mix__code", "item__code", "parts"
    ):
        rows.setdefault(code, []).append((ingredients[item], float(parts)))
    return {code: _shared(parts) for code, parts in rows.items()}


def _shared(parts: Sequence[tuple[Loose, float]]) -> tuple[Part, ...]:
    total = sum(amount for _, amount in parts)
    return tuple(Part(one, amount, amount / total) for one, amount in parts)


def _listed_styles(code: str = "") -> dict[str, tuple[str, ...]]:
    """Styles by mix, as the bags of it are listed for them."""
    found: dict[str, tuple[str, ...]] = {}
    rows = Profile.objects.filter(role=SUBSTRATE, figures__has_key="mix")
    if code:
        rows = rows.filter(figures__mix=code)
    for figures in rows.order_by("pk").values_list("figures", flat=True):
        mix, styles = figures["mix"], figures.get("styles") or ()
        if mix:
            found[mix] = tuple(dict.fromkeys((*found.get(mix, ()), *styles)))
    return found


def _styles(mix: Mix, known: Facts, listed: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    recipe = known.mixes.get(mix.code)
    told = recipe.words("styles") if recipe else ()
    return tuple(style for style in told or listed.get(mix.code, ()) if style in known.styles)


def _row(mix: Mix, parts: tuple[Part, ...], asked: Asked, known: Facts, styles: tuple[str, ...]) -> MixRow:
    style = known.styles.get(asked.style or next(iter(styles), ""))
    bed, bounds = bed_for(style, asked), bounds_for(style, asked)
    unknown = tuple(part.loose.unknown for part in parts if part.loose.known is None)
    judgement, recipe = None, known.mixes.get(mix.code)
    if parts and not unknown:
        poured = [(part.loose.known, part.parts) for part in parts if part.loose.known]
        shrinkage = measured_shrinkage(recipe, poured) if recipe else None
        if shrinkage is not None:
            bed = replace(bed, calibration=calibration_of(poured, shrinkage))
        judgement = judge_mix(poured, bounds, bed, shrinkage=shrinkage)
        parts = tuple(_poured(part, judgement.figures, bed) for part in parts)
    return MixRow(
        mix.code, mix.name, styles, style, bed, bounds, parts, judgement, unknown or _none(parts),
        _cents_per_l(parts, judgement), _mixable_l(parts, judgement),
        recipe.figures.get(SHRINKAGE) if recipe else None,
    )  # fmt: skip


def _none(parts: Sequence[Part]) -> tuple[str, ...]:
    return () if parts else ("No parts are written down for this mix yet.",)


def _poured(part: Part, figures: MixFigures, bed: Bed) -> Part:
    """Litres to pour, more than are wanted by what vanishes in mixing."""
    return replace(part, litres=bed.litres * part.share / (1 - figures.shrinkage))


def _cents_per_l(parts: Sequence[Part], judgement: Judgement | None) -> float | None:
    """Cost of a finished litre; None where one of the parts has no cost."""
    costs = [part.loose.cents_per_l for part in parts]
    if judgement is None or None in costs:
        return None
    per_poured = sum(part.share * cents for part, cents in zip(parts, costs, strict=True) if cents)
    return per_poured / (1 - judgement.figures.shrinkage)


def _mixable_l(parts: Sequence[Part], judgement: Judgement | None) -> float | None:
    """Finished litres that what is free would make."""
    if judgement is None or any(part.loose.free_l is None for part in parts):
        return None
    poured = min((part.loose.free_l or 0.0) / part.share for part in parts)
    return poured * (1 - judgement.figures.shrinkage)


def _designed(usable: Sequence[Loose], own: Sequence[Loose], asked: Asked, row: MixRow) -> Design:
    ratios = row.bounds.carbon_nitrogen_lo, row.bounds.carbon_nitrogen_hi
    pool, left_out = _pool(usable, own, asked, wants_ratio=ratios != (None, None))
    ingredients = [one.known for one in pool if one.known]
    try:
        found = design(ingredients, row.bounds, row.bed)
    except BadInput as refused:
        return Design(pool, None, left_out=left_out, refusal=refused.sentence)
    return replace(found, pool=pool, left_out=left_out)


def _pool(
    usable: Sequence[Loose], own: Sequence[Loose], asked: Asked, *, wants_ratio: bool
) -> tuple[tuple[Loose, ...], str]:
    """The ingredients asked for, else those of the mix and the cheapest of the others that are free."""
    if asked.items:
        return tuple(one for one in usable if one.item in asked.items), ""
    others = [one for one in usable if one not in own and one.free_l]
    others.sort(key=lambda one: (one.cents_per_l is None, one.cents_per_l, one.item))
    wanted = [one for one in (*own, *others) if one.known]
    fit = [one for one in wanted if not wants_ratio or _ratio_known(one)]
    left = [one.name for one in wanted if one not in fit]
    sentence = f"Left out, as their carbon or nitrogen is not known: {'; '.join(left)}." if left else ""
    return tuple(fit[:MOST_INGREDIENTS]), sentence


def _ratio_known(one: Loose) -> bool:
    return one.known is not None and None not in (one.known.carbon_pct, one.known.nitrogen_pct)
