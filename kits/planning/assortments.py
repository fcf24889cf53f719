"""Products that only name and price tell apart, laid out so that many are priced at once."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

from kits.planning.groups import Group

Cents = npt.NDArray[np.int64]
ROWS_AT_ONCE = 64  # products whose covers are priced together


@dataclass(frozen=True, slots=True, eq=False)
class Assortment:
    """All products of one role alike in figures and pack sizes, by preference and price of a litre.

    Nothing of it depends on a need, so it is made once with the shelf.
    """

    groups: tuple[Group, ...]
    sizes: tuple[int, ...]  # millilitres, the largest first
    prices: Cents  # a row for each group, a column for each size

    def blocks(self) -> Iterator[tuple[tuple[Group, ...], Cents]]:
        """Some groups and their prices at a time, in order."""
        for start in range(0, len(self.groups), ROWS_AT_ONCE):
            rows = slice(start, start + ROWS_AT_ONCE)
            yield self.groups[rows], self.prices[rows]


def assorted(groups: Iterable[Group]) -> tuple[Assortment, ...]:
    """The products among these groups, sorted into assortments."""
    alike: dict[tuple[int, tuple[int, ...]], list[Group]] = defaultdict(list)
    for group in groups:
        if group.packs:
            alike[group.likeness, group.sizes].append(group)
    return tuple(_assortment(sizes, of_sizes) for (_, sizes), of_sizes in alike.items())


def _assortment(sizes: tuple[int, ...], groups: list[Group]) -> Assortment:
    ordered = sorted(groups, key=_litre_price)
    rows = [[offer.ware.price_cents for offer in group.large_first] for group in ordered]
    return Assortment(tuple(ordered), sizes, np.array(rows, dtype=np.int64))


def _litre_price(group: Group) -> tuple[Any, ...]:
    return group.preference, group.cents_per_ml, group.offers[0].ware.item
