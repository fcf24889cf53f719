"""All that the page of one order shows, in a fixed number of queries."""

from collections import Counter
from dataclasses import dataclass

from inventory.models import Barcode
from inventory.selectors import proposals
from inventory.selectors.proposals import ProposedLot
from shop.models import Change, Order, OrderLine
from shop.selectors import orders as order_selector
from shop.selectors.quotes import promised

MOST_CHANGES = 60


@dataclass(frozen=True, slots=True)
class TakeRow:
    """One row to hand over: so many of an item from one lot."""

    item: str
    name: str
    lot: str
    quantity: int
    places: str
    best_before: str
    codes: str


@dataclass(frozen=True, slots=True)
class OrderPage:
    """One order as its page shows it."""

    order: Order
    lines: list[OrderLine]
    held: dict[str, int]
    waiting: dict[str, int]
    takes: list[TakeRow]
    gone: list[order_selector.Gone]
    diary: list[Change]
    edition: str

    @property
    def waits_for(self) -> list[tuple[str, str, int]]:
        """Code, name and quantity of what a delivery is to bring."""
        names = {line.item.code: line.name for line in self.lines}
        return [(item, names.get(item, item), quantity) for item, quantity in self.waiting.items()]

    @property
    def missing(self) -> dict[str, int]:
        """What is outstanding but neither held nor waited for, by item code."""
        wanted = outstanding(self.lines)
        promised = Counter(self.held) + Counter(self.waiting)
        lacking = {item: quantity - promised[item] for item, quantity in wanted.items()}
        return {item: quantity for item, quantity in lacking.items() if quantity > 0}


def read(number: str) -> OrderPage:
    """The order with the lots that are proposed to leave; raises Unknown."""
    order = order_selector.find(number)
    lines = list(order.lines.all())
    held, waiting = promised(order.demand_ref)
    leaving = {item: min(quantity, held.get(item, 0)) for item, quantity in outstanding(lines).items()}
    leaving = {item: quantity for item, quantity in leaving.items() if quantity}
    gone = order_selector.gone_with(order.demand_ref)
    return OrderPage(
        order=order,
        lines=lines,
        held=held,
        waiting=waiting,
        takes=_takes(leaving, lines) if order.is_open else [],
        gone=gone,
        diary=list(Change.objects.filter(subject=order.demand_ref).order_by("-id")[:MOST_CHANGES]),
        edition=order_selector.edition(order_selector.told(order, held=held, waiting=waiting, gone=gone)),
    )


def outstanding(lines: list[OrderLine]) -> dict[str, int]:
    """What has not left yet, by item code."""
    totals: dict[str, int] = {}
    for line in lines:
        if line.outstanding:
            totals[line.item.code] = totals.get(line.item.code, 0) + line.outstanding
    return totals


def _takes(leaving: dict[str, int], lines: list[OrderLine]) -> list[TakeRow]:
    names = {line.item.code: line.name for line in lines}
    barcodes: dict[str, list[str]] = {code: [code] for code in leaving}
    for code, text in Barcode.objects.filter(item__code__in=list(leaving)).values_list("item__code", "text"):
        barcodes[code].append(text)
    found = proposals.first_expired(leaving)
    return [_row(lot, names[code], barcodes[code]) for code in leaving for lot in found[code]]


def _row(lot: ProposedLot, name: str, codes: list[str]) -> TakeRow:
    return TakeRow(
        item=lot.item,
        name=name,
        lot=lot.lot,
        quantity=lot.quantity,
        places=", ".join(lot.places),
        best_before=lot.best_before.isoformat() if lot.best_before else "",
        codes=" ".join([lot.lot, *codes]),
    )
