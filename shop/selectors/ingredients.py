"""The shop's loose ingredients: the medium that each is, what a litre costs and how many litres are free."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from django.db.models import Q

from inventory.models import Item
from inventory.selectors import stock
from kits.models import Profile
from kits.physics.mixes import Ingredient, ingredient
from kits.terms.facts import Subject
from kits.terms.profiles import INGREDIENT
from kits.terms.reading import number

ML_PER_L = 1000
MILLILITRE = "mL"
Limits = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Loose:
    """One loose ingredient; what is None or absent is not known, and `unknown` says so in a sentence."""

    item: str
    name: str
    medium: Subject | None
    known: Ingredient | None  # with its item code, price and free litres
    cents_per_l: float | None
    free_l: float | None
    unknown: str


def loose(media: Mapping[str, Subject]) -> dict[str, Loose]:
    """Every ingredient by item code, those of a mix and those that could be; three queries."""
    profiles = dict(Profile.objects.filter(role=INGREDIENT).values_list("item__code", "figures"))
    wanted = Q(code__in=list(profiles), active=True) | Q(in_mixes__isnull=False)
    items = list(Item.objects.filter(wanted).distinct().order_by("name", "code"))
    free = stock.free_by_code([item.code for item in items])
    return {item.code: _loose(item, profiles.get(item.code, {}), media, free[item.code]) for item in items}


def _loose(item: Item, figures: Limits, media: Mapping[str, Subject], free: int) -> Loose:
    medium = media.get(str(figures.get("medium", "")))
    litres = _litres_each(item)
    free_l = None if litres is None else max(free, 0) * litres
    cents = None if litres is None or not item.cost else float(item.cost * 100) / litres
    known = None if medium is None else ingredient(medium)
    if known is not None:
        known = _stocked(known, item, figures, cents, free_l)
    return Loose(item.code, item.name, medium, known, cents, free_l, _unknown(item, medium, known, litres))


def _stocked(
    known: Ingredient, item: Item, figures: Limits, cents: float | None, free_l: float | None
) -> Ingredient:
    return replace(
        known,
        code=item.code,
        name=item.name,
        cents_per_l=cents or 0.0,
        free_l=free_l or 0.0,
        least_share=number(figures, "least_share") or 0.0,
        most_share=1.0 if (most := number(figures, "most_share")) is None else most,
    )


def _litres_each(item: Item) -> float | None:
    """Litres in one base unit; None for what is weighed or measured in length."""
    if item.base_unit == MILLILITRE:
        return 1 / ML_PER_L
    if item.content_quantity and item.content_unit == MILLILITRE:
        return float(Decimal(item.content_quantity) / ML_PER_L)
    return None


def _unknown(item: Item, medium: Subject | None, known: Ingredient | None, litres: float | None) -> str:
    if medium is None:
        return f"{item.name} ({item.code}) does not say which medium it is: give it an ingredient profile."
    if known is None:
        return f"{item.name} is {medium.name}, whose curve, grain or density is not known."
    if litres is None:
        return f"{item.name} is counted in {item.base_unit}, so its litres are not known."
    return ""
