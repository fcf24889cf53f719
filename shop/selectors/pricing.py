"""What a quote version comes to, with the discount that was given."""

from collections.abc import Iterable, Mapping
from decimal import Decimal
from typing import Any

from django.db.models import F

from kits.selectors import standard_kits
from kits.selectors.catalogue import CatalogueKey
from kits.terms.plan import money
from shop.calc.agreed import Agreed, agreed, discount_cents, plan_cents
from shop.models import Discount, House, Quote, QuoteVersion


def at_kit_price(plan: dict[str, Any], *, house: House, at: CatalogueKey | None = None) -> dict[str, Any]:
    """The plan at the fixed price of the standard kit whose spec it has, which it then names; else as it is.

    A kit that lacks what no item can do is not the kit that was priced. One query for most specs, none
    with the key `at` of the catalogue.
    """
    kit = None if plan["unmet"] or not plan["lines"] else standard_kits.at_fixed_price(plan["spec"], at)
    if kit is None:
        return plan
    told = {"code": kit.code, "name": kit.name, "fixed_price": str(kit.fixed_price)}
    priced = {**plan, "standard_kit": told}
    return {**priced, "totals": _totals(_at_price(priced, taken_cents=0, house=house), plan)}


def agreed_price(quote: Quote, version: QuoteVersion, *, house: House) -> Agreed:
    """Lines and totals of this version after the quote's discount."""
    return _agreed(quote, version.plan, house=house)


def _agreed(quote: Quote, plan: Mapping[str, Any], *, house: House) -> Agreed:
    return _at_price(plan, taken_cents=_taken_cents(quote, plan), house=house)


def _at_price(plan: Mapping[str, Any], *, taken_cents: int, house: House) -> Agreed:
    return agreed(
        plan,
        discount_cents=taken_cents,
        basis="line" if house.tax_basis == House.TaxBasis.LINE else "total",
        inclusive=house.prices_include_tax,
    )


def taken_cents(quote: Quote, version: QuoteVersion) -> int:
    """What the quote's discount takes off this version; 0 without one."""
    return _taken_cents(quote, version.plan)


def _taken_cents(quote: Quote, plan: Mapping[str, Any]) -> int:
    given = discount_of(quote)
    if given is None:
        return 0
    return discount_cents(plan_cents(plan), percent=given.percent, amount=given.amount)


def discount_of(quote: Quote) -> Discount | None:
    """The discount given on a quote, if any."""
    return quote.discount if hasattr(quote, "discount") else None


def discount_document(quote: Quote, version: QuoteVersion) -> dict[str, Any] | None:
    """The discount as callers see it."""
    given = discount_of(quote)
    if given is None:
        return None
    return {
        "percent": _text(given.percent),
        "amount": _text(given.amount),
        "taken": money(taken_cents(quote, version)),
        "why": given.why,
        "given_by": given.given_by,
        "given_at": given.given_at.isoformat(),
    }


def totals_document(quote: Quote, version: QuoteVersion, *, house: House) -> dict[str, str]:
    """The totals after the discount as callers see them."""
    return totals_of_plan(quote, version.plan, house=house)


def totals_of_plan(quote: Quote, plan: Mapping[str, Any], *, house: House) -> dict[str, str]:
    """What another plan would come to on this quote, with its discount."""
    return _totals(_agreed(quote, plan, house=house), plan)


def _totals(price: Agreed, plan: Mapping[str, Any]) -> dict[str, str]:
    return {
        "net": money(price.net_cents),
        "tax": money(price.tax_cents),
        "gross": money(price.gross_cents),
        "currency": plan["totals"]["currency"],
    }


def with_totals(quotes: Iterable[Quote], *, house: House) -> list[tuple[Quote, dict[str, str]]]:
    """Each quote with what its version that counts comes to, in one query for all of them."""
    found = list(quotes)
    counting = QuoteVersion.objects.filter(quote__in=found, version=F("quote__version")).defer("spec")
    versions = {version.quote_id: version for version in counting}
    return [(quote, totals_document(quote, versions[quote.pk], house=house)) for quote in found]


def _text(amount: Decimal | None) -> str | None:
    return None if amount is None else str(amount)
