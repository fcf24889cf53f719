"""For one need, everything on the shelf that does the job, best first, and why the rest does not."""

import heapq
import math
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import islice

from inventory.calc.packs import Cover, Pack, cover
from kits.planning.shelf import Group, pack_litres
from kits.planning.stock import Stock
from kits.terms.needs import Fit, Need, Offer

# Rank, house preference, price in cents, waste in thousandths, item: the lower, the better.
Key = tuple[int, int, int, int, str]
PLENTY = 10**6  # free packs when stock does not matter
FIRST_LOOK = 12  # candidates whose stock is read before anything is known
_EPSILON = 1e-9  # a need of 3.0000000001 pieces is a need of three


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
        return max(1, math.ceil(_wanted(self.need) / self.each - _EPSILON))

    @property
    def each(self) -> float:
        """How much of the need one piece does; the litres in it where the role does not say."""
        if self.need.by_volume and self.fit.each == 1.0:
            return pack_litres(self.group.figures) or 1.0
        return self.fit.each if self.fit.each > 0 else 1.0

    def choices(self) -> Iterator[Choice]:
        """One choice for each offer of the group, best first."""
        quantity = self.quantity
        waste = round(1000 * (quantity * self.each - _wanted(self.need)))
        for offer in self.group.offers:
            ware = offer.ware
            key = (self.fit.rank, ware.preference, quantity * ware.price_cents, waste, ware.item)
            yield Choice(((offer, quantity),), self.fit, key, self.group)


@dataclass(frozen=True, slots=True)
class Product:
    """A product in one or several pack sizes that covers the volume."""

    need: Need
    group: Group
    fit: Fit

    @property
    def need_ml(self) -> int:
        """Millilitres to take out of the packs, more than the need where the product settles more."""
        return math.ceil(self.need.litres * 1000 / self.fit.each - _EPSILON)

    @property
    def preference(self) -> int:
        """House preference of the product: that of its most preferred pack size."""
        return min(offer.ware.preference for offer in self.group.offers)

    def floor(self) -> Key:
        """A key that no cover can be below: the volume at the cheapest price per litre."""
        per_ml = min(offer.ware.price_cents / self._millilitres(offer) for offer in self.group.offers)
        return (self.fit.rank, self.preference, math.floor(self.need_ml * per_ml - _EPSILON), -1, "")

    def covered(self, free: Callable[[str], int] | None = None) -> tuple[Choice, Cover]:
        """The best packs: least missing from what is free, then price, leftover, number and item."""
        packs = [
            Pack(
                code=offer.ware.item,
                millilitres=self._millilitres(offer),
                price_cents=offer.ware.price_cents,
                free=PLENTY if free is None else free(offer.ware.item),
            )
            for offer in self.group.offers
        ]
        found = cover(self.need_ml, packs)
        return self._choice(found), found

    def _choice(self, found: Cover) -> Choice:
        offers = tuple(
            (offer, found.counts[offer.ware.item])
            for offer in self.group.offers
            if found.counts.get(offer.ware.item)
        )
        item = min(offer.ware.item for offer, _ in offers)
        key = (self.fit.rank, self.preference, found.price_cents, found.leftover_millilitres, item)
        return Choice(offers, self.fit, key, self.group)

    def _millilitres(self, offer: Offer) -> int:
        return max(1, round(1000 * (pack_litres(offer.figures) or 1.0)))


