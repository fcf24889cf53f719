"""Reading orders."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Q, QuerySet

from inventory.errors import Unknown
from inventory.models import MovementKind
from inventory.selectors import ledger
from shop.calc.editions import digest
from shop.models import Order, Quote
from shop.selectors.quotes import promised, quantities


@dataclass(frozen=True, slots=True)
class Gone:
    """What has left from one lot, less what came back into it."""

    item: str
    name: str
    lot: str
    quantity: int


def find(number: str) -> Order:
    """The order of this number with its quote, customer and lines; raises Unknown."""
    order = (
        Order.objects.select_related("quote__customer")
        .prefetch_related("lines__item")
        .filter(number=number)
        .first()
    )
    if order is None:
        raise Unknown("order", number)
    return order


def listing(*, search: str = "", state: str = "") -> QuerySet[Order]:
    """Orders, newest first, by state and by a part of a number or of the customer's name."""
    found = Order.objects.select_related("quote__customer").order_by("-id")
    if state:
        found = found.filter(state=state)
    if search:
        found = found.filter(
            Q(number__istartswith=search)
            | Q(quote__number__istartswith=search)
            | Q(quote__customer__name__icontains=search)
        )
    return found


def summary(order: Order) -> dict[str, Any]:
    """One row of the list of orders."""
    customer = order.quote.customer
    return {
        "number": order.number,
        "state": order.state,
        "quote": order.quote.number,
        "customer": None if customer is None else customer.name,
        "gross": str(order.gross),
        "currency": order.currency,
        "needs_attention": order.needs_attention,
        "created_at": order.created_at.isoformat(),
    }


def document(order: Order) -> dict[str, Any]:
    """The whole order as callers see it."""
    held, waiting = promised(order.demand_ref)
    return told(order, held=held, waiting=waiting, gone=gone_with(order.demand_ref))


def told(
    order: Order, *, held: Mapping[str, int], waiting: Mapping[str, int], gone: Sequence[Gone]
) -> dict[str, Any]:
    """The same for those who have read already what is held for it, awaited, and gone with it."""
    customer = order.quote.customer
    return {
        "number": order.number,
        "state": order.state,
        "quote": order.quote.number,
        "version": order.version,
        "customer": None if customer is None else {"id": customer.pk, "name": customer.name},
        "lines": [
            {
                "role": line.role,
                "item": line.item.code,
                "name": line.name,
                "quantity": line.quantity,
                "each": str(line.each),
                "discount": str(line.discount),
                "total": str(line.total),
                "handed_over": line.handed_over,
            }
            for line in order.lines.all()
        ],
        "held": quantities(held),
        **({"waiting": quantities(waiting)} if waiting else {}),
        "gone": [{"item": one.item, "lot": one.lot, "quantity": one.quantity} for one in gone],
        "totals": {
            "net": str(order.net),
            "tax": str(order.tax),
            "gross": str(order.gross),
            "currency": order.currency,
        },
        "needs_attention": order.needs_attention,
        "created_at": order.created_at.isoformat(),
        "created_by": order.created_by,
    }


def edition(document: Mapping[str, Any]) -> str:
    """Names this state of an order by its document: another one after whatever it shows has changed."""
    return digest(document)


def handed_over_at(quote: Quote) -> datetime | None:
    """When the last of an accepted quote left with its customer; None while anything is still to leave."""
    order = Order.objects.filter(quote=quote, state__in=[Order.State.SENT, Order.State.COLLECTED]).first()
    if order is None:
        return None
    left = ledger.movements(demand_ref=order.demand_ref).filter(kind=MovementKind.HAND_OVER)
    return left.order_by("-pk").values_list("at", flat=True).first()


def gone_with(demand_ref: str) -> list[Gone]:
    """What has left with an order and stayed away, by lot."""
    kinds = (MovementKind.HAND_OVER, MovementKind.RETURN, MovementKind.REVERSAL)
    totals: dict[tuple[str, str, str], int] = {}
    for row in ledger.movements(demand_ref=demand_ref).filter(kind__in=kinds).order_by("pk"):
        key = (row.item.code, row.item.name, row.lot.code)
        totals[key] = totals.get(key, 0) - row.quantity
    return [Gone(*key, quantity) for key, quantity in totals.items() if quantity > 0]
