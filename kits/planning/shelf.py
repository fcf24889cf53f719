"""The shelf: everything on offer, grouped so that a plan's cost does not grow with the catalogue."""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass

from kits.planning.assortments import Assortment, assorted
from kits.planning.groups import Group, group_key, ordered
from kits.terms.needs import Offer, Ware


@dataclass(frozen=True, slots=True)
class Section:
    """The part of the shelf that a role is chosen from."""

    groups: tuple[Group, ...]
    single: tuple[Group, ...]  # those that do not come in packs
    assortments: tuple[Assortment, ...]  # those that do

    @classmethod
    def of(cls, groups: tuple[Group, ...]) -> "Section":
        """These groups, those in packs sorted into assortments."""
        return cls(groups, tuple(group for group in groups if not group.packs), assorted(groups))


class Shelf:
    """An index of wares and offers, built once per catalogue version and never changed."""

    def __init__(self, wares: Mapping[str, Ware], groups: Mapping[str, tuple[Group, ...]]) -> None:
        self._wares = wares
        self._sections = {role: Section.of(of_role) for role, of_role in groups.items()}
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
            alike[offer.role][group_key(offer)].append(offer)
        groups = {role: ordered(role, of_role.values()) for role, of_role in alike.items()}
        return cls({ware.item: ware for ware in wares}, groups)

    def section(self, role: str, items: Iterable[str] | None = None) -> Section:
        """What a role is chosen from: all of it, or the named items."""
        if items is not None:
            return Section.of(self.groups_with(role, items))
        return self._sections.get(role, _EMPTY)

    def groups(self, role: str) -> tuple[Group, ...]:
        """The groups of a role, the one with the best first offer first."""
        return self.section(role).groups

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


_EMPTY = Section((), (), ())
