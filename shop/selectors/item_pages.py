"""All that the page of one item shows, in a fixed number of queries."""

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from django.db.models import QuerySet
from django.utils import timezone

from inventory.errors import Unknown
from inventory.models import Barcode, Hold, HoldChange, Item, LotBalance, Movement, MovementKind
from inventory.selectors import ledger, stock
from inventory.selectors.stock import Levels
from shop.calc import demands
from shop.calc.stock_curve import Amount, Change, Curve, curve
from shop.models import Order, Quote

DAYS = 90
MOST_HOLDS = 100
MOST_POINTS = 2000


@dataclass(frozen=True, slots=True)
class HeldFor:
    """What is held of the item for one demand, and who that is."""

    hold: Hold
    kind: str
    number: str
    customer: str


@dataclass(frozen=True, slots=True)
class ItemPage:
    """One item as its page shows it; its movements are read page by page."""

    item: Item
    levels: Levels
    balances: list[LotBalance]
    barcodes: list[str]
    holds: list[HeldFor]
    curve: Curve

    @property
    def unit(self) -> str:
        """What one of it is called."""
        is_counted = self.item.base_unit == "piece"
        return (self.item.unit_name or "piece") if is_counted else self.item.base_unit


def read(code: str) -> ItemPage:
    """The item with its lots, places and holds; raises Unknown."""
    item = Item.objects.select_related("tax_class", "place", "supplier").filter(code=code).first()
    if item is None:
        raise Unknown("item", code)
    levels = stock.levels_by_code([code])[code]
    unit = (item.unit_name or "piece") if item.base_unit == "piece" else item.base_unit
    return ItemPage(
        item=item,
        levels=levels,
        balances=list(stock.balances(code)),
        barcodes=list(Barcode.objects.filter(item=item).order_by("text").values_list("text", flat=True)),
        holds=_held_for(item),
        curve=_curve(item, levels, unit),
    )


def movements(code: str) -> QuerySet[Movement]:
    """Lines of the ledger of an item, newest first, each knowing whether it is reversed."""
    return ledger.movements(item=code).select_related("reversed_by", "reverses")


def last_adjustment(code: str) -> Movement | None:
    """The newest correction of an item, if it is not undone yet; one query."""
    newest = (
        ledger.movements(item=code).filter(kind=MovementKind.ADJUSTMENT).select_related("reversed_by").first()
    )
    return None if newest is None or hasattr(newest, "reversed_by") else newest


def _curve(item: Item, levels: Levels, unit: str) -> Curve:
    now = timezone.now()
    since = now - timedelta(days=DAYS)
    return curve(
        Amount(levels.on_hand, _changes(Movement.objects.filter(item=item, at__gte=since))),
        held=Amount(levels.held, _changes(HoldChange.objects.filter(hold__item=item, at__gte=since))),
        now=now,
        days=DAYS,
        unit=unit,
    )


def _changes(rows: QuerySet[Any]) -> list[Change]:
    return list(rows.order_by("-pk").values_list("at", "quantity")[:MOST_POINTS])


def _held_for(item: Item) -> list[HeldFor]:
    holds = list(Hold.objects.filter(item=item, ended_at=None).order_by("-pk")[:MOST_HOLDS])
    named = {hold.pk: demands.read(hold.demand_ref) for hold in holds}
    quotes = [named_as.number for named_as in named.values() if named_as and named_as.version is not None]
    orders = [named_as.number for named_as in named.values() if named_as and named_as.version is None]
    customers = dict(Quote.objects.filter(number__in=quotes).values_list("number", "customer__name"))
    customers |= dict(Order.objects.filter(number__in=orders).values_list("number", "quote__customer__name"))
    found = []
    for hold in holds:
        demand = named[hold.pk]
        kind = "" if demand is None else "order" if demand.version is None else "quote"
        number = demand.number if demand else ""
        found.append(HeldFor(hold, kind, number, customers.get(number) or ""))
    return found
