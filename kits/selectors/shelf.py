"""The shelf that plans are made from: every active item and what it can do."""

from decimal import Decimal

from inventory.models import Item
from kits.models import Profile
from kits.planning.shelf import Shelf
from kits.selectors.catalogue import KeptByCatalogue
from kits.terms.needs import Offer, Ware

COLUMNS = (
    "code", "name", "unit_name", "price", "tax_class__rate", "preference",
    "family", "mass_g", "watts", "electrical", "live",
)  # fmt: skip


def shelf() -> Shelf:
    """All active items with their profiles; three queries after a change of the catalogue, else one."""
    return _KEPT.value()


def _make(version: int) -> Shelf:
    wares = {row[0]: _ware(*row) for row in Item.objects.filter(active=True).values_list(*COLUMNS)}
    profiles = Profile.objects.filter(item__active=True).values_list("item__code", "role", "figures")
    # An item that was activated between the two queries is left for the next version of the catalogue.
    offers = [Offer(wares[code], role, figures) for code, role, figures in profiles if code in wares]
    return Shelf.build(wares.values(), offers)


def _ware(  # noqa: PLR0913, PLR0917  One argument for each column read.
    code: str,
    name: str,
    unit: str,
    price: Decimal,
    rate: Decimal,
    preference: int,
    family: str,
    mass_g: int | None,
    watts: Decimal | None,
    electrical: bool,
    live: str,
) -> Ware:
    return Ware(
        item=code,
        name=name,
        unit=unit,
        price_cents=int(price * 100),
        tax_rate_pct=f"{rate.normalize():f}",
        preference=preference,
        family=family,
        mass_g=mass_g or 0,
        watts=float(watts or 0),
        electrical=electrical,
        live=live,
    )


_KEPT = KeptByCatalogue(_make)
