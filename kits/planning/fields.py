"""For one need, everything on the shelf that does the job, best first, and why the rest does not."""

import heapq
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import islice

from kits.planning.assortments import Assortment
from kits.planning.choices import Choice, Key, Suitable, suitable
from kits.planning.covers import (
    FIRST_PRODUCTS,
    WIDER,
    Product,
    Products,
    best_covers,
    by_floor,
    products,
    volume_ml,
)
from kits.planning.remembered import Remembered
from kits.planning.shelf import Section
from kits.planning.stock import Stock
from kits.terms.needs import Fit, Need

FIRST_LOOK = 12  # candidates whose stock is read at once


class Field:
    """Everything that was measured against one need."""

    def __init__(
        self,
        need: Need,
        suitable: Sequence[Suitable],
        products: Sequence[Products],
        refused: Sequence[Fit],
        *,
        named: bool = False,
    ) -> None:
        self.need = need
        self.suitable = suitable
        self.products = products
        self.refused = refused
        self.named = named  # the spec says which items to choose from
        self._by_floor = Remembered(by_floor(products))
        self._ranked = Remembered(best_covers(self._by_floor) if products else _merged(suitable))

    def ranked(self) -> Iterator[Choice]:
        """All choices whatever is free, best first; each is worked out once, however often one walks."""
        return iter(self._ranked)

    def heads(self) -> Iterator[Choice]:
        """The best choice of every group whatever is free, best first: all that a first choice can be."""
        if self.products:
            return self.ranked()
        ordered = sorted(self.suitable, key=lambda one: one.head())
        return (next(one.choices()) for one in ordered)

    def free(self, stock: Stock) -> Iterator[Choice]:
        """The choices that what is free can serve, best first; stock is read as far as asked."""
        if self.products:
            yield from best_covers(self._by_floor, stock)
            return
        looked = looked_up(self.ranked(), stock, first=FIRST_LOOK)
        yield from (choice for choice in looked if choice.is_free(stock))

    def choice_of(self, item: str) -> Choice | None:
        """The choice that takes this item alone, None where it does not do the job."""
        for one in self.suitable:
            if any(offer.ware.item == item for offer in one.group.offers):
                return next(choice for choice in one.choices() if item in choice.items)
        return None

    def near(self, *, further: bool = False) -> list[str]:
        """The items whose stock is asked for at the first look, or at the first two looks."""
        looks = 1 + WIDER if further else 1
        if self.products:
            likely = self._by_floor.between(0, FIRST_PRODUCTS * looks)
            return [item for _, one in likely for item in one.items()]
        return [item for choice in self._ranked.between(0, FIRST_LOOK * looks) for item in choice.items]

    def pack_choice(self, choice: Choice, stock: Stock) -> Choice:
        """The same product in the pack sizes that are free, as far as they go."""
        if not self.products:
            return choice
        one = Product(volume_ml(self.need, choice.fit), choice.group, choice.fit)
        return one.covered(stock.free)[0]


def _merged(suitable: Sequence[Suitable]) -> Iterator[Choice]:
    """The choices of all groups by their key; a group is opened once its first choice is reached."""
    queue: list[tuple[Key, int, Choice | None, Iterator[Choice]]] = [
        (one.head(), number, None, one.choices()) for number, one in enumerate(suitable)
    ]
    heapq.heapify(queue)
    while queue:
        _, number, choice, rest = queue[0]
        yield choice or next(rest)
        following = next(rest, None)
        if following is None:
            heapq.heappop(queue)
        else:
            heapq.heapreplace(queue, (following.key, number, following, rest))


def field_of(
    need: Need,
    section: Section,
    fit: Callable[[Need, Mapping[str, object]], Fit],
    *,
    named: bool = False,
) -> Field:
    """Measure the section against the need; named items stay in the running when none of them fits."""
    single = section.single if need.by_volume else section.groups
    groups = [(group, fit(need, group.figures)) for group in single]
    packed = list(_measured(need, section, fit))
    passed = [pair for pair in groups if pair[1].passes], [pair for pair in packed if pair[1].passes]
    running = (groups, packed) if named and not any(passed) else passed
    return Field(
        need,
        [suitable(need, group, found) for group, found in running[0]],
        products(need, running[1]),
        [found for _, found in (*groups, *packed) if not found.passes],
        named=named,
    )


def _measured(
    need: Need, section: Section, fit: Callable[[Need, Mapping[str, object]], Fit]
) -> Iterator[tuple[Assortment, Fit]]:
    """Each assortment with how it fits; those alike in all but their pack sizes are measured once."""
    known: dict[int, Fit] = {}
    for some in section.assortments if need.by_volume else ():
        first = some.groups[0]
        if first.likeness not in known:
            known[first.likeness] = fit(need, first.figures)
        yield some, known[first.likeness]


def looked_up(choices: Iterator[Choice], stock: Stock, *, first: int) -> Iterator[Choice]:
    """The same choices, their stock read in batches that grow the further down one looks."""
    look = first
    while some := list(islice(choices, look)):
        stock.know(item for choice in some for item in choice.items)
        yield from some
        look *= WIDER
