"""What the house has decided, as plans want to know it."""

from datetime import date, datetime

from django.utils import timezone

from kits.selectors.catalogue import CatalogueKey, KeptByCatalogue
from kits.terms.plan import Terms
from shop.calc.opening_hours import shop_day
from shop.models import House


def today(house: House, now: datetime | None = None) -> date:
    """The shop's date."""
    return shop_day(now or timezone.now(), zone=house.timezone)


def shop_date() -> date:
    """The date that the shop's calendar shows right now, for rooms that know no house."""
    return today(House.current())


def house_at(at: CatalogueKey) -> House:
    """The house as it is in that state of the catalogue, which changes with it; one query after a change."""
    return _KEPT.value(at)


_KEPT = KeptByCatalogue(lambda version: House.current())


def terms(house: House) -> Terms:
    """The decisions that a plan depends on."""
    return Terms(
        currency=house.currency,
        tax_basis=house.tax_basis,
        prices_include_tax=house.prices_include_tax,
        electricity_per_kwh=float(house.electricity_price),
        breaker_a=float(house.breaker_a),
        volts=float(house.volts),
        today=today(house).isoformat(),
    )
