"""For one need, everything on the shelf that does the job, best first, and why the rest does not."""

import heapq
from collections.abc import Callable, Hashable, Iterable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import islice

from kits.planning.choices import Choice, Key, Suitable, suitable
from kits.planning.covers import FIRST_PRODUCTS, WIDER, Product, best_covers, by_floor, products
from kits.planning.shelf import Group
from kits.planning.stock import Stock
from kits.terms.needs import Fit, Need

FIRST_LOOK = 12  # candidates whose stock is read at once


class Field:
    """Everything that was measured against one need."""

    def __init__(
        self,
        need: Need,
        suitable: Sequence[Suitable],
        products: Sequence[Product],
        refused: Sequence[tuple[Group, Fit]],
        *,
        named: bool = False,
    ) -> None:
        self.need = need
        self.suitable = suitable
        self.products = products
        self.refused = refused
        self.named = named  # the spec says which items to choose from
        self._met: list[Choice] = []
        self._coming = self._walk()

    def ranked(self) -> Iterator[Choice]:
        """All choices whatever is free, best first; each is worked out once, however often one walks."""
        at = 0
        while True:
            if at == len(self._met):
                choice = next(self._coming, None)
                if choice is None:
                    return
                self._met.append(choice)
            yield self._met[at]
            at += 1

    def heads(self) -> Iterator[Choice]:
        """The best choice of every group whatever is free, best first: all that a first choice can be."""
        if self.products:
            return self.ranked()
        ordered = sorted(self.suitable, key=lambda one: one.head())
        return (next(one.choices()) for one in ordered)

    def free(self, stock: Stock) -> Iterator[Choice]:
        """The choices that what is free can serve, best first; stock is read as far as asked."""
        if self.products:
            yield from best_covers(self._ordered, stock)
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
            likely = self._ordered[: FIRST_PRODUCTS * looks]
            return [item for _, one in likely for item in one.items()]
        return [item for choice in islice(self.ranked(), FIRST_LOOK * looks) for item in choice.items]

    def pack_choice(self, choice: Choice, stock: Stock) -> Choice:
        """The same product in the pack sizes that are free, as far as they go."""
        one = next((one for one in self.products if one.group is choice.group), None)
        return choice if one is None else one.covered(stock.free)[0]

    @cached_property
    def _ordered(self) -> list[tuple[Key, Product]]:
        return by_floor(self.products)

    def _walk(self) -> Iterator[Choice]:
        if self.products:
            yield from best_covers(self._ordered)
            return
        yield from _merged(self.suitable)


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
    groups: Iterable[Group],
    fit: Callable[[Need, Mapping[str, object]], Fit],
    *,
    named: bool = False,
) -> Field:
    """Measure every group against the need; named items stay in the running when none of them fits."""
    measured: dict[Hashable, Fit] = {}  # products that are alike are measured once
    passed: list[tuple[Group, Fit]] = []
    refused: list[tuple[Group, Fit]] = []
    for group in groups:
        found = measured.get(group.likeness) if group.millilitres else None
        if found is None:
            found = measured[group.likeness] = fit(need, group.figures)
        (passed if found.passes else refused).append((group, found))
    running = refused if named and not passed else passed
    return Field(
        need,
        [suitable(need, group, fit) for group, fit in running if not (group.packs and need.by_volume)],
        products(need, [(group, fit) for group, fit in running if group.packs and need.by_volume]),
        refused,
        named=named,
    )


def looked_up(choices: Iterator[Choice], stock: Stock, *, first: int) -> Iterator[Choice]:
    """The same choices, their stock read in batches that grow the further down one looks."""
    look = first
    while some := list(islice(choices, look)):
        stock.know(item for choice in some for item in choice.items)
        yield from some
        look *= WIDER
