"""What a demand asks for: an item and how much of it."""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """One item of a demand, in the item's base unit."""

    item: str
    quantity: int


def merged(lines: Iterable[Line]) -> tuple[Line, ...]:
    """Lines with each item once, in order of first appearance; quantities of the same item add up."""
    totals: dict[str, int] = {}
    for line in lines:
        totals[line.item] = totals.get(line.item, 0) + line.quantity
    return tuple(Line(item, quantity) for item, quantity in totals.items())
