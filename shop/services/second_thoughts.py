"""Taking back what was done at the counter, so that nobody needs to be asked whether they are sure."""

from collections.abc import Sequence

from django.db import transaction

from inventory.actors import Actor
from inventory.calc.lines import Line, merged
from inventory.errors import BadInput, Conflict, FieldError, Unknown
from inventory.selectors import items as item_selector
from inventory.services import holding, returning
from inventory.services.returning import Returned
from shop.models import Order, OrderLine, Quote
from shop.selectors.quotes import has_waited, promised
from shop.services import changes


@transaction.atomic
def reopen_quote(number: str, *, actor: Actor) -> Quote:
    """A withdrawn quote is open again; it holds nothing. Refuses with Conflict any other state."""
    actor.must("quote")
    quote = Quote.objects.select_for_update().filter(number=number).first()
    if quote is None:
        raise Unknown("quote", number)
    if quote.state != Quote.State.WITHDRAWN:
        raise Conflict(f"Quote {number} is {quote.state}, not withdrawn.")
    quote.state = Quote.State.OPEN
    quote.save(update_fields=["state"])
    changes.record(f"quote {number}", what="opened again", actor=actor)
    return quote


@transaction.atomic
def reopen_order(number: str, *, actor: Actor) -> Order:
    """A cancelled order holds what is outstanding again; one that waited for a delivery waits again.

    Refuses with NotEnoughStock what is gone by now of any other.
    """
    actor.must("cancel")
    order = _locked(number)
    if order.state != Order.State.CANCELLED:
        raise Conflict(f"Order {number} is {order.state}, not cancelled.")
    lines = merged(Line(line.item.code, line.outstanding) for line in _lines(order) if line.outstanding)
    if lines:
        waited = has_waited(order.demand_ref)
        holding.hold(order.demand_ref, lines=lines, until=None, actor=actor, partial=waited)
    order.state = Order.State.HELD
    order.save(update_fields=["state"])
    changes.record(order.demand_ref, what="opened again", actor=actor)
    return order


@transaction.atomic
def put_back(number: str, *, lines: Sequence[Returned], actor: Actor) -> Order:
    """A hand-over that was a mistake is undone: the goods lie in their lots, held for the order again.

    Whoever may hand over may also take it back at once, which holds and returns on the way.
    """
    actor.must("hand_over")
    actor = Actor(actor.name, actor.abilities | {"hold", "return"}, actor.request_id)
    order = _locked(number)
    holding.lock_all(order.demand_ref, items=[row.item.code for row in _lines(order)])
    waits = bool(promised(order.demand_ref)[1])  # What the order waited for, it goes on waiting for.
    returning.take_back(order.demand_ref, lines=lines, why="the hand-over was a mistake", actor=actor)
    back = _by_item(lines)
    for row in _lines(order):
        comes = min(row.handed_over, back.get(row.item.code, 0))
        if comes:
            back[row.item.code] -= comes
            row.handed_over -= comes
            row.save(update_fields=["handed_over"])
    order.state = Order.State.HELD
    order.save(update_fields=["state"])
    wanted = merged(Line(row.item.code, row.outstanding) for row in _lines(order) if row.outstanding)
    ref = order.demand_ref
    holding.rehold(ref, new_ref=ref, lines=wanted, until=None, actor=actor, partial=waits)
    changes.record(ref, what="hand-over undone", actor=actor, why=_named(lines))
    return order


@transaction.atomic
def take_back(number: str, *, lines: Sequence[Returned], why: str, actor: Actor) -> Order:
    """Goods of an order have come back from the customer; the order itself stays as it is."""
    actor.must("return")
    if not why.strip():
        raise BadInput([FieldError("/why", "why must say the reason for taking it back.")])
    order = _locked(number)
    returning.take_back(order.demand_ref, lines=lines, why=why, actor=actor)
    changes.record(order.demand_ref, what="returned", actor=actor, why=f"{_named(lines)}: {why}")
    return order


def _locked(number: str) -> Order:
    order = Order.objects.select_for_update(of=("self",)).filter(number=number).first()
    if order is None:
        raise Unknown("order", number)
    return order


def _lines(order: Order) -> list[OrderLine]:
    return list(order.lines.select_related("item").order_by("position"))


def _by_item(lines: Sequence[Returned]) -> dict[str, int]:
    return {line.item: line.quantity for line in merged(Line(row.item, row.quantity) for row in lines)}


def _named(lines: Sequence[Returned]) -> str:
    return ", ".join(item_selector.named(_by_item(lines)))
