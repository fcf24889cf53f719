"""What a quote holds of the shelf, and when it lets go."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from django.utils import timezone

from inventory.actors import Actor
from inventory.calc.lines import Line, merged
from inventory.errors import BadInput, Conflict, FieldError
from inventory.services import holding
from shop.calc.opening_hours import closing_after
from shop.models import House, Order, Quote, QuoteVersion
from shop.selectors import quotes as quote_selector


def wanted(version: QuoteVersion) -> tuple[Line, ...]:
    """What a version asks of the shelf, each item once; refuses a plan without lines."""
    lines = merged(Line(line["item"], line["quantity"]) for line in version.plan["lines"])
    if not lines:
        raise Conflict("The plan has no lines, so there is nothing to hold.")
    return lines


def refuse_stops(version: QuoteVersion) -> None:
    """Refuse with Conflict what must not be sold as it stands."""
    stops = [caution["text"] for caution in version.plan["cautions"] if caution["level"] == "stop"]
    if stops:
        raise Conflict(f"This kit may not be held or accepted: {' '.join(stops)}")


@dataclass(frozen=True, slots=True)
class Terms:
    """How long to hold, without end where empty, and whether to wait for what is not free."""

    until: datetime | None
    partial: bool = False


def is_waiting(quote: Quote) -> bool:
    """Whether the version that counts waits for a delivery."""
    return bool(quote_selector.promised(quote.demand_ref)[1])


def hold(quote: Quote, *, lines: tuple[Line, ...], terms: Terms, actor: Actor) -> None:
    """Hold these lines until a time; a hold that stands is prolonged or completed."""
    _take_over(quote.demand_ref, new_ref=quote.demand_ref, lines=lines, terms=terms, actor=actor)


def hold_for_order(
    quote: Quote, *, order: Order, lines: tuple[Line, ...], partial: bool, actor: Actor
) -> None:
    """Hold an order's lines without end, taking over what its quote held."""
    terms = Terms(until=None, partial=partial)
    _take_over(quote.demand_ref, new_ref=order.demand_ref, lines=lines, terms=terms, actor=actor)


def let_go(quote: Quote, *, actor: Actor, why: str) -> None:
    """The quote holds nothing and waits for nothing; what it held is free again."""
    if any(quote_selector.promised(quote.demand_ref)):
        holding.release(quote.demand_ref, actor=actor, why=why)
    quote.hold_until = None
    quote.save(update_fields=["hold_until"])


def hold_end(house: House, until: datetime | None) -> datetime:
    """The time that a hold ends: as asked within the house's limits, else after the usual days at closing."""
    now = timezone.now()
    if until is None:
        return closing_after(now, days=house.hold_days, closing=house.closing_time, zone=house.timezone)
    if until <= now:
        raise BadInput([FieldError("/until", "until must lie in the future.")])
    if until > now + timedelta(days=house.hold_days_max):
        raise BadInput([FieldError("/until", f"until must be at most {house.hold_days_max} days from now.")])
    return until


def _take_over(old_ref: str, *, new_ref: str, lines: tuple[Line, ...], terms: Terms, actor: Actor) -> None:
    until, partial = terms.until, terms.partial
    if not any(quote_selector.promised(old_ref)):
        holding.hold(new_ref, lines=lines, until=until, actor=actor, partial=partial)
        return
    holding.lock_all(old_ref, items=[line.item for line in lines])
    kept = holding.transfer(old_ref, new_ref=new_ref, until=until, actor=actor)
    asked = quote_selector.by_item(lines)
    if quote_selector.by_item(kept.lines) == asked:
        return
    if partial and quote_selector.by_item(merged((*kept.lines, *kept.wanted))) == asked:
        holding.fill_waiting(new_ref, actor=actor)  # It keeps its place among those who wait.
        return
    holding.rehold(new_ref, new_ref=new_ref, lines=lines, until=until, actor=actor, partial=partial)
