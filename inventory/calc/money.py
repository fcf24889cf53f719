"""Money in whole cents: rounding half up, tax per rate, inclusive prices, and shares that add up exactly."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Literal

from inventory.calc.errors import Impossible

Basis = Literal["total", "line"]


@dataclass(frozen=True, slots=True)
class Sums:
    """What lines come to; `tax_by_rate` holds cents of tax by the rate in percent."""

    net_cents: int
    tax_cents: int
    gross_cents: int
    tax_by_rate: Mapping[Decimal, int]


def half_up(amount: Decimal, *, places: int = 2) -> Decimal:
    """The amount rounded to so many decimals, a half going away from zero.

    >>> half_up(Decimal("0.125"))
    Decimal('0.13')
    """
    return amount.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)


def cents(amount: Decimal | str | int) -> int:
    """A decimal amount in whole cents, half up.

    >>> cents("14.50")
    1450
    """
    return int(half_up(Decimal(amount) * 100, places=0))


def tax_cents(base_cents: int, *, rate_pct: Decimal | str, inclusive: bool = False) -> int:
    """The tax on a base, rounded once; of an inclusive price, the part of it that is tax.

    Inclusive: net = half_up(gross / (1 + rate)) and tax = gross - net, so that gross is never recomputed.

    >>> tax_cents(1999, rate_pct="20", inclusive=True)
    333
    """
    rate = Decimal(rate_pct) / 100
    if inclusive:
        return base_cents - int(half_up(Decimal(base_cents) / (1 + rate), places=0))
    return int(half_up(base_cents * rate, places=0))


def sums(
    lines: Iterable[tuple[int, Decimal | str]], *, basis: Basis = "total", inclusive: bool = False
) -> Sums:
    """Net, tax and gross of lines given as (cents, rate in percent).

    Basis `total` rounds one tax per rate on the summed base; `line` rounds the tax of every line. A shop
    keeps to one of them (Streamlined Sales and Use Tax Agreement section 324 lets the seller choose).

    >>> sums([(1000, "20"), (500, "0")]).gross_cents
    1700
    """
    pairs = [(amount, Decimal(rate)) for amount, rate in lines]
    by_rate: dict[Decimal, int] = {}
    for base, rate in pairs if basis == "line" else _summed_by_rate(pairs):
        by_rate[rate] = by_rate.get(rate, 0) + tax_cents(base, rate_pct=rate, inclusive=inclusive)
    amount, tax = sum(base for base, _ in pairs), sum(by_rate.values())
    net = amount - tax if inclusive else amount
    return Sums(net_cents=net, tax_cents=tax, gross_cents=net + tax, tax_by_rate=by_rate)


def shared_out(total_cents: int, weights: Sequence[int]) -> list[int]:
    """Shares of a total in proportion to weights, by largest remainder; they add up to the total exactly.

    Equal remainders go to the earlier line; weights that are all zero share alike. Raises Impossible for a
    negative weight, or for a total and nobody to share it.

    >>> shared_out(1000, [499, 499, 2500])
    [143, 142, 715]
    """
    if any(weight < 0 for weight in weights) or (total_cents and not weights):
        raise Impossible("weights", "must be 0 or more, and at least one of them.")
    whole = sum(weights)
    if weights and whole == 0:
        weights, whole = [1] * len(weights), len(weights)
    divided = [divmod(abs(total_cents) * weight, whole) for weight in weights]
    shares = [share for share, _ in divided]
    by_remainder = sorted(range(len(shares)), key=lambda line: -divided[line][1])
    for line in by_remainder[: abs(total_cents) - sum(shares)]:
        shares[line] += 1
    return [-share for share in shares] if total_cents < 0 else shares


def _summed_by_rate(pairs: Iterable[tuple[int, Decimal]]) -> list[tuple[int, Decimal]]:
    bases: dict[Decimal, int] = {}
    for base, rate in pairs:
        bases[rate] = bases.get(rate, 0) + base
    return [(base, rate) for rate, base in bases.items()]
