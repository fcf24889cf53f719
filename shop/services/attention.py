"""What the counter is told when stock that was promised is not there any more.

Everything is worked out from how things stand, so hearing of the same event twice changes nothing.
"""

from collections import Counter
from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils import timezone

from inventory.actors import SYSTEM
from inventory.calc.lines import Line, merged
from inventory.errors import BadInput
from inventory.models import Want
from inventory.selectors import items as item_selector
from kits.selectors import plans
from shop.calc import demands
from shop.models import House, Order, Quote, QuoteVersion
from shop.selectors import house as house_selector
from shop.selectors import pricing
from shop.selectors import quotes as quote_selector
from shop.services import changes


def look_after(demand_ref: str) -> bool:
    """The quote or order behind the demand says what its hold lacks; returns whether there was one.

    A quote is worked out again from what is free, as a proposal beside the version that counts. Locks the
    quote or order. A demand that has moved on, or is not the counter's, is left alone.
    """
    demand = demands.read(demand_ref)
    if demand is None:
        return False
    if demand.version is None:
        return _look_after_order(demand.number)
    return _look_after_quote(demand.number, version=demand.version)


@transaction.atomic
def _look_after_quote(number: str, *, version: int) -> bool:
    quote = Quote.objects.select_for_update(of=("self",)).filter(number=number, version=version).first()
    if quote is None or quote.state != Quote.State.OPEN or quote.hold_until is None:
        return False
    current = quote_selector.current_version(quote)
    wanted = (Line(line["item"], line["quantity"]) for line in current.plan["lines"])
    held, waiting = _promised(quote.demand_ref)
    missing = _missing(quote_selector.by_item(merged(wanted)), held + waiting)
    if missing:
        _flag_quote(quote, current, missing=missing, is_held=bool(held or waiting))
    elif _has_come(quote.demand_ref) and not waiting:
        _tell_quote(quote, "What this quote waited for has come in: everything is held.")
    return True


@transaction.atomic
def _look_after_order(number: str) -> bool:
    order = Order.objects.select_for_update(of=("self",)).filter(number=number).first()
    if order is None or not order.is_open:
        return False
    lines = order.lines.select_related("item")
    wanted = quote_selector.by_item(merged(Line(ln.item.code, ln.outstanding) for ln in lines))
    held, waiting = _promised(order.demand_ref)
    missing = _missing(wanted, held + waiting)
    text = f"Stock fell short of what this order holds: {_named(missing)}." if missing else ""
    if text != order.needs_attention:
        order.needs_attention = text
        order.save(update_fields=["needs_attention"])
        changes.record(order.demand_ref, what="needs attention", actor=SYSTEM, why=text)
    return True


def _flag_quote(quote: Quote, version: QuoteVersion, *, missing: dict[str, int], is_held: bool) -> None:
    if is_held:
        text = f"Stock fell short of what this quote holds: {_named(missing)}."
    elif quote.hold_until is not None and quote.hold_until <= timezone.now():
        text = f"The hold ended at {quote.hold_until.isoformat()}; nothing is held any more."
    else:
        text = f"Nothing is held any more, because stock fell short: {_named(missing)}."
    if not is_held:
        quote.hold_until = None
    if text != quote.needs_attention:
        changes.record(f"quote {quote.number}", what="needs attention", actor=SYSTEM, why=text)
    quote.needs_attention, quote.proposal = text, _planned_again(quote, version)
    quote.save(update_fields=["hold_until", "needs_attention", "proposal"])


def _tell_quote(quote: Quote, text: str) -> None:
    if text == quote.needs_attention:
        return
    changes.record(f"quote {quote.number}", what="needs attention", actor=SYSTEM, why=text)
    quote.needs_attention, quote.proposal = text, None
    quote.save(update_fields=["needs_attention", "proposal"])


def _promised(demand_ref: str) -> tuple[Counter[str], Counter[str]]:
    """What is held for a demand, and what it waits for."""
    held, waiting = quote_selector.promised(demand_ref)
    return Counter(held), Counter(waiting)


def _has_come(demand_ref: str) -> bool:
    """Whether the demand waited for something that has come in full since."""
    return Want.objects.filter(demand_ref=demand_ref, quantity=0).exists()


def _planned_again(quote: Quote, version: QuoteVersion) -> dict[str, Any] | None:
    house = House.current()
    terms = house_selector.terms(house)
    try:
        plan = plans.plan_for({**version.spec, "fill": "free"}, terms=terms, leaving_out=quote.demand_ref)
    except BadInput:
        return None  # The spec names something that is not known any more; the text above still stands.
    return pricing.at_kit_price(plan.as_json(), house=house)


def _missing(wanted: Mapping[str, int], held: Mapping[str, int]) -> dict[str, int]:
    lacking = {item: quantity - held.get(item, 0) for item, quantity in wanted.items()}
    return {item: quantity for item, quantity in lacking.items() if quantity > 0}


def _named(missing: dict[str, int]) -> str:
    return ", ".join(f"{words} missing" for words in item_selector.named(missing, between=" of "))
