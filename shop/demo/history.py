"""What has happened in the demo shop so far: people, standard kits, and quotes in every state."""

from collections.abc import Callable, Mapping
from datetime import timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from inventory.actors import SYSTEM
from kits.services import standard_kits
from shop.demo import tables
from shop.models import Customer, Order, Quote, StaffMember, StaffRole
from shop.services import customers, house, orders, quotes


def load() -> None:
    """Settings, people, standard kits and quotes; wants the catalogue and its stock."""
    house.change(_settings(), actor=SYSTEM)
    _load_staff()
    _load_standard_kits()
    _load_quotes(_load_customers())


def _settings() -> dict[str, object]:
    settings: dict[str, object] = {row["setting"]: row["value"] for row in tables.rows("house")}
    return settings | {"electricity_price": Decimal(str(settings["electricity_price"]))}


def _load_staff() -> None:
    """People who cannot sign in yet: the first start gives the owner a one-time password."""
    for row in tables.rows("staff"):
        member = StaffMember.objects.create_user(row["name"])
        StaffRole.objects.bulk_create(
            StaffRole(user=member, role=role) for role in tables.words(row["roles"])
        )


def _load_standard_kits() -> None:
    specs = tables.specs()
    for row in tables.rows("standard_kits"):
        price = Decimal(row["fixed_price"]) if row["fixed_price"] else None
        standard_kits.save(
            row["kit"], name=row["name"], spec=specs[row["spec"]], fixed_price=price, actor=SYSTEM
        )


def _load_customers() -> dict[str, Customer]:
    contacts = (customers.Contact(**row) for row in tables.rows("customers"))
    return {contact.name: customers.add(contact, actor=SYSTEM) for contact in contacts}


def _load_quotes(known: Mapping[str, Customer]) -> None:
    specs = tables.specs()
    for row in tables.rows("quotes"):
        customer = known[row["customer"]] if row["customer"] else None
        quote = quotes.open(specs[row["spec"]], actor=SYSTEM, customer=customer, note=row["note"])
        ENDINGS[row["state"]](quote.number)
        _make_older(quote, days=int(row["days_ago"]))
    quotes.lapse_due()


def _make_older(quote: Quote, *, days: int) -> None:
    """Date a quote and its order back; unless it is held its last day moves too, so an old one lapses."""
    then = timezone.now() - timedelta(days=days)
    changed: dict[str, Any] = {"created_at": then}
    if not Quote.objects.filter(pk=quote.pk, hold_until__isnull=False).exists():
        changed["valid_until"] = quote.valid_until - timedelta(days=days)
    Quote.objects.filter(pk=quote.pk).update(**changed)
    Order.objects.filter(quote=quote).update(created_at=then)


def _stay_open(number: str) -> None:
    """An open quote stays as it was opened."""


def _hold(number: str) -> None:
    quotes.hold(number, actor=SYSTEM)


def _accept(number: str) -> None:
    quotes.accept(number, actor=SYSTEM)


def _collect(number: str) -> None:
    orders.hand_over(quotes.accept(number, actor=SYSTEM).number, actor=SYSTEM)


def _cancel(number: str) -> None:
    order = quotes.accept(number, actor=SYSTEM)
    orders.cancel(order.number, actor=SYSTEM, why="The customer moved away.")


def _withdraw(number: str) -> None:
    quotes.withdraw(number, actor=SYSTEM, why="The customer chose something else.")


ENDINGS: Mapping[str, Callable[[str], None]] = {
    "open": _stay_open,
    "held": _hold,
    "accepted": _accept,
    "collected": _collect,
    "cancelled": _cancel,
    "withdrawn": _withdraw,
    "lapsed": _stay_open,  # old enough to lapse by itself
}