class Field:
    """Everything that was measured against one need."""

    def __init__(self, need: Need, suitable: Sequence[Suitable], products: Sequence[Product],
                 refused: Sequence[tuple[Group, Fit]], *, named: bool = False) -> None:  # fmt: skip
        self.need = need
        self.suitable = suitable
        self.products = products
        self.refused = refused
        self.named = named  # the spec says which items to choose from

    @cached_property
    def first(self) -> Choice | None:
        """The best choice whatever is free."""
        return next(self.ranked(), None)

    def ranked(self) -> Iterator[Choice]:
        """All choices whatever is free, best first."""
        if self.products:
            return _covers(self.products)
        return heapq.merge(*(group.choices() for group in self.suitable), key=lambda choice: choice.key)

    def free(self, stock: Stock) -> Iterator[Choice]:
        """The choices that what is free can serve, best first; stock is read as far as asked."""
        if self.products:
            yield from _free_covers(self.products, stock)
            return
        looked = looked_up(self.ranked(), stock, first=FIRST_LOOK)
        yield from (choice for choice in looked if stock.times(choice.pieces))

    def choice_of(self, item: str) -> Choice | None:
        """The choice that takes this item alone, None where it does not do the job."""
        for suitable in self.suitable:
            if any(offer.ware.item == item for offer in suitable.group.offers):
                return next(choice for choice in suitable.choices() if item in choice.pieces)
        return None

    def first_look(self) -> list[str]:
        """The items whose stock is most likely to be asked for."""
        if self.products:
            return [
                offer.ware.item for product in _by_floor(self.products)[:2] for offer in product.group.offers
            ]
        return [item for choice in islice(self.ranked(), FIRST_LOOK) for item in choice.pieces]

    def pack_choice(self, choice: Choice, stock: Stock) -> Choice:
        """The same product in the pack sizes that are free, as far as they go."""
        product = next((p for p in self.products if p.group is choice.group), None)
        return choice if product is None else product.covered(stock.free)[0]


def field_of(need: Need, groups: Iterable[Group], fit: Callable[[Need, Mapping[str, object]], Fit], *,
             named: bool = False) -> Field:  # fmt: skip
    """Measure every group against the need; named items stay in the running when none of them fits."""
    seen: dict[Hashable, Fit] = {}
    passed: list[tuple[Group, Fit]] = []
    refused: list[tuple[Group, Fit]] = []
    for group in groups:
        key = (group.likeness, pack_litres(group.figures))
        found = seen.get(key)
        if found is None:
            found = seen[key] = fit(need, group.figures)
        (passed if found.passes else refused).append((group, found))
    running = refused if named and not passed else passed
    by_pack = [(g, f) for g, f in running if g.packs and need.by_volume]
    single = [(g, f) for g, f in running if not (g.packs and need.by_volume)]
    return Field(
        need,
        [Suitable(need, group, found) for group, found in single],
        [Product(need, group, found) for group, found in by_pack],
        refused,
        named=named,
    )


def looked_up(choices: Iterator[Choice], stock: Stock, *, first: int) -> Iterator[Choice]:
    """The same choices, their stock read in batches that grow the further down one looks."""
    look = first
    while some := list(islice(choices, look)):
        stock.know(item for choice in some for item in choice.pieces)
        yield from some
        look *= 8


def _wanted(need: Need) -> float:
    return need.litres if need.by_volume else float(max(1, need.count))


def _by_floor(products: Iterable[Product]) -> list[Product]:
    return sorted(products, key=lambda product: (product.floor(), product.group.offers[0].ware.item))


_Waiting = tuple[Key, int, Product, Choice | None]


def _waiting(products: Iterable[Product]) -> list[_Waiting]:
    """Products queued under a key that their real one cannot be below."""
    return [(p.floor(), number, p, None) for number, p in enumerate(_by_floor(products))]


def _covers(products: Iterable[Product]) -> Iterator[Choice]:
    """Best covers first; a product is only covered once its lowest possible price is reached."""
    queue = _waiting(products)
    while queue:
        _, number, product, choice = heapq.heappop(queue)
        if choice is not None:
            yield choice
            continue
        choice = product.covered()[0]
        heapq.heappush(queue, (choice.key, number, product, choice))


def _free_covers(products: Iterable[Product], stock: Stock) -> Iterator[Choice]:
    """Best covers from what is free; products that it cannot cover are left out."""
    queue, look = _waiting(products), 2
    unread = [entry[2] for entry in queue]
    while queue:
        _, number, product, choice = heapq.heappop(queue)
        if choice is not None:
            yield choice
            continue
        if unread and unread[0] is product:
            stock.know(offer.ware.item for one in unread[:look] for offer in one.group.offers)
            unread, look = unread[look:], look * 8
        choice, found = product.covered(stock.free)
        if found.missing_millilitres == 0:
            heapq.heappush(queue, (choice.key, number, product, choice))
