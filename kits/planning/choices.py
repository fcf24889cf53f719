"""One way to do a job: pieces of a single item, or packs of one product."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from kits.planning.shelf import Group, pack_litres
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

    need: Need
    group: Group
    fit: Fit

    @property
    def quantity(self) -> int:
        """Pieces of one item that do the whole job."""
        return max(1, math.ceil(self.wanted / self.each - ROUNDING))

    @property
    def wanted(self) -> float:
        """How much is to be done: litres, or pieces."""
        return self.need.litres if self.need.by_volume else float(max(1, self.need.count))

    @property
    def each(self) -> float:
        """How much of the need one piece does; the litres in it where the role does not say."""
        if self.need.by_volume and self.fit.each == 1.0:
            return pack_litres(self.group.figures) or 1.0
        return self.fit.each if self.fit.each > 0 else 1.0

    def head(self) -> Key:
        """The key of the best choice."""
        return self._key(self.group.offers[0], self.quantity, self._waste())

    def choices(self) -> Iterator[Choice]:
        """One choice for each offer of the group, best first."""
        quantity, waste = self.quantity, self._waste()
        for offer in self.group.offers:
            yield Choice(((offer, quantity),), self.fit, self._key(offer, quantity, waste), self.group)

    def _waste(self) -> int:
        return round(1000 * (self.quantity * self.each - self.wanted))

    def _key(self, offer: Offer, quantity: int, waste: int) -> Key:
        ware = offer.ware
        return (self.fit.rank, ware.preference, quantity * ware.price_cents, waste, ware.item)
