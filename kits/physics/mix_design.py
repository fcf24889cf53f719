"""The least-cost mix that keeps to bounds, what bounds clash, and what a cheaper mix would fail.

Per finished litre every figure is linear in the poured litres x, but for the finished volume itself: that is
(1 - k) sum x + k max V_i(x), where the grains of ingredient i set the volume and every V_i is linear. So the
mixes
that make one litre are a union of pieces, one for each i that may set the volume: V_i at least every other
V_j of
the ingredients that are in, (1 - k) sum x + k V_i = 1. Each piece is a small linear programme. An ingredient
is in
with at least LEAST_PART or left out; left out, its V_j says nothing. That choice is branched on, best bound
first, so
the answer is the exact optimum over all pieces and choices.
"""

import heapq
import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from inventory.calc.errors import Impossible
from kits.physics.linear import LeastCost, Limit
from kits.physics.mix_bounds import (
    RATIO,
    SHARE,
    STOCK,
    Bound,
    Bounds,
    Failure,
    as_limit,
    clash,
    failures,
    listed,
)
from kits.physics.mixes import Bed, Ingredient, MixFigures, MixPart, mix_figures, packing

MOST_INGREDIENTS = 8
LEAST_PART = 0.005  # of a finished litre: less cannot be measured out
PRESENT = 1e-7  # litres per finished litre; below it the solver means none
TIGHT = 1e-6  # of a finished litre's figures; a bound this near is binding
MOST_POURED = 10.0  # litres per finished litre, far above what any mix shrinks


@dataclass(frozen=True, slots=True)
class MixDesign:
    """The least-cost mix for the litres of a bed; no parts and the clashing bounds where there is none."""

    parts: tuple[MixPart, ...]
    cents: float
    figures: MixFigures | None
    binding: tuple[Bound, ...] = ()
    clashing: tuple[Bound, ...] = ()
    clash: str = ""

    @property
    def feasible(self) -> bool:
        """Whether a mix keeps all bounds."""
        return bool(self.parts)


@dataclass(frozen=True, slots=True)
class Judgement:
    """A given mix in a bed: its figures, and each bound that it fails."""

    figures: MixFigures
    failures: tuple[Failure, ...]

    @property
    def passes(self) -> bool:
        """Whether it keeps all bounds."""
        return not self.failures


@dataclass(frozen=True, slots=True)
class CheaperMix:
    """The least-cost mix without one of the bounds: what it saves and what it fails."""

    without: Bound
    design: MixDesign
    saving_cents: float
    failures: tuple[Failure, ...]


def design_mix(ingredients: Sequence[Ingredient], bounds: Bounds, bed: Bed) -> MixDesign:
    """The least-cost mix that keeps all bounds at the depth of the bed, or the bounds that clash.

    Formula:
        least sum cents_i x_i subject to the bounds per finished litre and (1 - k) sum x + k max V_i(x) = 1
    Args:
        ingredients: one to eight, with curve, grain, density, price, free litres and limits of their share
        bounds: least and most of water, air, density and carbon to nitrogen
        bed: depths, suction under the mix, litres wanted, share of the predicted shrinkage that happens
    Returns:
        the design; exact: no mix with parts of at least 0.5 % costs less
    Raises:
        Impossible: no or more than eight ingredients, two of one code, or a bound on carbon to nitrogen with
        an
        ingredient whose carbon or nitrogen is unknown
    Valid:
        the water of the parts adds up: fines that change the pores of the coarse part make a mix wetter than
        told
    Source:
        conservation of solids and mass; packing model of Yu, Zou and Standish 1996;
        additive water is an assumption
    """
    return _designed(ingredients, _checked(ingredients, bounds), bed)


