"""Which bags to take: exact cover of a volume by pack sizes, cheapest or from what is free first."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from typing import Any, NotRequired, TypedDict

import numpy as np
import numpy.typing as npt

from inventory.calc.errors import Impossible

__all__ = ["cheapest_cover"]

MOST_STEPS = 4_000_000  # volume steps of one table: above this the answer would take seconds
MOST_STEPS_IN_PYTHON = 200_000  # the same where keys need Python's own integers
_ROOM = 2**60  # keys stay below this in 64-bit integers; larger ones are computed with Python's


Table = npt.NDArray[Any]
Taken = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class Pack:
    """One pack size of a product: what is in it, what it costs, how many are free."""

    code: str
    millilitres: int
    price_cents: int
    free: int


@dataclass(frozen=True, slots=True)
class Cover:
    """Bags that cover a need."""

    counts: Mapping[str, int]  # by code, only those taken
    millilitres: int
    price_cents: int
    missing_millilitres: int  # what the bags beyond the free ones hold
    leftover_millilitres: int


class PackOffered(TypedDict):
    """A pack size as JSON; stock absent or null means as many as you like."""

    code: str
    litres: float
    price: float | str
    stock: NotRequired[int | None]


@dataclass(frozen=True, slots=True)
class _Bags:
    """Some bags of one size: at most so many, or (a chunk) so many together or none."""

    code: str
    size: int
    price: int
    bags: int


def cheapest_cover(need_l: float, packs: Sequence[PackOffered]) -> dict[str, Any]:
    """Cheapest whole packs that hold at least the need.

    Formula: minimise sum(price_i * n_i) subject to sum(litres_i * n_i) >= need_l and 0 <= n_i <= stock_i,
        n_i whole; ties go to the least leftover, then the fewest packs, then more of the earlier code.
    Args:
        need_l: litres wanted [L], >= 0.
        packs: pack sizes on offer, each with a code, its litres [L] > 0, its price >= 0 and its stock (absent
            or null: as many as you like).
    Returns: cost as text in the currency of the prices, litres and counts by code (0 where a size is not
        taken) [L].
    Raises: Impossible naming packs when all of them together hold less than the need.
    Valid: exact for every input, by an integer dynamic programme over volume in steps of the greatest common
        divisor of the sizes, at most 4 million steps.
    Source: bounded knapsack cover, textbook; the figures of the example are our own, on which two independent
        solvers (integer programme, constraint programme) agree.
    Example:
        >>> cheapest_cover(47, [{"code": "a", "litres": 4, "price": "6.49"},
        ...     {"code": "b", "litres": 8, "price": "10.99"}, {"code": "c", "litres": 20, "price": "22.99"}])
        {'cost': '56.97', 'litres': 48.0, 'counts': {'a': 0, 'b': 1, 'c': 2}}
    """
    need, sizes, prices = _exact(need_l, "need_l"), _sizes(packs), _prices(packs)
    step = math.gcd(*(size.numerator * (_shared(sizes) // size.denominator) for size in sizes))
    unit = Fraction(step, _shared(sizes))
    units = math.ceil(need / unit)
    places = max(_decimals(price) for price in prices)
    bags = [
        _Bags(pack["code"], int(size / unit), int(price.scaleb(places)), _in_stock(pack, need, size))
        for pack, size, price in zip(packs, sizes, prices, strict=True)
    ]
    if sum(bag.size * bag.bags for bag in bags) < units:
        raise Impossible("packs", f"together hold less than the {need_l:g} L that are wanted.")
    counts = _best(units, bags, argument="need_l")
    cost = sum(
        (price * counts[pack["code"]] for pack, price in zip(packs, prices, strict=True)), Decimal("0.00")
    )
    litres = sum(bag.size * counts[bag.code] for bag in bags) * unit
    return {"cost": str(cost), "litres": float(litres), "counts": counts}


def cover(need_ml: int, packs: Sequence[Pack]) -> Cover:
    """The bags to take for a need: what is free first, then price, leftover, bags, earlier code.

    Where free bags can do it, the best of their covers. Where they cannot, all of them and the cheapest
    bags for the rest; free bags that those make needless stay on the shelf, the dearest first. Raises
    Impossible for no packs.
    """
    if not packs:
        raise Impossible("packs", "must hold at least one size.")
    need_ml = max(need_ml, 0)
    free = {pack.code: max(pack.free, 0) for pack in packs}
    rest = need_ml - sum(pack.millilitres * free[pack.code] for pack in packs)
    if rest <= 0:
        return _as_cover(_covering(need_ml, packs, free), need_ml, packs)
    bought = _covering(rest, packs, {pack.code: math.ceil(rest / pack.millilitres) for pack in packs})
    taken = {code: bought[code] + free[code] for code in free}
    return _as_cover(_without_needless(taken, free, need_ml, packs), need_ml, packs)


def _covering(need_ml: int, packs: Sequence[Pack], limits: Mapping[str, int]) -> dict[str, int]:
    """The cheapest cover of a need from at most so many bags of each size."""
    unit = math.gcd(*(pack.millilitres for pack in packs))
    bags = [_Bags(pack.code, pack.millilitres // unit, pack.price_cents, limits[pack.code]) for pack in packs]
    return _best(math.ceil(need_ml / unit), bags, argument="need_ml")


def _without_needless(
    taken: Mapping[str, int], free: Mapping[str, int], need_ml: int, packs: Sequence[Pack]
) -> dict[str, int]:
    counts = dict(taken)
    spare = sum(pack.millilitres * counts[pack.code] for pack in packs) - need_ml
    for pack in sorted(packs, key=lambda pack: (-pack.price_cents, pack.code)):
        needless = min(spare // pack.millilitres, free[pack.code])
        counts[pack.code] -= needless
        spare -= needless * pack.millilitres
    return counts


def _as_cover(counts: Mapping[str, int], need_ml: int, packs: Sequence[Pack]) -> Cover:
    taken = [(pack, counts[pack.code]) for pack in packs if counts[pack.code]]
    litres = sum(pack.millilitres * count for pack, count in taken)
    return Cover(
        counts={pack.code: count for pack, count in taken},
        millilitres=litres,
        price_cents=sum(pack.price_cents * count for pack, count in taken),
        missing_millilitres=sum(
            pack.millilitres * max(0, count - max(pack.free, 0)) for pack, count in taken
        ),
        leftover_millilitres=litres - need_ml,
    )


def _best(units: int, bags: Sequence[_Bags], *, argument: str) -> dict[str, int]:
    """Counts by code of the best cover of this many volume units.

    The table holds, for every exact volume, the smallest key (price, bags) packed into one integer.
    A cover without a needless bag holds less than the need plus its largest bag: there the table ends. Codes
    are laid in from last to first and a tie takes the bag: read back, the earlier code gets the more.
    """
    counts = {bag.code: 0 for bag in bags}
    if units == 0:
        return counts
    steps = units + max(bag.size for bag in bags)
    weights = _Weights(bags, steps)
    if steps > (MOST_STEPS if weights.dtype == np.int64 else MOST_STEPS_IN_PYTHON):
        raise Impossible(argument, "is too large for such fine pack sizes.")
    last_first = sorted(bags, key=lambda bag: bag.code, reverse=True)
    chunks = [chunk for bag in last_first for chunk in _doubling(bag, units)]
    table, taken = _fill(chunks, steps, weights)
    volume = units + int(np.argmin(table[units:] // weights.per_price))
    for chunk, mask in zip(reversed(chunks), reversed(taken), strict=True):
        if mask[volume >> 3] >> (7 - (volume & 7)) & 1:
            counts[chunk.code] += chunk.bags
            volume -= chunk.size * chunk.bags
    return counts


class _Weights:
    """Packs (price, bags) into one integer that compares as the two would."""

    def __init__(self, bags: Sequence[_Bags], steps: int) -> None:
        dearest = math.ceil(max(Fraction(bag.price, bag.size) for bag in bags) * steps)
        self.per_price = steps // min(bag.size for bag in bags) + 2
        self.unreached = self.per_price * (dearest + 1)
        self.dtype = np.dtype(np.int64) if self.unreached < _ROOM else np.dtype(object)

    def of(self, chunk: _Bags) -> int:
        return chunk.bags * (chunk.price * self.per_price + 1)


def _fill(chunks: Sequence[_Bags], steps: int, weights: _Weights) -> tuple[Table, list[Taken]]:
    """The table of smallest keys by exact volume, and for each chunk a bit per volume: was it taken there."""
    table = np.full(steps, weights.unreached, dtype=weights.dtype)
    table[0] = 0
    taken = []
    for chunk in chunks:
        volume = chunk.size * chunk.bags
        mask = np.zeros(steps, dtype=bool)
        if volume < steps:
            with_chunk = table[:-volume] + weights.of(chunk)
            mask[volume:] = (with_chunk <= table[volume:]) & (with_chunk < weights.unreached)
            table[volume:] = np.where(mask[volume:], with_chunk, table[volume:])
        taken.append(np.packbits(mask))
    return table, taken


def _doubling(bag: _Bags, units: int) -> list[_Bags]:
    """Bags of one size in chunks of 1, 2, 4, … and a rest: any number up to all of them can be made."""
    left, chunks, bags = min(bag.bags, math.ceil(units / bag.size)), [], 1
    while left > 0:
        chunk = min(bags, left)
        chunks.append(_Bags(bag.code, bag.size, bag.price, chunk))
        left -= chunk
        bags *= 2
    return chunks


def _sizes(packs: Sequence[PackOffered]) -> list[Fraction]:
    if not packs:
        raise Impossible("packs", "must hold at least one size.")
    if len({pack["code"] for pack in packs}) < len(packs):
        raise Impossible("packs", "must each have a code of their own.")
    sizes = [_exact(pack["litres"], "packs") for pack in packs]
    if min(sizes) <= 0:
        raise Impossible("packs", "must each hold more than 0 litres.")
    return sizes


def _prices(packs: Sequence[PackOffered]) -> list[Decimal]:
    try:
        prices = [Decimal(str(pack["price"])) for pack in packs]
    except InvalidOperation:
        raise Impossible("packs", "must each have a price that is a number.") from None
    if not all(price.is_finite() and 0 <= price < 10**9 and _decimals(price) <= 6 for price in prices):
        raise Impossible("packs", "must each have a price of 0 or more, with at most 6 decimals.")
    return [price if _decimals(price) >= 0 else price.quantize(Decimal(1)) for price in prices]


def _decimals(price: Decimal) -> int:
    return -int(price.as_tuple().exponent)


def _exact(litres: float, argument: str) -> Fraction:
    """The decimal number as written, not its binary neighbour."""
    if not math.isfinite(litres) or litres < 0:
        raise Impossible(argument, "must be 0 or more.")
    return Fraction(str(litres))


def _shared(sizes: Sequence[Fraction]) -> int:
    return math.lcm(*(size.denominator for size in sizes))


def _in_stock(pack: PackOffered, need: Fraction, size: Fraction) -> int:
    enough, stock = math.ceil(need / size), pack.get("stock")
    if stock is None:
        return enough
    if stock < 0:
        raise Impossible("packs", "must each have a stock of 0 or more.")
    return min(stock, enough)
