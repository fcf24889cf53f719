"""One way to do a job: pieces of a single item, or packs of one product."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from kits.planning.groups import Group, pack_litres
from kits.planning.stock import Stock
from kits.terms.needs import Fit, Need, Offer

# Rank, house preference, price in cents, waste in thousandths, item: the lower, the better.
Key = tuple[int, int, int, int, str]
ROUNDING = 1e-9  # a need of 3.0000000001 pieces is a need of three


@dataclass(frozen=True, slots=True)
class Choice:
    """One way to do the job: pieces of one item, or several pack sizes of one product."""

    offers: tuple[tuple[Offer, int], ...]
    fit: Fit
    key: Key
    group: Group

    @property
    def total_cents(self) -> int:
        """Price of all pieces."""
        return self.key[2]

    @property
    def items(self) -> tuple[str, ...]:
        """The items that are taken."""
        return tuple([offer.ware.item for offer, _ in self.offers])

    def is_free(self, stock: Stock) -> bool:
        """Whether all pieces can be taken from what is free."""
        return all(stock.free(offer.ware.item) >= number for offer, number in self.offers)

    @property
    def pieces(self) -> dict[str, int]:
        """Pieces by item."""
        return {offer.ware.item: number for offer, number in self.offers}


@dataclass(frozen=True, slots=True)
class Suitable:
    """A group whose items do the job, one item at a time."""

    group: Group
    fit: Fit
    quantity: int  # pieces of one item that do the whole job
    waste: int  # what they do beyond it, in thousandths

    def head(self) -> Key:
        """The key of the best choice."""
        return self._key(self.group.offers[0])

    def choices(self) -> Iterator[Choice]:
        """One choice for each offer of the group, best first."""
        for offer in self.group.offers:
            yield Choice(((offer, self.quantity),), self.fit, self._key(offer), self.group)

    def _key(self, offer: Offer) -> Key:
        ware = offer.ware
        return (self.fit.rank, ware.preference, self.quantity * ware.price_cents, self.waste, ware.item)


def suitable(need: Need, group: Group, fit: Fit) -> Suitable:
    """A group measured against a need in whole pieces."""
    wanted = need.litres if need.by_volume else float(max(1, need.count))
    each = fit.each if fit.each > 0 else 1.0
    if need.by_volume and fit.each == 1.0:
        each = pack_litres(group.figures) or 1.0  # the role leaves it to the litres in one piece
    quantity = max(1, math.ceil(wanted / each - ROUNDING))
    return Suitable(group, fit, quantity, round(1000 * (quantity * each - wanted)))
