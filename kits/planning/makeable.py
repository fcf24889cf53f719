"""How many of one kit today's free stock would make."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from kits.terms.plan import Plan


@dataclass(frozen=True, slots=True)
class Makeable:
    """A number of complete kits and the items that stop it from being more."""

    count: int
    limited_by: tuple[str, ...]


def makeable(plan: Plan, *, free: Mapping[str, int]) -> Makeable:
    """Complete kits of exactly these lines that free stock makes, lines of one item counted together.

    Formula:
        min over items of floor(free / quantity of the item on all lines); 0 when a role is unmet
    Args:
        plan: the kit, its lines as chosen; no substitute stands in.
        free: free quantity by item code; a missing code counts as none [base units].
    Returns:
        Makeable; an empty plan makes none.
    Raises:
        nothing
    Valid:
        one site, as free is; what other kits would take is not set aside.
    Source:
        arithmetic
    Example:
        >>> from kits.terms.plan import PlanLine, Totals
        >>> line = PlanLine("litter", "LEAF-4", "Leaves", 2, "bag", 500, 1000, "free", 7, 0)
        >>> plan = Plan({}, (line,), (), {}, (), (), Totals(0, 0, 0, "USD"), ())
        >>> makeable(plan, free={"LEAF-4": 7})
        Makeable(count=3, limited_by=('LEAF-4',))
    """
    wanted: Counter[str] = Counter()
    for line in plan.lines:
        wanted[line.item] += line.quantity
    enough_for = {item: max(0, free.get(item, 0)) // quantity for item, quantity in wanted.items()}
    if plan.unmet or not enough_for:
        return Makeable(0, ())
    count = min(enough_for.values())
    return Makeable(count, tuple(sorted(item for item, times in enough_for.items() if times == count)))
