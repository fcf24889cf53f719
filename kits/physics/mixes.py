"""What a mix of ingredients is like once it lies in the box: water, air, density, carbon to nitrogen.

Solids stay what they are and the finished volume is the blended one. Water is additive: a litre of an
ingredient brings the water that it holds at the built depth, so the pores that vanish in mixing are taken to
be empty ones. That is the most a mix can hold. The least is told beside it: the pores that vanish take their
share of the water with them, and the mix is as full as its parts were on average. Per finished litre, with x
poured litres of each ingredient: pores = 1 - sum x (1 - porosity), water = sum x CC, at the least
pores sum x CC / sum x porosity.
Where the sum would leave less air than soils trap when they are wetted, it is eased off towards a mix that is
full only when all of its parts are; where it is more than the pores, it cannot be right and is marked.
"""

import functools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from inventory.calc.blending import packing_weights
from inventory.calc.checks import finite, not_negative, positive, within
from inventory.calc.errors import Impossible
from kits.physics.retention import layer_water_l
from kits.terms.facts import Subject

# Derived: a maker's mix of 3 bark, 1 peat and 1 sand loses 15 to 20 % where the model for hard grains says
# 27.6 %.
CALIBRATION = 0.6
# Share of its pores that wetted soil keeps as trapped air; from memory, 5 to 15 %.
TRAPPED_AIR = 0.05
CURVE = ("theta_r", "theta_s", "alpha_per_cm", "n")
POROSITY = "porosity"  # of a soil as it is poured, where its curve is that of the same soil lying denser
SHRINKAGE = "shrinkage_pct"  # of a recipe, where it was measured
GRAIN = ("grain_mm", "void_fraction", "density_kg_l")


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingredient:
    """A loose ingredient with its retention curve, grain and dry density; the rest as far as it is known."""

    code: str
    name: str
    theta_r: float
    theta_s: float
    alpha_per_cm: float
    n: float
    grain_mm: float
    void_fraction: float
    density_kg_l: float
    carbon_pct: float | None = None  # of the dry mass; 0 for minerals and for charcoal, which does not decay
    nitrogen_pct: float | None = None
    cents_per_l: float = 0.0
    free_l: float = math.inf
    least_share: float = 0.0  # of the poured litres
    most_share: float = 1.0
    porosity: float | None = None  # None: what the curve holds when saturated

    def __post_init__(self) -> None:
        positive(grain_mm=self.grain_mm, density_kg_l=self.density_kg_l)
        within(0, 1, void_fraction=self.void_fraction)
        within(0, 1, least_share=self.least_share, most_share=self.most_share)
        within(self.theta_s, 1, porosity=self.pores)
        finite(cents_per_l=self.cents_per_l)
        if self.free_l != math.inf:
            not_negative(free_l=self.free_l)
        for name in ("carbon_pct", "nitrogen_pct"):
            if getattr(self, name) is not None:
                within(0, 100, **{name: getattr(self, name)})
        if self.carbon_pct and self.nitrogen_pct == 0:
            raise Impossible("nitrogen_pct", "must be above zero in matter that holds carbon")

    @property
    def pores(self) -> float:
        """Share of a poured litre that is not solid."""
        return self.theta_s if self.porosity is None else self.porosity

    @property
    def curve(self) -> tuple[float, float, float, float]:
        """The retention curve's four numbers."""
        return (self.theta_r, self.theta_s, self.alpha_per_cm, self.n)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bed:
    """Where the mix will lie: depths front and back, suction under it, and how much is wanted."""

    front_mm: float
    back_mm: float
    base_suction_cm: float = 0.0
    litres: float = 1.0
    calibration: float = CALIBRATION

    def __post_init__(self) -> None:
        not_negative(front_mm=self.front_mm, back_mm=self.back_mm)
        positive(back_mm=max(self.front_mm, self.back_mm), litres=self.litres)
        finite(base_suction_cm=self.base_suction_cm)
        within(0, 1, calibration=self.calibration)

    @classmethod
    def level(cls, depth_mm: float, **others: float) -> "Bed":
        """A bed of one depth."""
        return cls(front_mm=depth_mm, back_mm=depth_mm, **others)

    @property
    def words(self) -> str:
        """The depth as a phrase."""
        if self.front_mm == self.back_mm:
            return f"at {self.front_mm:g} mm"
        return f"at {self.front_mm:g} to {self.back_mm:g} mm"


