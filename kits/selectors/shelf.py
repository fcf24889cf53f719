"""The shelf that plans are made from: every active item and what it can do."""

from collections.abc import Collection
from decimal import Decimal
from typing import NamedTuple

from inventory.models import Item
from inventory.selectors import stock
from kits.models import Profile
from kits.planning.shelf import Shelf
from kits.selectors.catalogue import CatalogueKey, KeptByCatalogue
from kits.terms.needs import Offer, Ware

COLUMNS = (
    "pk", "code", "name", "unit_name", "price", "tax_class__rate", "preference",
    "family", "mass_g", "watts", "electrical", "live",
)  # fmt: skip


class StockedShelf(NamedTuple):
    """The shelf, and the keys under which its items are stocked."""

    shelf: Shelf
    ids: dict[str, int]

    def free(self, codes: Collection[str], *, leaving_out: str | None = None) -> dict[str, int]:
        """Free quantity of items of this shelf; one query. `leaving_out` is as in `stock.free_by_code`."""
        by_id = stock.free_by_id([self.ids[code] for code in codes], leaving_out=leaving_out)
        return {code: by_id[self.ids[code]] for code in codes}


def shelf() -> Shelf:
    """All active items with their profiles; three queries after a change of the catalogue, else one."""
    return stocked_shelf().shelf


def stocked_shelf(at: CatalogueKey | None = None) -> StockedShelf:
    """The shelf with a way to read what is free on it; queries as for `shelf`, one less with the key `at`."""
    return _KEPT.value(at)


def _make(version: int) -> StockedShelf:
    rows = Item.objects.filter(active=True).values_list(*COLUMNS)
    ids: dict[str, int] = {}
    wares: dict[str, Ware] = {}
    for key, code, *rest in rows:
        ids[code], wares[code] = key, _ware(code, *rest)
    profiles = Profile.objects.filter(item__active=True).values_list("item__code", "role", "figures")
    # An item that was activated between the two queries is left for the next version of the catalogue.
    offers = [Offer(wares[code], role, figures) for code, role, figures in profiles if code in wares]
    return StockedShelf(Shelf.build(wares.values(), offers), ids)


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
