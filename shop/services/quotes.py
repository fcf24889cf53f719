"""Quotes from the first word with a customer to the order, or to nothing."""

from collections.abc import Collection, Mapping
from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.utils import timezone

from inventory.actors import SYSTEM, Actor
from inventory.errors import BadInput, Conflict, FieldError, Unknown
from inventory.services import holding
from kits.selectors import plans
from shop.models import Customer, Discount, House, Order, Quote, QuoteVersion
from shop.selectors import house as house_selector
from shop.selectors import pricing as price_selector
from shop.selectors import quotes as quote_selector
from shop.services import changes, numbers, orders, pricing, quote_holds

NOTE_LENGTH = 2000


@transaction.atomic
def open(spec: Mapping[str, Any], *, actor: Actor, customer: Customer | None = None, note: str = "") -> Quote:
    """A new quote with its first version exists; holds nothing. Refuses a bad spec with BadInput."""
    actor.must("quote")
    _check_note(note)
    house = House.current()
    plan = _plan(spec, house=house)
    quote = Quote.objects.create(
        number=numbers.take(),
        customer=customer,
        note=note,
        valid_until=house_selector.today(house) + timedelta(days=house.quote_days),
        created_by=actor.name,
    )
    _add_version(quote, plan=plan, actor=actor)
    changes.record(f"quote {quote.number}", what="opened", actor=actor)
    return quote


@transaction.atomic
def revise(
    number: str,
    *,
    actor: Actor,
    spec: Mapping[str, Any] | None = None,
    note: str | None = None,
    expected_version: int | None = None,
) -> Quote:
    """The quote counts by a new version; a held quote is held again for it, or nothing has changed.

    Without a spec only the note changes and the version stays. Locks the quote, then the stock rows of
    both versions. Refuses with StaleVersion when somebody was faster, NotEnoughStock when the new version
    cannot be held, Conflict when the quote is not open.
    """
    actor.must("quote")
    _check_note(note or "")
    house = House.current()
    quote = _open_quote(number, house=house)
    _refuse_stale(quote, expected_version)
    quote.note = quote.note if note is None else note
    if spec is not None:
        _replace_version(quote, spec=spec, house=house, actor=actor)
    quote.save(update_fields=["version", "note", "needs_attention", "proposal"])
    changes.record(f"quote {quote.number}", what=f"revised to {quote.version}", actor=actor)
    return quote


@transaction.atomic
def hold(number: str, *, actor: Actor, until: datetime | None = None, partial: bool = False) -> Quote:
    """All lines of the quote are held until a time, or none is; `partial` holds what is free, the rest waits.

    A hold that stands is prolonged to the new time. The quote stays good at least as long as its hold.
    Refuses with Conflict on a stop or a closed quote, NotEnoughStock naming every short item, BadInput
    on an `until` in the past or further than the house allows.
    """
    actor.must("hold")
    house = House.current()
    quote = _open_quote(number, house=house)
    version = quote_selector.current_version(quote)
    quote_holds.refuse_stops(version)
    end = quote_holds.hold_end(house, until)
    terms = quote_holds.Terms(until=end, partial=partial)
    quote_holds.hold(quote, lines=quote_holds.wanted(version), terms=terms, actor=actor)
    quote.hold_until = end
    quote.valid_until = max(quote.valid_until, house_selector.today(house, end))
    quote.needs_attention, quote.proposal = "", None
    quote.save(update_fields=["hold_until", "valid_until", "needs_attention", "proposal"])
    changes.record(
        f"quote {quote.number}", what="held", actor=actor, why=f"until {end:%a %b} {end.day}, {end:%H:%M}"
    )
    return quote


@transaction.atomic
def release(number: str, *, actor: Actor, why: str = "released at the counter") -> Quote:
    """Nothing is held for the quote; releasing twice is the same as once."""
    actor.must("hold")
    quote = _open_quote(number, house=House.current())
    quote_holds.let_go(quote, actor=actor, why=why)
    changes.record(f"quote {quote.number}", what="released", actor=actor, why=why)
    return quote


