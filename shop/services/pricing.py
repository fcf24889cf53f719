"""What a discount may be."""

from decimal import Decimal

from inventory.calc.money import cents
from inventory.errors import BadInput, Conflict, FieldError
from shop.calc.agreed import plan_cents
from shop.models import Quote, QuoteVersion
from shop.selectors import pricing


def share_pct(version: QuoteVersion, *, percent: Decimal | None, amount: Decimal | None) -> Decimal:
    """A discount as a percentage of the price; refuses what is not exactly one of the two, or too much."""
    if (percent is None) == (amount is None):
        raise BadInput([FieldError("/percent", "Give either percent or amount.")])
    if percent is not None:
        if not 0 < percent <= 100:
            raise BadInput([FieldError("/percent", "percent must be above 0 and at most 100.")])
        return percent
    total, taken = plan_cents(version.plan), cents(amount or 0)
    if not 0 < taken <= total:
        raise BadInput([FieldError("/amount", "amount must be above 0 and at most the price of the kit.")])
    return Decimal(100 * taken) / total


def check_discount(quote: Quote, version: QuoteVersion) -> None:
    """Refuse a version that costs less than the amount that was taken off the quote."""
    given = pricing.discount_of(quote)
    if given is not None and given.amount is not None and cents(given.amount) > plan_cents(version.plan):
        raise Conflict(f"The discount of {given.amount} is more than this version costs.")
