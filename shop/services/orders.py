"""Orders: written from an accepted quote, handed over piece by piece, or cancelled."""

from collections.abc import Collection, Sequence

from django.db import transaction

from inventory.actors import Actor
from inventory.calc.lines import Line, merged
from inventory.errors import MOST_TOLD, BadInput, Conflict, FieldError, Unknown
from inventory.models import Item
from inventory.selectors import items as item_selector
from inventory.services import handing_over, holding
from inventory.services.handing_over import Take
from shop.calc.agreed import AgreedLine, decimal_of
from shop.models import House, Order, OrderLine, Quote, QuoteVersion
from shop.selectors import orders as order_selector
from shop.selectors import pricing
from shop.services import changes, numbers


def write(quote: Quote, *, version: QuoteVersion, actor: Actor) -> Order:
    """The order of a quote version with its lines at the agreed price; holds nothing by itself."""
    price = pricing.agreed_price(quote, version, house=House.current())
    order = Order.objects.create(
        number=numbers.take(),
        quote=quote,
        version=version.version,
        net=decimal_of(price.net_cents),
        tax=decimal_of(price.tax_cents),
        gross=decimal_of(price.gross_cents),
        currency=version.plan["totals"]["currency"],
        created_by=actor.name,
        request_id=actor.request_id,
    )
    item_ids = dict(Item.objects.filter(code__in=[ln.item for ln in price.lines]).values_list("code", "id"))
    OrderLine.objects.bulk_create(
        _line(order, position, line, item_ids[line.item])
        for position, line in enumerate(price.lines, start=1)
    )
    changes.record(order.demand_ref, what="opened", actor=actor, why=f"quote {quote.number}")
    return order


@transaction.atomic
def hand_over(number: str, *, actor: Actor, lines: Sequence[Take] | None = None) -> Order:
    """These lines, or all that is left, have gone with the customer; the order is collected when all has.

    Locks the order, then stock. Refuses with Conflict an order that is not open, BadInput an item that
    is not on the order or more of it than is outstanding.
    """
    actor.must("hand_over")
    order = _open_order(number)
    if lines is not None:
        _refuse_too_much(_outstanding(order), lines)
    left = handing_over.hand_over(order.demand_ref, lines=lines, actor=actor)
    leaving = _by_item(left)
    _mark(order, leaving)
    if not any(_outstanding(order).values()):
        order.state = Order.State.COLLECTED
        order.save(update_fields=["state"])
    changes.record(order.demand_ref, what="handed over", actor=actor, why=_told(leaving))
    return order


@transaction.atomic
def hold_again(number: str, *, actor: Actor, partial: bool = False) -> Order:
    """All that is outstanding on the order is held for it again, after a shortage took some of it.

    With `partial` what is free is held and the rest waits for a delivery; else it refuses with NotEnoughStock
    when it is not all free, and what was held stays held.
    """
    actor.must("hold")
    order = _open_order(number)
    lines = [Line(item, quantity) for item, quantity in _outstanding(order).items() if quantity]
    ref = order.demand_ref
    holding.rehold(ref, new_ref=ref, lines=lines, until=None, actor=actor, partial=partial)
    order.needs_attention = ""
    order.save(update_fields=["needs_attention"])
    changes.record(ref, what="held again", actor=actor)
    return order


@transaction.atomic
def cancel(number: str, *, actor: Actor, why: str = "") -> Order:
    """The order is cancelled and what has not left is free again; what has left stays sold."""
    actor.must("cancel")
    order = _open_order(number, refusal="nothing of it is left to cancel")
    holding.release(order.demand_ref, actor=actor, why=why or "the order was cancelled")
    order.state = Order.State.CANCELLED
    order.save(update_fields=["state"])
    changes.record(order.demand_ref, what="cancelled", actor=actor, why=why)
    return order


def must_be(number: str, editions: Collection[str]) -> None:
    """Refuse with StaleOrder unless the order is in one of these editions.

    Part of the caller's transaction: the order is locked, so what is done next is done on this edition.
    """
    if not Order.objects.select_for_update().filter(number=number).exists():
        raise Unknown("order", number)
    if order_selector.edition(order_selector.document(order_selector.find(number))) not in editions:
        raise StaleOrder(number)


class StaleOrder(Conflict):
    """The order was changed since it was read."""

    code = "stale_order"

    def __init__(self, number: str) -> None:
        super().__init__(f"Order {number} was changed meanwhile; read it again before changing it.")


def _open_order(number: str, *, refusal: str = "nothing more can leave with it") -> Order:
    order = Order.objects.select_for_update(of=("self",)).filter(number=number).first()
    if order is None:
        raise Unknown("order", number)
    if not order.is_open:
        raise Conflict(f"Order {number} is {order.state}; {refusal}.")
    return order


def _line(order: Order, position: int, line: AgreedLine, item_id: int) -> OrderLine:
    return OrderLine(
        order=order,
        position=position,
        role=line.role,
        item_id=item_id,
        name=line.name,
        quantity=line.quantity,
        each=decimal_of(line.each_cents),
        discount=decimal_of(line.discount_cents),
        total=decimal_of(line.total_cents),
    )


def _outstanding(order: Order) -> dict[str, int]:
    lines = order.lines.select_related("item").order_by("position")
    return {line.item: line.quantity for line in merged(Line(ln.item.code, ln.outstanding) for ln in lines)}


def _refuse_too_much(outstanding: dict[str, int], lines: Sequence[Take]) -> None:
    faults = []
    leaving: dict[str, int] = {}
    names = {line.item: line.item for line in lines}
    names |= dict(Item.objects.filter(code__in=names).values_list("code", "name"))
    for index, line in enumerate(lines):
        leaving[line.item] = leaving.get(line.item, 0) + line.quantity
        left = outstanding.get(line.item, 0)
        if leaving[line.item] > left:
            sentence = (
                f"Of {names[line.item]} only {left} can still leave with this order, "
                f"not {leaving[line.item]}."
            )
            faults.append(FieldError(f"/lines/{index}/quantity", sentence))
    if faults:
        raise BadInput(faults)


def _by_item(left: Sequence[handing_over.Left]) -> dict[str, int]:
    return {line.item: line.quantity for line in merged(Line(row.item, row.quantity) for row in left)}


def _told(leaving: dict[str, int]) -> str:
    """What left, for the diary, which has no room for a whole kit: the order names each lot of it."""
    names = item_selector.named(leaving)
    more = f" and {len(names) - MOST_TOLD} more" if len(names) > MOST_TOLD else ""
    return ", ".join(names[:MOST_TOLD]) + more


def _mark(order: Order, leaving: dict[str, int]) -> None:
    left = dict(leaving)
    for line in order.lines.select_related("item").order_by("position"):
        goes = min(line.outstanding, left.get(line.item.code, 0))
        if goes:
            left[line.item.code] -= goes
            line.handed_over += goes
            line.save(update_fields=["handed_over"])