@transaction.atomic
def accept(number: str, *, actor: Actor, partial: bool = False) -> Order:
    """The quote is an order and its stock is held for it without end.

    What was held moves over; what was not is held now, or (`partial`) as much of it as is free, and the rest
    waits for a delivery. Refuses with Conflict on a stop or a quote that is not open any more, NotEnoughStock
    when something is not free.
    """
    actor.must("accept")
    quote = _open_quote(number, house=House.current())
    version = quote_selector.current_version(quote)
    quote_holds.refuse_stops(version)
    order = orders.write(quote, version=version, actor=actor)
    lines = quote_holds.wanted(version)
    quote_holds.hold_for_order(quote, order=order, lines=lines, partial=partial, actor=actor)
    quote.state, quote.hold_until = Quote.State.ACCEPTED, None
    quote.needs_attention, quote.proposal = "", None
    quote.save(update_fields=["state", "hold_until", "needs_attention", "proposal"])
    changes.record(f"quote {quote.number}", what="accepted", actor=actor, why=order.demand_ref)
    return order


@transaction.atomic
def withdraw(number: str, *, actor: Actor, why: str = "") -> Quote:
    """The quote is withdrawn and holds nothing."""
    actor.must("quote")
    quote = _open_quote(number, house=House.current())
    quote_holds.let_go(quote, actor=actor, why="the quote was withdrawn")
    quote.state = Quote.State.WITHDRAWN
    quote.save(update_fields=["state"])
    changes.record(f"quote {quote.number}", what="withdrawn", actor=actor, why=why)
    return quote


@transaction.atomic
def discount(
    number: str, *, why: str, actor: Actor, percent: Decimal | None = None, amount: Decimal | None = None
) -> Quote:
    """The quote's price is lowered; replaces an earlier discount.

    Where either is above the house's counter limit the actor needs `discount_large`. Refuses with
    BadInput what is neither a percentage nor an amount, or more than the price.
    """
    actor.must("discount")
    house = House.current()
    quote = _open_quote(number, house=house)
    version = quote_selector.current_version(quote)
    _must_give(pricing.share_pct(version, percent=percent, amount=amount), house=house, actor=actor)
    _must_take_away(quote, version, house=house, actor=actor)
    Discount.objects.update_or_create(
        quote=quote,
        defaults={
            "percent": percent,
            "amount": amount,
            "why": why,
            "given_by": actor.name,
            "given_at": timezone.now(),
            "request_id": actor.request_id,
        },
    )
    quote.refresh_from_db()
    changes.record(f"quote {quote.number}", what="discount", actor=actor, why=why)
    return quote


@transaction.atomic
def full_price(number: str, *, actor: Actor) -> Quote:
    """Nothing is taken off the quote's price any more, by whoever may take off as much."""
    actor.must("discount")
    house = House.current()
    quote = _open_quote(number, house=house)
    given = _must_take_away(quote, quote_selector.current_version(quote), house=house, actor=actor)
    if given is None:
        return quote
    given.delete()
    changes.record(f"quote {number}", what="discount taken away", actor=actor, why=str(given))
    return quote


@transaction.atomic
def name_customer(
    number: str, *, customer: Customer | None, actor: Actor, expected_version: int | None = None
) -> Quote:
    """The quote is this customer's, or nobody's; its version stays.

    Refuses with StaleVersion when somebody revised it since, Conflict when it is not open.
    """
    actor.must("quote")
    quote = _open_quote(number, house=House.current())
    _refuse_stale(quote, expected_version)
    if quote.customer == customer:
        return quote
    quote.customer = customer
    quote.save(update_fields=["customer"])
    changes.record(
        f"quote {number}", what="customer", actor=actor, why=customer.name if customer else "nobody"
    )
    return quote


def must_be(number: str, editions: Collection[str]) -> None:
    """Refuse with StaleVersion unless the quote is in one of these editions.

    Part of the caller's transaction: the quote is locked, so what is done next is done on this edition.
    """
    if not Quote.objects.select_for_update().filter(number=number).exists():
        raise Unknown("quote", number)
    quote = quote_selector.find(number)
    version, house = quote_selector.current_version(quote), House.current()
    shown = quote_selector.shown(quote, version, house=house)
    if quote_selector.edition(shown) not in editions:
        raise StaleVersion(number, quote.version)


