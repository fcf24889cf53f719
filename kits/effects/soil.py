"""How much water and air a soil holds where it will lie: by its recipe, its own curve, or a usual mix."""

import functools
from collections.abc import Mapping
from dataclasses import dataclass

from kits.physics.mixes import SHRINKAGE, Bed, MixFigures, held, ingredient, recipe_figures
from kits.terms.build import Build
from kits.terms.facts import Subject
from kits.terms.identity import Itself
from kits.terms.needs import Figures
from kits.terms.reading import text
from kits.terms.rounding import rounded

USUAL = "standard-mix"  # the medium that an unknown soil is taken for
BAGGED_MOISTURE = 0.25  # water in a litre as it comes from the bag; estimate, measure it
LEAST_MM = 5.0
ROOT_AIR_PCT = (
    10.0,
    30.0,
)  # that nursery guides ask of potting soil; from memory


@dataclass(frozen=True, slots=True)
class Soil:
    """Water and air of a drained soil as shares of its volume, and where they come from."""

    water: float
    air: float
    source: str
    known: bool  # by its recipe or its own curve, instead of a usual mix
    dry_kg_l: float = 0.0  # mass of a litre in place without its water
    mix: str = ""  # the recipe that it was worked out by
    eased: float = 0.0  # air told beyond what the added-up water of the parts would leave
    note: str = ""  # the range that the figures may lie in; empty where none was worked out

    @property
    def spare(self) -> float:
        """Air that can be counted on: what the added-up water leaves, below zero where it does not fit."""
        return self.air - self.eased

    @property
    def fits(self) -> bool:
        """Whether the added-up water of its parts goes into its pores."""
        return self.spare >= 0

    @property
    def wet_kg_l(self) -> float:
        """Mass of a litre in place that holds all the water it can."""
        return self.dry_kg_l + self.water


def band_words(build: Build, kind: str) -> str:
    """How much water or air the style asks of its drained soil; empty where no bound is known."""
    low, high = (build.style.number(f"{kind}_{end}_pct") for end in ("lo", "hi"))
    if low is None and high is None:
        return ""
    if high is None:
        return f"at least {low:g} % {kind}"
    return f"at most {high:g} % {kind}" if low is None else f"{low:g}-{high:g} % {kind}"


def common_air(build: Build) -> str:
    """What is commonly asked where no bound on air is known for the style; empty where one is."""
    if band_words(build, "air"):
        return ""
    usual = " to ".join(f"{end:g}" for end in ROOT_AIR_PCT)
    style = build.style.code.replace("-", " ")
    return f"no bound is known for {style}, nursery guides ask for {usual} % (from memory)"


def bed(build: Build) -> Bed | None:
    """The soil layer as built, drained onto gravel or an open hole; None where there is none."""
    layer = build.layers.get("substrate")
    if layer is None or layer.litres <= 0:
        return None
    front, back = (round(max(depth, LEAST_MM)) for depth in (layer.front_mm, layer.back_mm))
    return Bed(front_mm=front, back_mm=back)


def soil(build: Build, figures: Figures) -> Soil | None:
    """What a soil with these figures holds in this build; None where there is no layer of it."""
    lies = bed(build)
    if lies is None:
        return None
    code = text(figures, "mix")
    mix = build.mixes.get(code)
    found = _recipe_figures(Itself(mix), Itself(build.media), lies) if mix else None
    if found is not None and mix is not None:
        return _by_recipe(mix, found, code)
    own = build.media.get(text(figures, "medium"))
    return _of_medium(own, lies, known=True) or _of_medium(build.media.get(USUAL), lies, known=False)


@functools.lru_cache(maxsize=256)
def _recipe_figures(mix: Itself, media: Itself, lies: Bed) -> MixFigures | None:
    """What a recipe holds at a depth: one plan asks for the same several times, and the next one again."""
    assert isinstance(mix.thing, Subject)
    assert isinstance(media.thing, Mapping)
    return recipe_figures(mix.thing, media.thing, lies)


def _by_recipe(mix: Subject, found: MixFigures, code: str) -> Soil:
    """With the range that it may lie in; marked where the water of the parts does not fit into the pores."""
    fits = not found.excess
    how = "water of the parts added up" if fits else "its parts would hold more water than it has pores"
    water, air = (
        f"{rounded(100 * low)} to {rounded(100 * high)} %"
        for low, high in ((found.water_lo, found.water_hi), (found.air_lo, found.air_hi))
    )
    return Soil(
        found.water,
        found.air,
        f"the recipe of {mix.name}; {how}{_shrinkage_words(mix, found)}",
        True,
        found.density_kg_l,
        code,
        found.air - found.spare,
        f"it may hold {water} water and {air} air",
    )


def _shrinkage_words(mix: Subject, found: MixFigures) -> str:
    """Where the finished volume comes from, when somebody has measured it."""
    figure = mix.figures.get(SHRINKAGE)
    return "" if figure is None or not found.measured else f"; shrinkage {figure.source}"


def _of_medium(medium: Subject | None, lies: Bed, *, known: bool) -> Soil | None:
    curve = None if medium is None else ingredient(medium)
    if curve is None or medium is None:
        return None
    water = held(curve, lies)
    whose = medium.name if known else f"nothing recorded, taken for {medium.name}"
    source = f"{whose}: {medium.source('theta_s')}"
    return Soil(water, curve.pores - water, source, known, curve.density_kg_l)
