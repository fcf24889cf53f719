"""What a mix must keep to: bounds as limits on poured litres, as sentences, and as failures of a given
mix."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from inventory.calc.checks import positive, within
from kits.physics.linear import Limit
from kits.physics.mixes import Bed, Ingredient, MixFigures, held

WATER, AIR, DENSITY, RATIO = "water", "air", "density", "carbon_nitrogen"
SHARE, STOCK = "share", "stock"
NAMES = {WATER: "container capacity", AIR: "air space", DENSITY: "bulk density", RATIO: "carbon to nitrogen"}
PRECISION = 1e-7  # relative; below it a bound counts as kept, and as met exactly


@dataclass(frozen=True, slots=True, kw_only=True)
class Bounds:
    """Least and most of a mix in place: water and air as shares, dry density in kg/L, C:N;
    None for no bound."""

    water_lo: float | None = None
    water_hi: float | None = None
    air_lo: float | None = 0.0  # water cannot fill more than the pores
    air_hi: float | None = None
    density_lo: float | None = None
    density_hi: float | None = None
    carbon_nitrogen_lo: float | None = None
    carbon_nitrogen_hi: float | None = None

    def __post_init__(self) -> None:
        for key in (WATER, AIR, DENSITY, RATIO):
            for end in ("lo", "hi"):
                value = getattr(self, f"{key}_{end}")
                if value is not None and key in (WATER, AIR):
                    within(0, 1, **{f"{key}_{end}": value})
                elif value is not None:
                    positive(**{f"{key}_{end}": value})


@dataclass(frozen=True, slots=True)
class Bound:
    """One least or one most."""

    about: str  # water, air, density, carbon_nitrogen, share or stock
    least: bool
    limit: float
    ingredient: Ingredient | None = None

    @property
    def is_physics(self) -> bool:
        """That no mix has less than no air is no wish, and nobody can do without it."""
        return self.about == AIR and self.least and self.limit == 0

    @property
    def words(self) -> str:
        """The bound as a phrase: `air space of at least 25 %`."""
        if self.about == STOCK:
            return f"no more {_name(self)} than the {self.limit:.3g} L that are free"
        if self.is_physics:
            return "pores for all the water of the parts"
        side = "at least" if self.least else "at most"
        if self.about == SHARE:
            return f"{side} {_amount(SHARE, self.limit)} of {_name(self)}"
        return f"{NAMES[self.about]} of {side} {_amount(self.about, self.limit)}"


@dataclass(frozen=True, slots=True)
class Failure:
    """A bound that a mix does not keep, with what it has and how far off that is."""

    bound: Bound
    value: float | None
    by: float | None

    @property
    def relative(self) -> float:
        """How far off, as a share of the limit; infinite where it is not known."""
        return float("inf") if self.by is None else self.by / max(self.bound.limit, 0.01)

    @property
    def sentence(self) -> str:
        """One sentence with the figure, the bound and the difference."""
        bound = self.bound
        if self.value is None or self.by is None:
            return f"Its {NAMES[bound.about]} is not known, so {bound.words} cannot be shown."
        side = "too little" if bound.least else "too much"
        about = bound.about
        if about == AIR and self.value < 0:
            more = f"{-self.value * 100:.2g} points more water than it has pores"
            return f"Its parts would hold {more}, so its air is not known; wanted {bound.words}."
        if about == STOCK:
            return f"It takes {self.value:.3g} L of {_name(bound)}, {self.by:.3g} L more than are free."
        name = f"share of {_name(bound)}" if about == SHARE else NAMES[about]
        side_words = f"{_difference(about, self.by)} {side}"
        limit = f"{'at least' if bound.least else 'at most'} {_amount(about, bound.limit)}"
        return f"Its {name} is {_amount(about, self.value)}, {side_words} for {limit}."


def listed(ingredients: Sequence[Ingredient], bounds: Bounds) -> tuple[Bound, ...]:
    """Every bound of a design, one at a time."""
    chosen = (
        Bound(about, end == "lo", limit)
        for about in (WATER, AIR, DENSITY, RATIO)
        for end in ("lo", "hi")
        if (limit := getattr(bounds, f"{about}_{end}")) is not None
    )
    return (*chosen, *(bound for known in ingredients for bound in _own(known)))


def as_limit(bound: Bound, ingredients: Sequence[Ingredient], bed: Bed) -> Limit:
    """The bound on poured litres per finished litre, x: terms . x <= most."""
    terms, most = _SUMS[bound.about](bound, ingredients, bed)
    if bound.least:
        return Limit(tuple(-term for term in terms), -most)
    return Limit(tuple(terms), most)


def failures(
    parts: Sequence[tuple[Ingredient, float]], figures: MixFigures, bounds: Sequence[Bound], bed: Bed
) -> tuple[Failure, ...]:
    """The bounds that a mix does not keep."""
    litres = {known.code: amount for known, amount in parts}
    found = []
    for bound in bounds:
        value = _value(bound, litres, figures, bed)
        by = None if value is None else (bound.limit - value if bound.least else value - bound.limit)
        if by is None and not (bound.about == RATIO and _nothing_decays(parts)):
            found.append(Failure(bound, None, None))
        elif by is not None and by > PRECISION * max(1.0, bound.limit):
            found.append(Failure(bound, value, by))
    return tuple(found)


def clash(bounds: Sequence[Bound], bed: Bed) -> str:
    """Bounds that cannot be met together, as one sentence."""
    words = [bound.words for bound in bounds]
    wanted = f"for {bed.litres:g} L " if any(bound.about == STOCK for bound in bounds) else ""
    where = f"{wanted}{bed.words}"
    if len(words) == 1 and bounds[0].about == STOCK:
        free = f"The {bounds[0].limit:.3g} L of {_name(bounds[0])} that are free"
        return f"{free} are not enough for {bed.litres:g} L {bed.words}."
    if len(words) == 1:
        return f"{_capital(words[0])} cannot be met {where} with these ingredients."
    together = "both" if len(words) == 2 else "all"
    return f"{_capital(', '.join(words[:-1]))} and {words[-1]} cannot {together} be met {where}."


def _own(known: Ingredient) -> Iterator[Bound]:
    if known.least_share > 0:
        yield Bound(SHARE, True, known.least_share, known)
    if known.most_share < 1:
        yield Bound(SHARE, False, known.most_share, known)
    if known.free_l != float("inf"):
        yield Bound(STOCK, False, known.free_l, known)


Sums = tuple[list[float], float]


def _water(bound: Bound, ingredients: Sequence[Ingredient], bed: Bed) -> Sums:
    return [held(known, bed) for known in ingredients], bound.limit


def _air(bound: Bound, ingredients: Sequence[Ingredient], bed: Bed) -> Sums:
    """Air is what solids and water leave of the litre, so the signs are turned."""
    return [known.pores - 1 - held(known, bed) for known in ingredients], bound.limit - 1


def _density(bound: Bound, ingredients: Sequence[Ingredient], bed: Bed) -> Sums:
    return [known.density_kg_l for known in ingredients], bound.limit


def _ratio(bound: Bound, ingredients: Sequence[Ingredient], bed: Bed) -> Sums:
    """Carbon <= limit x nitrogen; design refuses ingredients whose carbon or nitrogen is unknown."""
    return [
        known.density_kg_l * ((known.carbon_pct or 0.0) - bound.limit * (known.nitrogen_pct or 0.0))
        for known in ingredients
    ], 0.0


def _share(bound: Bound, ingredients: Sequence[Ingredient], bed: Bed) -> Sums:
    return [(known == bound.ingredient) - bound.limit for known in ingredients], 0.0


def _stock(bound: Bound, ingredients: Sequence[Ingredient], bed: Bed) -> Sums:
    return [bed.litres * (known == bound.ingredient) for known in ingredients], bound.limit


_SUMS: Mapping[str, Callable[[Bound, Sequence[Ingredient], Bed], Sums]] = {
    WATER: _water, AIR: _air, DENSITY: _density, RATIO: _ratio, SHARE: _share, STOCK: _stock,
}  # fmt: skip


def _value(bound: Bound, litres: Mapping[str, float], figures: MixFigures, bed: Bed) -> float | None:
    if bound.ingredient is not None:
        poured = litres.get(bound.ingredient.code, 0.0)
        if bound.about == SHARE:
            return poured / figures.poured_l
        return poured * bed.litres / figures.volume_l
    of = {WATER: figures.water_hi, AIR: figures.spare, DENSITY: figures.density_kg_l}
    return of.get(bound.about, figures.carbon_nitrogen)


def _nothing_decays(parts: Sequence[tuple[Ingredient, float]]) -> bool:
    return all(known.carbon_pct == 0 for known, litres in parts if litres > 0)


def _amount(about: str, value: float) -> str:
    if about in (WATER, AIR, SHARE):
        return f"{value * 100:.3g} %"
    return f"{value:.3g} kg/L" if about == DENSITY else f"{value:.3g}"


def _difference(about: str, value: float) -> str:
    """A difference of two shares is told in points."""
    return f"{value * 100:.2g} points" if about in (WATER, AIR, SHARE) else _amount(about, value)


def _name(bound: Bound) -> str:
    return "" if bound.ingredient is None else bound.ingredient.name


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]
