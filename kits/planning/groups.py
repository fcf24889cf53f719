"""Groups of offers that are alike in what they can do."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from operator import attrgetter
from typing import cast

from kits.terms.needs import Figures, Offer

# What tells one pack of a product from the next; everything else in the figures is the product.
PACK_KEYS = frozenset({"litres"})
# What tells one product from another without saying anything about what it can do.
NAME_KEYS = frozenset({"family"})
BEST_RANK = 0  # no role ranks anything below this


@dataclass(frozen=True, slots=True, eq=False)
class Group:
    """All offers of one role that are alike in every figure, or the pack sizes of one product.

    Within a group only house preference, price and stock can tell offers apart, so at most the first
    offer and the first free ones can ever be chosen. `likeness` is equal for groups of equal figures
    apart from pack size and product name.
    """

    role: str
    figures: Figures
    offers: tuple[Offer, ...]
    likeness: int
    floor: tuple[int, int, int]  # rank, preference and cents that no choice of it is below
    large_first: tuple[Offer, ...] = ()  # the pack sizes of a product; empty for what does not come in packs
    sizes: tuple[int, ...] = ()  # millilitres in one pack of each of them
    cents_per_ml: float = 0.0  # of the pack that is cheapest by volume
    least_cents: int = 0  # of the cheapest pack

    @property
    def packs(self) -> bool:
        """Whether the offers are pack sizes of one product."""
        return bool(self.sizes)

    @property
    def preference(self) -> int:
        """House preference of the group: that of its most preferred offer."""
        return self.offers[0].ware.preference

    def only(self, items: frozenset[str]) -> "Group":
        """The same group without the offers that are not named."""
        kept = tuple(offer for offer in self.offers if offer.ware.item in items)
        return made(self.role, kept, self.likeness, packs=self.packs) if kept else replace(self, offers=())


def pack_litres(figures: Figures) -> float | None:
    """The litres in one pack of a product that comes in packs, None for everything else."""
    litres = figures.get("litres")
    return float(litres) if isinstance(litres, int | float) else None


def group_key(offer: Offer) -> Hashable:
    """Equal for offers that belong to one group."""
    if "family" not in offer.figures:
        return frozen(offer.figures)
    product = offer.figures["family"] or offer.ware.family or offer.ware.item
    return ("pack", product, frozen(offer.figures, PACK_KEYS | NAME_KEYS))


def ordered(role: str, groups: Iterable[list[Offer]]) -> tuple[Group, ...]:
    """The groups of a role, the one with the best first offer first."""
    likeness: dict[Hashable, int] = {}
    found = [_group(role, offers, likeness) for offers in groups]
    return tuple(sorted(found, key=lambda group: first_choice(group.offers[0])))


def _group(role: str, offers: list[Offer], likeness: dict[Hashable, int]) -> Group:
    best_first = tuple(sorted(offers, key=first_choice)) if len(offers) > 1 else tuple(offers)
    figures = best_first[0].figures
    packs = "family" in figures
    alike = frozen(figures, PACK_KEYS | NAME_KEYS if packs else frozenset())
    return made(role, best_first, likeness.setdefault(alike, len(likeness)), packs=packs)


def made(role: str, offers: tuple[Offer, ...], likeness: int, *, packs: bool) -> Group:
    """A group of these offers, which stand in order of choice."""
    figures = offers[0].figures
    floor = (BEST_RANK, offers[0].ware.preference, offers[0].ware.price_cents)
    if not packs:
        return Group(role, figures, offers, likeness, floor)
    large_first = tuple(sorted(offers, key=_millilitres, reverse=True))
    sizes = tuple(map(_millilitres, large_first))
    prices = [offer.ware.price_cents for offer in large_first]
    per_ml = min(cents / size for cents, size in zip(prices, sizes, strict=True))
    return Group(role, figures, offers, likeness, floor, large_first, sizes, per_ml, min(prices))


def _millilitres(offer: Offer) -> int:
    return max(1, round(1000 * (pack_litres(offer.figures) or 0.0)))


_WARE_ORDER = attrgetter("ware.preference", "ware.price_cents", "ware.item")


def first_choice(offer: Offer) -> tuple[int, int, str]:
    """What offers that do the same come by: house preference, price, item."""
    return cast(tuple[int, int, str], _WARE_ORDER(offer))


def frozen(figures: Figures, leaving_out: frozenset[str] = frozenset()) -> Hashable:
    """Equal for equal figures; hashable where all of them are numbers, texts, lists or mappings of such."""
    return tuple((key, _freeze(figures[key])) for key in sorted(figures) if key not in leaving_out)


def _freeze(value: object) -> Hashable:
    if isinstance(value, Mapping):
        return tuple((key, _freeze(value[key])) for key in sorted(value))
    if isinstance(value, Sequence) and not isinstance(value, str):
        return tuple(_freeze(part) for part in value)
    return cast(Hashable, value)