@dataclass(frozen=True, slots=True)
class MixPart:
    """One ingredient of a mix: its poured litres and its share of all that is poured."""

    ingredient: Ingredient
    litres: float
    share: float


@dataclass(frozen=True, slots=True)
class MixFigures:
    """A mix in place and drained: shares of its finished volume, dry density, carbon to nitrogen."""

    water: float
    air: float
    pores: float
    density_kg_l: float
    carbon_nitrogen: float | None  # None where nothing decays or a part's carbon or nitrogen is unknown
    volume_l: float
    poured_l: float
    water_lo: float  # if the pores that vanish take their share of the water with them
    water_hi: float  # if only empty pores vanish; never more than there are pores
    excess: float = 0.0  # what its parts would hold beyond the pores of the mix, so that they cannot
    measured: bool = False  # whether the finished volume was measured, not worked out from the grains

    @property
    def air_lo(self) -> float:
        """Air beside the most water."""
        return self.pores - self.water_hi

    @property
    def air_hi(self) -> float:
        """Air beside the least water."""
        return self.pores - self.water_lo

    @property
    def spare(self) -> float:
        """Pores that the added-up water of the parts leaves; below zero where it does not fit."""
        return self.air_lo - self.excess

    @property
    def shrinkage(self) -> float:
        """Share of the poured litres that vanishes in mixing."""
        return 1 - self.volume_l / self.poured_l


def mix_figures(
    parts: Sequence[tuple[Ingredient, float]], bed: Bed, *, shrinkage: float | None = None
) -> MixFigures:
    """Figures of a mix from its ingredients in litres (or parts by volume) and the bed that it lies in.

    `shrinkage` is the share of the poured litres that vanishes, where it was measured of this very mix.
    Raises Impossible for negative litres, for nothing at all, or for a shrinkage that leaves no room for what
    is solid. Parts of 0 litres count for nothing.
    """
    for ingredient, litres in parts:
        not_negative(**{f"litres of {ingredient.code}": litres})
    there = [(ingredient, litres) for ingredient, litres in parts if litres > 0]
    if not there:
        raise Impossible("parts", "must hold more than nothing")
    volume_l = finished_l(there, bed.calibration) if shrinkage is None else _shrunk_l(there, shrinkage)
    per_litre = [(ingredient, litres / volume_l) for ingredient, litres in there]
    water = sum(x * held(ingredient, bed) for ingredient, x in per_litre)
    pores = 1 - sum(x * (1 - ingredient.pores) for ingredient, x in per_litre)
    parts_pores = sum(x * ingredient.pores for ingredient, x in per_litre)
    told = _eased(water, pores, parts_pores)
    return MixFigures(
        water=told,
        air=pores - told,
        pores=pores,
        water_lo=pores * water / parts_pores,
        water_hi=min(water, pores),
        density_kg_l=sum(x * ingredient.density_kg_l for ingredient, x in per_litre),
        carbon_nitrogen=_carbon_nitrogen(per_litre),
        volume_l=volume_l,
        poured_l=sum(litres for _, litres in there),
        excess=max(water - pores, 0.0),
        measured=shrinkage is not None,
    )


def _eased(water: float, pores: float, parts_pores: float) -> float:
    """The added-up water while it leaves air enough, then on a straight line to full pores of full parts."""
    freely = (1 - TRAPPED_AIR) * pores
    if water <= freely:
        return water
    return freely + (water - freely) * (pores - freely) / max(parts_pores - freely, pores - freely)


def finished_l(parts: Sequence[tuple[Ingredient, float]], calibration: float) -> float:
    """Blended volume of poured litres, all of them above zero."""
    poured = [litres for _, litres in parts]
    rows = packing([ingredient for ingredient, _ in parts])
    packed = max(sum(weight * litres for weight, litres in zip(row, poured, strict=True)) for row in rows)
    return (1 - calibration) * sum(poured) + calibration * packed


def _shrunk_l(parts: Sequence[tuple[Ingredient, float]], shrinkage: float) -> float:
    within(0, 1, shrinkage=shrinkage)
    volume_l = (1 - shrinkage) * sum(litres for _, litres in parts)
    if volume_l <= sum(litres * (1 - ingredient.pores) for ingredient, litres in parts):
        raise Impossible("shrinkage", "must leave room for what is solid")
    return volume_l


