"""For one need, everything on the shelf that does the job, best first, and why the rest does not."""

import heapq
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cached_property
from itertools import islice

from kits.planning.assortments import Assortment
from kits.planning.choices import Choice, Key, Suitable, suitable
from kits.planning.covers import (
    FIRST_PRODUCTS,
    WIDER,
    Product,
    best_covers,
    by_floor,
    look_at,
    products,
    volume_ml,
)
from kits.planning.groups import Group
from kits.planning.remembered import Remembered
from kits.planning.shelf import Section
from kits.planning.stock import Stock
from kits.terms.needs import Fit, Need

FIRST_LOOK = 12  # candidates whose stock is read at once

Measure = Callable[[Need, Mapping[str, object]], Fit]


class Field:
    """Everything that is measured against one need, no sooner than it is asked for."""

    def __init__(self, need: Need, section: Section, fit: Measure, *, named: bool = False) -> None:
        """`named`: the spec says which items to choose from; they stay even when none of them fits."""
        self.need = need
        self.named = named
        single = section.single if need.by_volume else section.groups
        self._single = Remembered((group, fit(need, group.figures)) for group in single)
        self._packed = list(_packed(need, section, fit))
        self._in_spite = named and not any(found.passes for _, found in (*self._packed, *self._single))
        self.products = products(need, [pair for pair in self._packed if self._runs(pair[1])])
        self._by_floor = Remembered(by_floor(self.products))
        covers = best_covers(self._by_floor)
        self._ranked = Remembered(covers if self.products else _merged(self._opened()))
        self._heads = Remembered(_merged(self._opened(), heads_only=True))
        self._near: dict[int, list[str]] = {}

    @cached_property
    def suitable(self) -> list[Suitable]:
        """All groups that do the job one item at a time."""
        return [one for _, one in self._opened() if one]

    @property
    def refused(self) -> list[Fit]:
        """Why the rest does not do the job."""
        return [found for _, found in (*self._single, *self._packed) if not found.passes]

    def ranked(self) -> Iterator[Choice]:
        """All choices whatever is free, best first; each is worked out once, however often one walks."""
        return iter(self._ranked)

    def heads(self) -> Iterator[Choice]:
        """The best choice of every group whatever is free, best first: all that a first choice can be."""
        return self.ranked() if self.products else iter(self._heads)

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
        if looks not in self._near:
            self._near[looks] = self._within(looks)
        return self._near[looks]

    def _within(self, looks: int) -> list[str]:
        if self.products:
            return [
                item for one in look_at(self._by_floor, 0, FIRST_PRODUCTS * looks) for item in one.items()
            ]
        return [item for choice in self._ranked.between(0, FIRST_LOOK * looks) for item in choice.items]

    def pack_choice(self, choice: Choice, stock: Stock) -> Choice:
        """The same product in the pack sizes that are free, as far as they go."""
        if not self.products:
            return choice
        one = Product(volume_ml(self.need, choice.fit), choice.group, choice.fit)
        return one.covered(stock.free)[0]

    def _runs(self, found: Fit) -> bool:
        return found.passes or self._in_spite

    def _opened(self) -> Iterator[tuple[Group, Suitable | None]]:
        """The groups in the order of their first offers, each with how it does the job, if it does."""
        for group, found in self._single:
            yield group, suitable(self.need, group, found) if self._runs(found) else None


_Queue = list[tuple[Key, int, Choice | None, Iterator[Choice]]]


def _merged(opened: Iterable[tuple[Group, Suitable | None]], *, heads_only: bool = False) -> Iterator[Choice]:
    """The choices of all groups by their key; a group is opened once its first choice could be the next.

    No choice of a group is better than its first offer in the best rank, bought once.
    """
    queue: _Queue = []
    for number, (group, one) in enumerate(opened):
        yield from _before(group.floor, queue)
        if one is not None:
            choices = islice(one.choices(), 1) if heads_only else one.choices()
            heapq.heappush(queue, (one.head(), number, None, choices))
    yield from _before(None, queue)


def _before(floor: tuple[int, int, int] | None, queue: _Queue) -> Iterator[Choice]:
    """The choices that come before whatever a group with this floor could hold."""
    while queue and (floor is None or queue[0][0][:3] < floor):
        _, number, choice, rest = queue[0]
        yield choice or next(rest)
        following = next(rest, None)
        if following is None:
            heapq.heappop(queue)
        else:
            heapq.heapreplace(queue, (following.key, number, following, rest))


def _packed(need: Need, section: Section, fit: Measure) -> Iterator[tuple[Assortment, Fit]]:
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
