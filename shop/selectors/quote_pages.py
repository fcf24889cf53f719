"""All that the page of one quote shows, in a fixed number of queries."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from inventory.models import Item
from inventory.selectors import stock
from shop.calc.todays_stock import items_named, with_free
from shop.calc.versions import LineChange, line_changes, spec_changes
from shop.models import Change, House, Quote, QuoteVersion
from shop.selectors import quotes as quote_selector

MOST_CHANGES = 60


@dataclass(frozen=True, slots=True)
class Compared:
    """Two versions of one quote side by side."""

    before: int
    after: int
    lines: list[LineChange]
    spec: list[tuple[str, str, str]]


@dataclass(frozen=True, slots=True)
class QuotePage:
    """One quote as its page shows it."""

    quote: Quote
    state: str
    version: QuoteVersion
    versions: list[QuoteVersion]
    plan: dict[str, Any]
    totals: dict[str, str]
    discount: dict[str, Any] | None
    held: dict[str, int]
    waiting: dict[str, int]
    price_changes: int
    stops: list[str]
    compared: Compared | None
    diary: list[Change]
    edition: str

    @property
    def is_open(self) -> bool:
        """Whether deeds are still possible."""
        return self.state == Quote.State.OPEN

    @property
    def waits_for(self) -> list[tuple[str, str, int]]:
        """Code, name and quantity of what a delivery is to bring."""
        names = {line["item"]: line["name"] for line in self.plan["lines"]}
        return [(item, names.get(item, item), quantity) for item, quantity in self.waiting.items()]

    @property
    def short_lines(self) -> int:
        """Lines that are not free any more."""
        return sum(line["status"] != "free" for line in self.plan["lines"])


def read(number: str, *, house: House, compare: int | None = None) -> QuotePage:
    """The quote as it was promised, with stock and list prices as of now; raises Unknown."""
    quote = quote_selector.find(number)
    versions = list(quote.versions.order_by("-version"))
    version = next(row for row in versions if row.version == quote.version)
    named = items_named(version.plan)
    free = stock.free_by_code(named, leaving_out=quote.demand_ref)
    prices = dict(Item.objects.filter(code__in=named).values_list("code", "price"))
    plan = with_free(version.plan, free)
    plan["lines"] = [_with_price_now(line, prices) for line in plan["lines"]]
    told = quote_selector.shown(quote, version, house=house)
    return QuotePage(
        quote=quote,
        state=told["state"],
        version=version,
        versions=versions,
        plan=plan,
        totals=told["totals"],
        discount=told["discount"],
        held=_by_item(told, "lines"),
        waiting=_by_item(told, "waiting"),
        price_changes=sum(line["price_now"] is not None for line in plan["lines"]),
        stops=[caution["text"] for caution in plan["cautions"] if caution["level"] == "stop"],
        compared=_compared(versions, version, compare),
        diary=list(Change.objects.filter(subject=f"quote {number}").order_by("-id")[:MOST_CHANGES]),
        edition=quote_selector.edition(told),
    )


def _by_item(told: dict[str, Any], part: str) -> dict[str, int]:
    """A part of the hold that stands, by item code."""
    return {line["item"]: line["quantity"] for line in (told["hold"] or {}).get(part, [])}


def _with_price_now(line: dict[str, Any], prices: dict[str, Decimal]) -> dict[str, Any]:
    now = prices.get(line["item"])
    return {**line, "price_now": None if now is None or now == Decimal(line["each"]) else str(now)}


def _compared(versions: list[QuoteVersion], current: QuoteVersion, asked: int | None) -> Compared | None:
    """The version asked for, else the one before, beside the one that counts."""
    others = [row for row in versions if row.version != current.version]
    if not others:
        return None
    other = next((row for row in others if row.version == asked), others[0])
    return Compared(
        before=other.version,
        after=current.version,
        lines=line_changes(other.plan, current.plan),
        spec=spec_changes(other.spec, current.spec),
    )
