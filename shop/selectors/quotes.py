"""Reading quotes: the version that counts, what is held for it, and the document that callers see."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.db.models import Q, QuerySet, Value
from django.utils import timezone

from inventory.calc.lines import Line
from inventory.errors import Unknown
from inventory.models import Hold, Want
from inventory.selectors import stock
from shop.calc.editions import digest
from shop.calc.todays_stock import items_named, with_free
from shop.models import House, Quote, QuoteVersion
from shop.selectors import house as house_selector
from shop.selectors import pricing


def find(number: str) -> Quote:
    """The quote of this number with its customer and discount; raises Unknown."""
    quote = Quote.objects.select_related("customer", "discount", "order").filter(number=number).first()
    if quote is None:
        raise Unknown("quote", number)
    return quote


def listing(*, search: str = "", state: str = "") -> QuerySet[Quote]:
    """Quotes, newest first, by state and by a part of number, customer name or note."""
    found = Quote.objects.select_related("customer", "discount").order_by("-id")
    if state:
        found = found.filter(state=state)
    if search:
        found = found.filter(
            Q(number__istartswith=search) | Q(customer__name__icontains=search) | Q(note__icontains=search)
        )
    return found


def current_version(quote: Quote) -> QuoteVersion:
    """The version that counts."""
    return QuoteVersion.objects.get(quote=quote, version=quote.version)


def held_lines(demand_ref: str) -> dict[str, int]:
    """What is held right now for one demand, by item code; empty when nothing is."""
    active = Hold.objects.filter(demand_ref=demand_ref, ended_at__isnull=True)
    return dict(active.order_by("item__code").values_list("item__code", "quantity"))


def promised(demand_ref: str) -> tuple[dict[str, int], dict[str, int]]:
    """What is held for one demand, and what it still waits for, by item code; one query."""
    columns, mine = ("item__code", "quantity", "waits"), {"demand_ref": demand_ref, "ended_at": None}
    held = Hold.objects.filter(**mine).annotate(waits=Value(False)).values_list(*columns)
    waiting = Want.objects.filter(**mine).annotate(waits=Value(True)).values_list(*columns)
    both: tuple[dict[str, int], dict[str, int]] = {}, {}
    for item, quantity, waits in held.union(waiting, all=True).order_by("item__code"):
        both[waits][item] = quantity
    return both


def has_waited(demand_ref: str) -> bool:
    """Whether a demand that was let go of had still waited for something."""
    return Want.objects.filter(demand_ref=demand_ref, quantity__gt=0).exists()


def by_item(lines: Iterable[Line]) -> dict[str, int]:
    """Lines of a demand by item code, as `held_lines` gives them."""
    return {line.item: line.quantity for line in lines}


def summary(quote: Quote, *, house: House) -> dict[str, Any]:
    """One row of the list of quotes."""
    return {
        "number": quote.number,
        "state": _state(quote, house=house),
        "version": quote.version,
        "valid_until": quote.valid_until.isoformat(),
        "hold_until": None if quote.hold_until is None else quote.hold_until.isoformat(),
        "customer": None if quote.customer is None else quote.customer.name,
        "note": quote.note,
        "needs_attention": quote.needs_attention,
        "created_at": quote.created_at.isoformat(),
        "created_by": quote.created_by,
    }


def document(quote: Quote, version: QuoteVersion | None = None) -> dict[str, Any]:
    """The whole quote: the plan at its quoted prices, with stock as of now less the quote's own hold."""
    version = version or current_version(quote)  # unless the one that counts was read already
    told = shown(quote, version, house=House.current())
    free = stock.free_by_code(items_named(version.plan), leaving_out=quote.demand_ref)
    return {**told, "spec": version.spec, "plan": with_free(version.plan, free)}


def shown(quote: Quote, version: QuoteVersion, *, house: House) -> dict[str, Any]:
    """All that a quote's document says but for its spec and plan, for which the version stands."""
    customer = quote.customer
    return {
        **summary(quote, house=house),
        "customer": None if customer is None else {"id": customer.pk, "name": customer.name},
        "hold": _hold(quote),
        "proposal": quote.proposal,
        "discount": pricing.discount_document(quote, version),
        "totals": pricing.totals_document(quote, version, house=house),
        "order": quote.order.number if hasattr(quote, "order") else None,
    }


def edition(told: Mapping[str, Any]) -> str:
    """Names this state of a quote, by its document or what is shown of it: another one after every edit.

    The plan has no part in it: the stock of the day is nobody's edit.
    """
    return f"{told['version']}-{digest({name: told[name] for name in told.keys() - {'plan', 'spec'}})}"


def _state(quote: Quote, *, house: House) -> str:
    is_past = quote.state == Quote.State.OPEN and quote.valid_until < house_selector.today(house)
    return Quote.State.LAPSED.value if is_past else quote.state


def _hold(quote: Quote) -> dict[str, Any] | None:
    if quote.hold_until is None or quote.hold_until <= timezone.now():
        return None
    lines, waiting = promised(quote.demand_ref)
    if not lines and not waiting:
        return None
    told = {"until": quote.hold_until.isoformat(), "lines": quantities(lines)}
    return {**told, "waiting": quantities(waiting)} if waiting else told


def quantities(lines: Mapping[str, int]) -> list[dict[str, Any]]:
    """Lines as callers see them."""
    return [{"item": item, "quantity": quantity} for item, quantity in lines.items()]