def lapse_due(*, now: datetime | None = None) -> int:
    """Quotes whose last day is over have lapsed and hold nothing; returns how many.

    Each in a transaction of its own; a quote that somebody is working on right now is left for later.
    """
    house = House.current()
    today = house_selector.today(house, now)
    due = Quote.objects.filter(state=Quote.State.OPEN, valid_until__lt=today).values_list("pk", flat=True)
    return sum(_lapse(pk, today=today) for pk in list(due))


class StaleVersion(Conflict):
    """The quote was revised since it was read."""

    code = "stale_version"

    def __init__(self, number: str, version: int) -> None:
        super().__init__(
            f"Quote {number} was changed meanwhile and is at version {version} by now; "
            "read it again before changing it."
        )


@transaction.atomic
def _lapse(pk: int, *, today: Any) -> int:
    quote = (
        Quote.objects.select_for_update(skip_locked=True)
        .filter(pk=pk, state=Quote.State.OPEN, valid_until__lt=today)
        .first()
    )
    if quote is None:
        return 0
    quote_holds.let_go(quote, actor=SYSTEM, why="the quote lapsed")
    quote.state = Quote.State.LAPSED
    quote.save(update_fields=["state"])
    changes.record(f"quote {quote.number}", what="lapsed", actor=SYSTEM)
    return 1


def _open_quote(number: str, *, house: House) -> Quote:
    quote = Quote.objects.select_for_update(of=("self",)).filter(number=number).first()
    if quote is None:
        raise Unknown("quote", number)
    if quote.state != Quote.State.OPEN:
        raise Conflict(f"Quote {number} is {quote.state}, not open.")
    if quote.valid_until < house_selector.today(house):
        raise Conflict(f"Quote {number} lapsed: it was good until {quote.valid_until.isoformat()}.")
    return quote


def _must_give(share_pct: Decimal, *, house: House, actor: Actor) -> None:
    if share_pct > house.counter_discount_pct:
        actor.must("discount_large")


def _must_take_away(quote: Quote, version: QuoteVersion, *, house: House, actor: Actor) -> Discount | None:
    """The discount that stands, once the actor could have given it."""
    given = Discount.objects.filter(quote=quote).first()
    if given is not None:
        share_pct = pricing.share_pct(version, percent=given.percent, amount=given.amount)
        _must_give(share_pct, house=house, actor=actor)
    return given


def _refuse_stale(quote: Quote, expected_version: int | None) -> None:
    if expected_version is not None and expected_version != quote.version:
        raise StaleVersion(quote.number, quote.version)


def _plan(spec: Mapping[str, Any], *, house: House, leaving_out: str | None = None) -> dict[str, Any]:
    try:
        plan = plans.plan_for(spec, terms=house_selector.terms(house), leaving_out=leaving_out)
    except BadInput as error:
        raise BadInput([FieldError(f"/spec{e.pointer}", e.detail) for e in error.errors]) from None
    return price_selector.at_kit_price(plan.as_json(), house=house)


def _replace_version(quote: Quote, *, spec: Mapping[str, Any], house: House, actor: Actor) -> None:
    old_ref = quote.demand_ref
    held, waiting = quote_selector.promised(old_ref)
    plan = _plan(spec, house=house, leaving_out=old_ref)
    quote.version += 1
    quote.needs_attention, quote.proposal = "", None
    version = _add_version(quote, plan=plan, actor=actor)
    pricing.check_discount(quote, version)
    if held or waiting:
        quote_holds.refuse_stops(version)
        lines = quote_holds.wanted(version)
        new_ref, until = quote.demand_ref, quote.hold_until
        holding.rehold(old_ref, new_ref=new_ref, lines=lines, until=until, actor=actor, partial=bool(waiting))


def _add_version(quote: Quote, *, plan: dict[str, Any], actor: Actor) -> QuoteVersion:
    return QuoteVersion.objects.create(
        quote=quote,
        version=quote.version,
        spec=plan["spec"],
        plan=plan,
        created_by=actor.name,
        request_id=actor.request_id,
    )


def _check_note(note: str) -> None:
    if len(note) > NOTE_LENGTH:
        raise BadInput([FieldError("/note", f"note must be at most {NOTE_LENGTH} characters.")])