def judge_mix(
    parts: Sequence[tuple[Ingredient, float]], bounds: Bounds, bed: Bed, *, shrinkage: float | None = None
) -> Judgement:
    """Figures of a given mix (litres, or parts by volume) in a bed, and each bound that it fails.

    `shrinkage` is the share of the poured litres that vanishes, where it was measured of this very mix.
    """
    ingredients = [ingredient for ingredient, _ in parts]
    figures = mix_figures(parts, bed, shrinkage=shrinkage)
    return Judgement(figures, failures(parts, figures, listed(ingredients, bounds), bed))


def nearest_cheaper(
    ingredients: Sequence[Ingredient], bounds: Bounds, bed: Bed, *, design: MixDesign | None = None
) -> tuple[CheaperMix, ...]:
    """For each binding bound the mix without it that costs less, nearest first: what it saves, what it fails.

    `design` is the design of the same three, when it is there already.
    """
    every = _checked(ingredients, bounds)
    design = design or _designed(ingredients, every, bed)
    cheaper = [
        CheaperMix(bound, other, design.cents - other.cents, _failed(other, every, bed))
        for bound in design.binding
        if not bound.is_physics
        and (other := _designed(ingredients, [kept for kept in every if kept != bound], bed)).parts
        and other.cents < design.cents * (1 - TIGHT)
    ]
    return tuple(sorted(cheaper, key=lambda mix: max((f.relative for f in mix.failures), default=0.0)))


def _checked(ingredients: Sequence[Ingredient], bounds: Bounds) -> list[Bound]:
    if not 1 <= len(ingredients) <= MOST_INGREDIENTS:
        raise Impossible("ingredients", f"must be one to {MOST_INGREDIENTS}")
    if len({known.code for known in ingredients}) < len(ingredients):
        raise Impossible("ingredients", "must not name one twice")
    every = listed(ingredients, bounds)
    unknown = [known.name for known in ingredients if None in (known.carbon_pct, known.nitrogen_pct)]
    if unknown and any(bound.about == RATIO for bound in every):
        raise Impossible("ingredients", f"need known carbon and nitrogen: {', '.join(unknown)}")
    return list(every)


def _designed(ingredients: Sequence[Ingredient], bounds: Sequence[Bound], bed: Bed) -> MixDesign:
    search = _Search(ingredients, bed)
    found = search.least([known.cents_per_l for known in ingredients], search.limits(bounds))
    if found is None:
        clashing = _irreducible(search, bounds)
        return MixDesign((), 0.0, None, clashing=clashing, clash=clash(clashing, bed))
    litres = [x * bed.litres if x > PRESENT else 0.0 for x in found]
    parts = tuple(
        MixPart(known, amount, amount / sum(litres))
        for known, amount in zip(ingredients, litres, strict=True)
        if amount > 0
    )
    cents = sum(part.litres * part.ingredient.cents_per_l for part in parts)
    figures = mix_figures([(part.ingredient, part.litres) for part in parts], bed)
    binding = tuple(
        bound
        for bound, limit in zip(bounds, search.limits(bounds), strict=True)
        if any(limit.terms) and limit.most - _dot(limit.terms, found) <= TIGHT * max(1.0, abs(limit.most))
    )
    return MixDesign(parts, cents, figures, binding)


def _irreducible(search: "_Search", bounds: Sequence[Bound]) -> tuple[Bound, ...]:
    """Bounds that clash while any of them left out would let the others be met: deletion, one at a time.

    Stock and shares come last in the list and are left out first, so that what is wanted of the mix is named;
    all of a kind at once where none of them is needed, which is most often so.
    """
    kept = list(bounds)
    for about in (STOCK, SHARE):
        kept = _without(search, kept, [bound for bound in kept if bound.about == about])
    for bound in reversed(list(kept)):
        kept = _without(search, kept, [bound])
    return tuple(kept)


def _without(search: "_Search", bounds: list[Bound], some: Sequence[Bound]) -> list[Bound]:
    """The bounds without some of them, if the others clash still."""
    fewer = [bound for bound in bounds if bound not in some]
    return bounds if not some or search.has_any(search.limits(fewer)) else fewer


