"""Which care marks a box needs, from what is in it."""

from collections.abc import Iterable
from dataclasses import dataclass

US = "us"


@dataclass(frozen=True, slots=True)
class Goods:
    """What matters of one item in a box."""

    live: str  # empty, vertebrate, invertebrate or plant
    fragile: bool
    liquid: bool
    keep_min_c: int | None
    keep_max_c: int | None


@dataclass(frozen=True, slots=True)
class Care:
    """One mark; `low` and `high` are the limits of a temperature mark."""

    kind: str
    words: str
    low: str = ""
    high: str = ""


def needed(goods: Iterable[Goods], *, units: str = "metric") -> tuple[Care, ...]:
    """The marks for a box with these goods, the strictest limits of temperature among them.

    A box for the US tells each limit on a line of its own in both scales.

    >>> goods = [Goods("plant", False, False, 10, 30), Goods("", True, False, None, None)]
    >>> [mark.kind for mark in needed(goods)]
    ['this_way_up', 'fragile', 'temperature', 'live_plant']
    >>> needed([Goods("", False, False, None, None)])
    ()
    """
    packed = list(goods)
    is_live = any(good.live for good in packed)
    marks = []
    if is_live or any(good.liquid or good.fragile for good in packed):
        marks.append(Care("this_way_up", "this way up"))
    if any(good.fragile for good in packed):
        marks.append(Care("fragile", "fragile"))
    marks += _limits(packed, units)
    if any(good.live == "plant" for good in packed):
        marks.append(Care("live_plant", "live plants"))
    if any(good.live in {"vertebrate", "invertebrate"} for good in packed):
        marks.append(Care("live_animal", "live animals"))
    return tuple(marks)


def _limits(packed: list[Goods], units: str) -> list[Care]:
    low = max((g.keep_min_c for g in packed if g.keep_min_c is not None), default=None)
    high = min((g.keep_max_c for g in packed if g.keep_max_c is not None), default=None)
    if low is None and high is None:
        return []
    if low is not None and high is not None and low > high:
        return [Care("temperature", "pack apart")]
    return [Care("temperature", "keep between", low=_lowest(low, units), high=_highest(high, units))]


def _lowest(celsius: int | None, units: str) -> str:
    return "" if celsius is None else _told(celsius, 32 - -celsius * 9 // 5, units)


def _highest(celsius: int | None, units: str) -> str:
    return "" if celsius is None else _told(celsius, 32 + celsius * 9 // 5, units)


def _told(celsius: int, fahrenheit: int, units: str) -> str:
    """A limit, in Fahrenheit rounded to the safe side."""
    told = f"{celsius} \u00b0C"
    return f"{fahrenheit} \u00b0F\n{told}" if units == US else told