def measured_shrinkage(mix: Subject, parts: Sequence[tuple[Ingredient, float]]) -> float | None:
    """The share that was measured of a mix of these parts; None where nobody has, or where it cannot be."""
    pct = mix.number(SHRINKAGE)
    if pct is None:
        return None
    try:
        _shrunk_l(parts, pct / 100)
    except Impossible:
        return None
    return pct / 100


def calibration_of(parts: Sequence[tuple[Ingredient, float]], shrinkage: float) -> float:
    """Share of the shrinkage of hard grains that a measured one is, at most all of it.

    What was measured of one mix is the best guess for others of the same ingredients.
    """
    poured = sum(litres for _, litres in parts)
    hard = 1 - finished_l(parts, 1.0) / poured
    return min(1.0, shrinkage / hard) if hard > 0 else CALIBRATION


def packing(ingredients: Sequence[Ingredient]) -> tuple[tuple[float, ...], ...]:
    """Weights of the candidate volumes, one row for each ingredient that may set the volume."""
    return _packing(tuple((ingredient.grain_mm, ingredient.void_fraction) for ingredient in ingredients))


def held(ingredient: Ingredient, bed: Bed) -> float:
    """Container capacity of an ingredient in the bed [m3/m3]."""
    return _held(ingredient.curve, bed.front_mm, bed.back_mm, bed.base_suction_cm)


def ingredient(medium: Subject) -> Ingredient | None:
    """A medium of the facts as an ingredient; None where its curve, grain or density is not known."""
    known = {key: number for key in (*CURVE, *GRAIN) if (number := medium.number(key)) is not None}
    if len(known) < len(CURVE) + len(GRAIN):
        return None
    porosity = medium.number(POROSITY)  # a curve that the shop has measured may hold more than was derived
    if porosity is not None and porosity > known["theta_s"]:
        known[POROSITY] = porosity
    return Ingredient(
        code=medium.code,
        name=medium.name,
        carbon_pct=medium.number("carbon_pct"),
        nitrogen_pct=medium.number("nitrogen_pct"),
        **known,
    )


def recipe_figures(mix: Subject, media: Mapping[str, Subject], bed: Bed) -> MixFigures | None:
    """Figures of a house mix in a bed by its recipe; None where an ingredient's figures are not known."""
    parts = recipe(mix, media)
    return None if parts is None else mix_figures(parts, bed, shrinkage=measured_shrinkage(mix, parts))


def recipe(mix: Subject, media: Mapping[str, Subject]) -> tuple[tuple[Ingredient, float], ...] | None:
    """The ingredients of a house mix in parts by volume; None where one of them is not known well enough."""
    found = []
    for code in mix.figures:
        parts = mix.number(code)
        medium = media.get(code)
        if parts is None or code == SHRINKAGE:
            continue  # a remark, such as the styles that the mix is for
        known = None if medium is None else ingredient(medium)
        if known is None:
            return None
        found.append((known, parts))
    return tuple(found) or None


def with_stock(known: Ingredient, *, cents_per_l: float, free_l: float) -> Ingredient:
    """The same ingredient with what the shop pays for it and has of it."""
    return replace(known, cents_per_l=cents_per_l, free_l=free_l)


def _carbon_nitrogen(per_litre: Sequence[tuple[Ingredient, float]]) -> float | None:
    carbon = nitrogen = 0.0
    for part, x in per_litre:
        if part.carbon_pct is None or part.nitrogen_pct is None:
            return None
        carbon += x * part.density_kg_l * part.carbon_pct
        nitrogen += x * part.density_kg_l * part.nitrogen_pct
    return carbon / nitrogen if nitrogen > 0 else None


@functools.lru_cache(maxsize=512)
def _packing(grains: tuple[tuple[float, float], ...]) -> tuple[tuple[float, ...], ...]:
    return packing_weights([grain for grain, _ in grains], [void for _, void in grains])


@functools.lru_cache(maxsize=4096)
def _held(
    curve: tuple[float, float, float, float], front_mm: float, back_mm: float, base_suction_cm: float
) -> float:
    """Water of one square metre over the volume of the layer on it."""
    water_l = layer_water_l(1.0, front_mm / 1000, back_mm / 1000, *curve, base_suction_cm)
    return water_l / ((front_mm + back_mm) / 2)