def _failed(design: MixDesign, bounds: Sequence[Bound], bed: Bed) -> tuple[Failure, ...]:
    if design.figures is None:
        return ()
    return failures([(part.ingredient, part.litres) for part in design.parts], design.figures, bounds, bed)


@dataclass(frozen=True, slots=True)
class _Choice:
    """The piece where one ingredient sets the volume, with what is settled about the others."""

    sets: int
    present: frozenset[int]
    absent: frozenset[int] = frozenset()

    def settled(self, column: int) -> Iterator["_Choice"]:
        yield _Choice(self.sets, self.present | {column}, self.absent)
        yield _Choice(self.sets, self.present, self.absent | {column})


class _Search:
    """Best-first search over the pieces of one pool of ingredients."""

    def __init__(self, ingredients: Sequence[Ingredient], bed: Bed) -> None:
        self._ingredients = ingredients
        self._bed = bed
        self._rows = packing(ingredients)
        self._solver = LeastCost()

    def limits(self, bounds: Sequence[Bound]) -> list[Limit]:
        return [as_limit(bound, self._ingredients, self._bed) for bound in bounds]

    def least(self, costs: Sequence[float], limits: Sequence[Limit]) -> tuple[float, ...] | None:
        """Poured litres per finished litre at the least cost."""
        return next(self._settled(costs, limits, eager=False), None)

    def has_any(self, limits: Sequence[Limit]) -> bool:
        """Whether any mix keeps the limits, whatever it costs."""
        anything = [0.0] * len(self._ingredients)
        return next(self._settled(anything, limits, eager=True), None) is not None

    def _settled(
        self, costs: Sequence[float], limits: Sequence[Limit], *, eager: bool
    ) -> Iterator[tuple[float, ...]]:
        """Mixes, the best first; when eager, as soon as one is found."""
        count = itertools.count()  # keeps equal costs in the order in which they were found
        queue: list[tuple[float, int, _Choice, tuple[float, ...]]] = []
        choices: Iterator[_Choice] = (_Choice(i, frozenset({i})) for i in range(len(self._ingredients)))
        while True:
            for choice in choices:
                x = self._solve(choice, costs, limits)
                if x is None:
                    continue
                if eager and self._unsettled(choice, x) is None:
                    yield x
                heapq.heappush(queue, (_dot(costs, x), next(count), choice, x))
            if not queue:
                return
            _, _, choice, x = heapq.heappop(queue)
            column = self._unsettled(choice, x)
            if column is None:
                yield x
                return
            choices = choice.settled(column)

    def _solve(
        self, choice: _Choice, costs: Sequence[float], limits: Sequence[Limit]
    ) -> tuple[float, ...] | None:
        own = self._rows[choice.sets]
        share = self._bed.calibration
        litre = Limit(tuple(1 - share + share * weight for weight in own), 1.0, exact=True)
        smaller = [
            Limit(tuple(theirs - mine for theirs, mine in zip(self._rows[j], own, strict=True)), 0.0)
            for j in choice.present - {choice.sets}
        ]
        bounds = [
            (LEAST_PART if i in choice.present else 0.0, 0.0 if i in choice.absent else MOST_POURED)
            for i in range(len(own))
        ]
        return self._solver.solve(costs, [litre, *smaller, *limits], bounds)

    def _unsettled(self, choice: _Choice, x: Sequence[float]) -> int | None:
        """An ingredient that is in although too little, or although its own grains would set the volume."""
        volume = _dot(self._rows[choice.sets], x)
        for column, litres in enumerate(x):
            if litres <= PRESENT or column in choice.present:
                continue
            if litres < LEAST_PART or _dot(self._rows[column], x) > volume + PRESENT:
                return column
        return None


def _dot(terms: Sequence[float], x: Sequence[float]) -> float:
    return sum(term * value for term, value in zip(terms, x, strict=True))
