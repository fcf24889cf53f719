"""The shelf: everything on offer, grouped so that a plan's cost does not grow with the catalogue."""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from operator import attrgetter
from typing import cast

from kits.terms.needs import Figures, Offer, Ware

# What tells one pack of a product from the next; everything else in the figures is the product.
PACK_KEYS = frozenset({"litres"})
# What tells one product from another without saying anything about what it can do.
NAME_KEYS = frozenset({"family"})


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
    millilitres: tuple[int, ...] = ()  # in one pack of each offer; empty for what does not come in packs
    cents_per_ml: float = 0.0  # of the pack that is cheapest by volume
    least_cents: int = 0  # of the cheapest pack

    @property
    def packs(self) -> bool:
        """Whether the offers are pack sizes of one product."""
        return bool(self.millilitres)

    def only(self, items: frozenset[str]) -> "Group":
        """The same group without the offers that are not named."""
        kept = tuple(offer for offer in self.offers if offer.ware.item in items)
        return _made(self.role, kept, self.likeness, packs=self.packs) if kept else replace(self, offers=())


class Shelf:
    """An index of wares and offers, built once per catalogue version and never changed."""

    def __init__(self, wares: Mapping[str, Ware], groups: Mapping[str, tuple[Group, ...]]) -> None:
        self._wares = wares
        self._groups = groups
        self._offers = {
            (role, offer.ware.item): offer
            for role, of_role in groups.items()
            for group in of_role
            for offer in group.offers
        }

    @classmethod
    def build(cls, wares: Iterable[Ware], offers: Iterable[Offer]) -> "Shelf":
        """Group the offers of each role; the order of what is passed in does not matter."""
        alike: dict[str, dict[Hashable, list[Offer]]] = defaultdict(lambda: defaultdict(list))
        for offer in offers:
            alike[offer.role][_group_key(offer)].append(offer)
        groups = {role: _ordered(role, of_role.values()) for role, of_role in alike.items()}
        return cls({ware.item: ware for ware in wares}, groups)

    def groups(self, role: str) -> tuple[Group, ...]:
        """The groups of a role, the one with the best first offer first."""
        return self._groups.get(role, ())

    def groups_with(self, role: str, items: Iterable[str]) -> tuple[Group, ...]:
        """The groups of a role cut down to the named items; unknown names are left out."""
        named = frozenset(items)
        cut = (group.only(named) for group in self.groups(role))
        return tuple(group for group in cut if group.offers)

    def offer(self, role: str, item: str) -> Offer | None:
        """The item standing in that role, or None."""
        return self._offers.get((role, item))

    def ware(self, item: str) -> Ware:
        """The facts of a known item."""
        return self._wares[item]

    def knows(self, item: str) -> bool:
        """Whether the item is on this shelf, in any role or none."""
        return item in self._wares


def pack_litres(figures: Figures) -> float | None:
    """The litres in one pack of a product that comes in packs, None for everything else."""
    litres = figures.get("litres")
    return float(litres) if isinstance(litres, int | float) else None


def _group_key(offer: Offer) -> Hashable:
    if "family" not in offer.figures:
        return _frozen(offer.figures, frozenset())
    product = offer.figures["family"] or offer.ware.family or offer.ware.item
    return ("pack", product, _frozen(offer.figures, PACK_KEYS | NAME_KEYS))


def _ordered(role: str, groups: Iterable[list[Offer]]) -> tuple[Group, ...]:
    likeness: dict[Hashable, int] = {}
    made = [_group(role, offers, likeness) for offers in groups]
    return tuple(sorted(made, key=lambda group: _first_choice(group.offers[0])))


def _group(role: str, offers: list[Offer], likeness: dict[Hashable, int]) -> Group:
    ordered = tuple(sorted(offers, key=_first_choice)) if len(offers) > 1 else tuple(offers)
    figures = ordered[0].figures
    packs = "family" in figures
    alike = _frozen(figures, PACK_KEYS | NAME_KEYS if packs else frozenset())
    return _made(role, ordered, likeness.setdefault(alike, len(likeness)), packs=packs)


def _made(role: str, offers: tuple[Offer, ...], likeness: int, *, packs: bool) -> Group:
    figures = offers[0].figures
    if not packs:
        return Group(role, figures, offers, likeness)
    sizes = tuple(max(1, round(1000 * (pack_litres(offer.figures) or 0.0))) for offer in offers)
    prices = [offer.ware.price_cents for offer in offers]
    per_ml = min(cents / size for cents, size in zip(prices, sizes, strict=True))
    return Group(role, figures, offers, likeness, sizes, per_ml, min(prices))


_WARE_ORDER = attrgetter("ware.preference", "ware.price_cents", "ware.item")


def _first_choice(offer: Offer) -> tuple[int, int, str]:
    return cast(tuple[int, int, str], _WARE_ORDER(offer))


def _frozen(figures: Figures, leaving_out: frozenset[str]) -> Hashable:
    return tuple((key, _freeze(figures[key])) for key in sorted(figures) if key not in leaving_out)


def _freeze(value: object) -> Hashable:
    if isinstance(value, Mapping):
        return tuple((key, _freeze(value[key])) for key in sorted(value))
    if isinstance(value, Sequence) and not isinstance(value, str):
        return tuple(_freeze(part) for part in value)
    return cast(Hashable, value)
