"""Products in packs against a volume: the best covers first, worked out only as far as they are asked for."""

import heapq
import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import product
from operator import le, mul

from inventory.calc.packs import Cover, Pack, cover
from kits.planning.choices import ROUNDING, Choice, Key
from kits.planning.shelf import Group
from kits.planning.stock import Stock
from kits.terms.needs import Fit, Need

PLENTY = 10**6  # free packs when stock does not matter
MOST_WAYS = 1000  # ways to fill all but the last pack size that are tried one by one
FIRST_PRODUCTS = 2  # products whose stock is read at once
WIDER = 5  # how many times further each next look goes


@dataclass(frozen=True, slots=True)
class Product:
    """A product in one or several pack sizes that covers the volume."""

    need_ml: int
    group: Group
    fit: Fit

    @property
    def preference(self) -> int:
        """House preference of the product: that of its most preferred pack size."""
        return self.group.offers[0].ware.preference

    def quick_floor(self) -> Key:
        """A key that no cover can be below, told from the group alone.

        A cover holds at least one pack, and every litre in it costs at least the cheapest litre.
        """
        least = max(self.group.least_cents, math.floor(self.need_ml * self.group.cents_per_ml - ROUNDING))
        return (self.fit.rank, self.preference, least, -2, "")

    def floor(self, free: Callable[[str], int] | None = None) -> Key:
        """A key that no cover can be below, from what is free where that is known."""
        return (self.fit.rank, self.preference, self._least_cents(free), -1, "")

    def _least_cents(self, free: Callable[[str], int] | None) -> int:
        prices = [offer.ware.price_cents for offer in self.group.offers]
        most = [PLENTY if free is None else free(offer.ware.item) for offer in self.group.offers]
        patterns = minimal_covers(self.need_ml, self.group.millilitres)
        if patterns is None:
            return self.quick_floor()[2]
        return min(
            (sum(map(mul, pattern, prices)) for pattern in patterns if all(map(le, pattern, most))),
            default=0,
        )

    def covered(self, free: Callable[[str], int] | None = None) -> tuple[Choice, Cover]:
        """The best packs: least missing from what is free, then price, leftover, number and item."""
        packs = [
            Pack(
                code=offer.ware.item,
                millilitres=size,
                price_cents=offer.ware.price_cents,
                free=PLENTY if free is None else free(offer.ware.item),
            )
            for offer, size in zip(self.group.offers, self.group.millilitres, strict=True)
        ]
        found = cover(self.need_ml, packs)
        return self._choice(found), found

    def enough(self, free: Callable[[str], int]) -> bool:
        """Whether all free packs together hold the need."""
        sizes = zip(self.group.offers, self.group.millilitres, strict=True)
        return sum(size * free(offer.ware.item) for offer, size in sizes) >= self.need_ml

    def items(self) -> Iterator[str]:
        """The items of all pack sizes."""
        return (offer.ware.item for offer in self.group.offers)

    def _choice(self, found: Cover) -> Choice:
        offers = tuple(
            (offer, found.counts[offer.ware.item])
            for offer in self.group.offers
            if found.counts.get(offer.ware.item)
        )
        item = min(offer.ware.item for offer, _ in offers)
        key = (self.fit.rank, self.preference, found.price_cents, found.leftover_millilitres, item)
        return Choice(offers, self.fit, key, self.group)


def products(need: Need, measured: Iterable[tuple[Group, Fit]]) -> list[Product]:
    """Products measured against a need; one that settles more needs more of its packs."""
    litres: dict[float, int] = {}
    made = []
    for group, fit in measured:
        each = fit.each if fit.each > 0 else 1.0
        if each not in litres:
            litres[each] = max(1, math.ceil(need.litres * 1000 / each - ROUNDING))
        made.append(Product(litres[each], group, fit))
    return made


@lru_cache(maxsize=512)
def minimal_covers(need_ml: int, sizes: tuple[int, ...]) -> tuple[tuple[int, ...], ...] | None:
    """All ways to cover a volume without a needless pack; None where there are too many to list.

    The cheapest cover is always one of these, whatever the packs cost, so products in the same pack sizes
    share one list.

    Example:
        >>> minimal_covers(12, (10, 5))
        ((2, 0), (1, 1), (0, 3))
    """
    ways = math.prod(-(-need_ml // size) + 1 for size in sizes[:-1])
    if ways > MOST_WAYS:
        return None
    counts = product(*(range(-(-need_ml // size), -1, -1) for size in sizes[:-1]))
    found = []
    for some in counts:
        held = sum(map(mul, some, sizes))
        pattern = (*some, max(0, -(-(need_ml - held) // sizes[-1])))
        spare = held + pattern[-1] * sizes[-1] - need_ml
        if all(spare < size for number, size in zip(pattern, sizes, strict=True) if number):
            found.append(pattern)
    return tuple(found)


def by_floor(some: Iterable[Product]) -> list[tuple[Key, Product]]:
    """Products under the key that their covers cannot be below, lowest first."""
    pairs = [(one.quick_floor(), one) for one in some]
    return sorted(pairs, key=lambda pair: (pair[0], pair[1].group.offers[0].ware.item))


_Waiting = tuple[Key, int, Product, Choice | None]


def best_covers(ordered: Iterable[tuple[Key, Product]], stock: Stock | None = None) -> Iterator[Choice]:
    """Best covers first, whatever is free, or with stock only those that what is free can serve.

    Every product waits under a key that its cover cannot be below: first one that costs nothing to tell, then
    its exact price, then the cover itself. So only what is asked for is worked out.
    """
    queue: list[_Waiting] = [(floor, number, one, None) for number, (floor, one) in enumerate(ordered)]
    unread, look = [entry[2] for entry in queue], FIRST_PRODUCTS
    free = None if stock is None else stock.free
    priced: set[int] = set()
    while queue:
        _, number, one, choice = heapq.heappop(queue)
        if choice is not None:
            yield choice
            continue
        if stock is not None and unread and unread[0] is one:
            stock.know(item for near in unread[:look] for item in near.items())
            unread, look = unread[look:], look * WIDER
        if number in priced:
            choice = one.covered(free)[0]
            heapq.heappush(queue, (choice.key, number, one, choice))
        elif free is None or one.enough(free):
            priced.add(number)
            heapq.heappush(queue, (one.floor(free), number, one, None))
