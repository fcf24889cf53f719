"""What a quote comes to after its discount: lines in cents that add up to the totals exactly."""

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from inventory.calc import money


@dataclass(frozen=True, slots=True)
class AgreedLine:
    """One line of the plan at its agreed price; `total_cents` is after its share of the discount."""

    role: str
    item: str
    name: str
    quantity: int
    each_cents: int
    discount_cents: int
    total_cents: int
    tax_rate_pct: str


@dataclass(frozen=True, slots=True)
class Agreed:
    """Lines and totals of one quote version.

    `discount_cents` is what was taken off, `kit_cents` what the fixed price of a standard kit is above the
    sum of its parts (below it where negative); the lines share both out.
    """

    lines: tuple[AgreedLine, ...]
    discount_cents: int
    kit_cents: int
    net_cents: int
    tax_cents: int
    gross_cents: int


def agreed(plan: Mapping[str, Any], *, discount_cents: int, basis: money.Basis, inclusive: bool) -> Agreed:
    """The plan's lines at what they come to in the end, by largest remainder, and the totals with tax."""
    totals = [money.cents(line["total"]) for line in plan["lines"]]
    kit_cents = plan_cents(plan) - sum(totals)
    shares = money.shared_out(discount_cents - kit_cents, totals)
    lines = tuple(_line(line, share) for line, share in zip(plan["lines"], shares, strict=True))
    pairs = [(line.total_cents, line.tax_rate_pct) for line in lines]
    sums = money.sums(pairs, basis=basis, inclusive=inclusive)
    return Agreed(lines, discount_cents, kit_cents, sums.net_cents, sums.tax_cents, sums.gross_cents)


def discount_cents(total_cents: int, *, percent: Decimal | None, amount: Decimal | None) -> int:
    """What a percentage or an amount takes off, never more than there is.

    >>> discount_cents(1999, percent=Decimal("10"), amount=None)
    200
    """
    if percent is not None:
        return int(money.half_up(total_cents * percent / 100, places=0))
    return min(money.cents(amount or 0), total_cents)


def decimal_of(cents: int) -> Decimal:
    """Whole cents as a decimal amount with two places.

    >>> decimal_of(1450)
    Decimal('14.50')
    """
    return Decimal(cents).scaleb(-2)


def plan_cents(plan: Mapping[str, Any]) -> int:
    """What a plan costs before any discount: the fixed price of its standard kit, else the sum of its lines.

    >>> plan_cents({"lines": [{"total": "14.50"}], "standard_kit": {"fixed_price": "12.00"}})
    1200
    """
    kit = plan.get("standard_kit")
    return parts_cents(plan) if kit is None else money.cents(kit["fixed_price"])


def parts_cents(plan: Mapping[str, Any]) -> int:
    """The sum of a plan's line totals."""
    return sum(money.cents(line["total"]) for line in plan["lines"])


def _line(line: Mapping[str, Any], share: int) -> AgreedLine:
    return AgreedLine(
        role=line["role"],
        item=line["item"],
        name=line["name"],
        quantity=line["quantity"],
        each_cents=money.cents(line["each"]),
        discount_cents=share,
        total_cents=money.cents(line["total"]) - share,
        tax_rate_pct=line["tax_rate_pct"],
    )
