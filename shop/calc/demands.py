"""The names under which the counter's demands hold stock."""

import re
from dataclasses import dataclass

_QUOTE = re.compile(r"quote (?P<number>[0-9]+[A-Z])/(?P<version>[0-9]+)")
_ORDER = re.compile(r"order (?P<number>[0-9]+[A-Z])")


@dataclass(frozen=True, slots=True)
class Demand:
    """What a demand_ref points at: `version` is None for an order."""

    kind: str
    number: str
    version: int | None = None


def read(demand_ref: str) -> Demand | None:
    """The quote version or order behind a demand_ref; None where it is somebody else's.

    >>> read("quote 1042K/3")
    Demand(kind='quote', number='1042K', version=3)
    >>> read("order 1043L")
    Demand(kind='order', number='1043L', version=None)
    >>> read("batch 7") is None
    True
    """
    if found := _QUOTE.fullmatch(demand_ref):
        return Demand("quote", found["number"], int(found["version"]))
    if found := _ORDER.fullmatch(demand_ref):
        return Demand("order", found["number"])
    return None
