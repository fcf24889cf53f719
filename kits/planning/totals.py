"""Money of the whole kit: net, one tax for each rate, gross."""

from collections import defaultdict
from collections.abc import Sequence
from decimal import ROUND_HALF_UP, Decimal

from kits.terms.plan import PlanLine, Terms, Totals

HUNDRED = Decimal(100)


def totals(lines: Sequence[PlanLine], terms: Terms) -> Totals:
    """Totals of the lines under the house's terms, in cents.

    Formula:
        tax = sum over rates of half-up(base x rate / 100); included: half-up(base x rate / (100 + rate))
    Args:
        lines: the lines of the kit
        terms: whether prices include tax, and whether tax is rounded for each rate or each line
    Returns:
        Totals; net + tax = gross
    Raises:
        nothing
    Valid:
        any rate from 0 % up
    Source:
        rounding half up at two decimals on the summed base of a rate (EN 16931 calculation rules)
    Example:
        >>> totals((), Terms()).gross_cents
        0
    """
    total = sum(line.total_cents for line in lines)
    tax = sum(_tax(base, rate, included=terms.prices_include_tax) for base, rate in _bases(lines, terms))
    net = total - tax if terms.prices_include_tax else total
    return Totals(net, tax, net + tax, terms.currency)


def _bases(lines: Sequence[PlanLine], terms: Terms) -> list[tuple[int, Decimal]]:
    """What is taxed in one go: each line, or all lines of a rate."""
    if terms.tax_basis == "line":
        return [(line.total_cents, Decimal(line.tax_rate_pct)) for line in lines]
    sums: dict[Decimal, int] = defaultdict(int)
    for line in lines:
        sums[Decimal(line.tax_rate_pct)] += line.total_cents
    return [(base, rate) for rate, base in sums.items()]


def _tax(base_cents: int, rate_pct: Decimal, *, included: bool) -> int:
    divisor = HUNDRED + rate_pct if included else HUNDRED
    return int((base_cents * rate_pct / divisor).quantize(Decimal(1), ROUND_HALF_UP))
