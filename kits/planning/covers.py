"""Products in packs against a volume: the best covers first, worked out only as far as they are asked for."""

import heapq
import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from operator import itemgetter

import numpy as np
import numpy.typing as npt

from inventory.calc.packs import Cover, Pack, cover
from kits.planning.assortments import Assortment, Cents
from kits.planning.choices import ROUNDING, Choice, Key
from kits.planning.groups import Group
from kits.planning.remembered import Remembered
from kits.planning.stock import Stock
from kits.terms.needs import Fit, Need

PLENTY = 10**6  # free packs when stock does not matter
MOST_WAYS = 2000  # ways to make up a volume that are all listed
MOST_TIED = 6  # products of equal price that are looked at together
FIRST_PRODUCTS = 2  # products whose stock is read at once
WIDER = 5  # how many times further each next look goes

Whole = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Product:
    """A product in one or several pack sizes that covers the volume."""

    need_ml: int
    group: Group
    fit: Fit

    def floor(self, free: Callable[[str], int]) -> Key:
        """A key that no cover from what is free can be below."""
        ways = minimal_covers(self.need_ml, self.group.sizes)
        if ways is None:
            return self._key(_quick_cents(self.need_ml, self.group), -2)
        offers = self.group.large_first
        most = np.array([free(offer.ware.item) for offer in offers], dtype=np.int64)
        prices = np.array([[offer.ware.price_cents for offer in offers]], dtype=np.int64)
        can = (ways.counts <= most).all(axis=1)
        if not can.any():
            return self._key(0, -1)
        cents, spare = _cheapest(prices, Ways(ways.counts[can], ways.spare[can]))
        return self._key(int(cents[0]), int(spare[0]))

    def covered(self, free: Callable[[str], int] | None = None) -> tuple[Choice, Cover]:
        """The best packs: least missing from what is free, then price, leftover, number and item."""
        packs = tuple(
            Pack(
                code=offer.ware.item,
                millilitres=size,
                price_cents=offer.ware.price_cents,
                free=min(PLENTY if free is None else free(offer.ware.item), -(-self.need_ml // size)),
            )
            for offer, size in zip(self.group.large_first, self.group.sizes, strict=True)
        )
        found = _cover(self.need_ml, packs)
        return self._choice(found), found

    def enough(self, free: Callable[[str], int]) -> bool:
        """Whether all free packs together hold the need."""
        sizes = zip(self.group.large_first, self.group.sizes, strict=True)
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
        key = self._key(found.price_cents, found.leftover_millilitres, item)
        return Choice(offers, self.fit, key, self.group)

    def _key(self, cents: int, spare: int, item: str = "") -> Key:
        return (self.fit.rank, self.group.preference, cents, spare, item)


@dataclass(frozen=True, slots=True)
class Products:
    """An assortment of which every product covers the volume."""

    need_ml: int
    assortment: Assortment
    fit: Fit

    def by_floor(self) -> Iterator[tuple[Key, Product]]:
        """Products under a key that their covers cannot be below, lowest first.

        The key is the price and leftover of the best cover where all ways can be listed. They stand by the
        price of a litre, and a cover costs at least as many of those as are needed: so one may stop looking
        once the best found is below that.
        """
        waiting: list[tuple[Key, str, Product]] = []
        for groups, prices in self.assortment.blocks():
            lowest = self._key(groups[0], _litre_cents(self.need_ml, groups[0]), -3)
            while waiting and waiting[0][0] < lowest:
                yield self._next(waiting)
            waiting.extend(self._priced(groups, prices))
            heapq.heapify(waiting)
        while waiting:
            yield self._next(waiting)

    @staticmethod
    def _next(waiting: list[tuple[Key, str, Product]]) -> tuple[Key, Product]:
        key, _, one = heapq.heappop(waiting)
        return key, one

    def _priced(self, groups: tuple[Group, ...], prices: Cents) -> Iterator[tuple[Key, str, Product]]:
        ways = minimal_covers(self.need_ml, self.assortment.sizes)
        if ways is None:
            least = [(_quick_cents(self.need_ml, group), -2) for group in groups]
        else:
            cents, spare = _cheapest(prices, ways)
            least = list(zip(cents.tolist(), spare.tolist(), strict=True))
        for group, (price, left) in zip(groups, least, strict=True):
            yield (
                self._key(group, price, left),
                group.offers[0].ware.item,
                Product(self.need_ml, group, self.fit),
            )

    def _key(self, group: Group, cents: int, spare: int) -> Key:
        return (self.fit.rank, group.preference, cents, spare, "")


def volume_ml(need: Need, fit: Fit) -> int:
    """What must be in the packs; a product that settles more needs more of them."""
    return max(1, math.ceil(need.litres * 1000 / (fit.each if fit.each > 0 else 1.0) - ROUNDING))


def products(need: Need, measured: Iterable[tuple[Assortment, Fit]]) -> list[Products]:
    """Assortments measured against a need."""
    return [Products(volume_ml(need, fit), assortment, fit) for assortment, fit in measured]


@dataclass(frozen=True, slots=True)
class Ways:
    """Ways to cover a volume: packs of each size in a row, and what they hold beyond it."""

    counts: Whole
    spare: Whole


# No more packs of a size are taken than fill the need alone: what is free beyond them changes no cover.
_cover = lru_cache(maxsize=512)(cover)


@lru_cache(maxsize=512)
def minimal_covers(need_ml: int, sizes: tuple[int, ...]) -> Ways | None:
    """All ways to cover a volume without a needless pack; None where there are too many to list.

    The cheapest cover with the least leftover is always one of these, whatever the packs cost, so products
    in the same pack sizes share one list.

    Example:
        >>> minimal_covers(12, (10, 5)).counts.tolist()
        [[0, 3], [1, 1], [2, 0]]
    """
    counts, left = np.zeros((1, 0), dtype=np.int64), np.array([need_ml], dtype=np.int64)
    for size in sizes[:-1]:
        numbers = np.maximum(-(-left // size), 0) + 1  # none of this size up to as many as fill the rest
        total = int(numbers.sum())
        if total > MOST_WAYS:
            return None
        number = np.arange(total) - np.repeat(np.cumsum(numbers) - numbers, numbers)
        counts = np.column_stack((np.repeat(counts, numbers, axis=0), number))
        left = np.repeat(left, numbers) - number * size
    last = np.maximum(-(-left // sizes[-1]), 0)
    counts, spare = np.column_stack((counts, last)), last * sizes[-1] - left
    needed = ((counts == 0) | (spare[:, np.newaxis] < np.array(sizes))).all(axis=1)
    return Ways(counts[needed], spare[needed])


def _cheapest(prices: Cents, ways: Ways) -> tuple[Whole, Whole]:
    """For each row of prices the least price of all ways, and the least leftover at that price."""
    costs = prices @ ways.counts.T
    cents = costs.min(axis=1)
    spare = np.where(costs == cents[:, np.newaxis], ways.spare, np.iinfo(np.int64).max).min(axis=1)
    return cents, spare


def _quick_cents(need_ml: int, group: Group) -> int:
    """A cover holds at least one pack, and every litre in it costs at least the cheapest litre."""
    return max(group.least_cents, _litre_cents(need_ml, group))


def _litre_cents(need_ml: int, group: Group) -> int:
    return math.floor(need_ml * group.cents_per_ml - ROUNDING)


def by_floor(some: Iterable[Products]) -> Iterator[tuple[Key, Product]]:
    """All products under a key that their covers cannot be below, lowest first."""
    return heapq.merge(*(one.by_floor() for one in some), key=itemgetter(0))


def best_covers(ordered: Remembered[tuple[Key, Product]], stock: Stock | None = None) -> Iterator[Choice]:
    """Best covers first, whatever is free, or with stock only those that what is free can serve.

    Every product waits under a key that its cover cannot be below, so only what is asked for is worked out.
    """
    queue: list[tuple[Key, int, Product, Choice | None]] = []
    free = None if stock is None else stock.free
    looked, look = 0, FIRST_PRODUCTS
    for number, (floor, one) in enumerate(ordered):
        yield from _until(floor, queue, free)
        if stock is not None and number == looked:
            near = look_at(ordered, looked, look)
            stock.know(item for product in near for item in product.items())
            looked, look = looked + len(near), look * WIDER
        if free is None or one.enough(free):
            heapq.heappush(queue, (floor if free is None else one.floor(free), number, one, None))
    yield from _until(None, queue, free)


def look_at(ordered: Remembered[tuple[Key, Product]], start: int, number: int) -> list[Product]:
    """So many products from a place on, and a few more where they may cost as little as the last of them."""
    near = ordered.between(start, start + number + MOST_TIED)
    last = near[:number][-1][0] if near else None
    return [one for place, (floor, one) in enumerate(near) if place < number or floor == last]


def _until(
    floor: Key | None,
    queue: list[tuple[Key, int, Product, Choice | None]],
    free: Callable[[str], int] | None,
) -> Iterator[Choice]:
    """The covers that nothing to come can be before."""
    while queue and (floor is None or queue[0][0] < floor):
        _, number, one, choice = heapq.heappop(queue)
        if choice is not None:
            yield choice
            continue
        choice = one.covered(free)[0]
        heapq.heappush(queue, (choice.key, number, one, choice))
