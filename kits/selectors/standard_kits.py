"""Standard kits, planned against today's stock."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from django.db.models import QuerySet

from inventory.errors import Unknown
from inventory.selectors import stock
from kits.models import StandardKit
from kits.planning.makeable import Makeable, makeable
from kits.planning.spec import BadSpec, BuildSpec, read_spec
from kits.selectors.catalogue import CatalogueKey, KeptByCatalogue, catalogue_key
from kits.selectors.facts import facts
from kits.selectors.plans import plan_for
from kits.selectors.shelf import stocked_shelf
from kits.terms.plan import Plan, Terms


@dataclass(frozen=True, slots=True)
class PlannedKit:
    """A standard kit with its plan of today, and how many could be made now."""

    kit: StandardKit
    plan: Plan
    can_be_made: Makeable


def active() -> QuerySet[StandardKit]:
    """The kits that are sold, by code; one query."""
    return StandardKit.objects.filter(active=True)


def get(code: str) -> StandardKit:
    """The kit with that code, sold or not; one query. Raises Unknown."""
    try:
        return StandardKit.objects.get(code=code)
    except StandardKit.DoesNotExist:
        raise Unknown("standard kit", code) from None


def at_fixed_price(spec: Mapping[str, Any], at: CatalogueKey | None = None) -> StandardKit | None:
    """The kit that is sold at a fixed price and asks for just this, however it is written.

    One query for the state of the catalogue where its key is not given, and one more after a change of it.
    """
    at = at or catalogue_key()
    kits = [kit for kit in _PRICED.value(at) if kit.spec.get("enclosure") == spec.get("enclosure")]
    asked = _asked(spec, at) if kits else None  # most specs are no kit's, and each key that is typed asks
    return next((kit for kit in kits if asked is not None and _asked(kit.spec, at) == asked), None)


def _priced(version: int) -> tuple[StandardKit, ...]:
    return tuple(active().filter(fixed_price__isnull=False).order_by("code"))


_PRICED = KeptByCatalogue(_priced)


def _asked(spec: Mapping[str, Any], at: CatalogueKey) -> BuildSpec | None:
    """What a spec asks for; a kit stays the same kit from what is free, in other units and in other words."""
    try:
        read = read_spec(spec, facts=facts(at), knows_item=stocked_shelf(at).shelf.knows)
    except BadSpec:
        return None  # an item of it is sold no more
    extra = tuple(sorted(read.extra, key=lambda one: one.item))
    own = tuple(sorted(read.own, key=lambda one: one.role))
    return replace(read, fill="preferred", units="us", extra=extra, own=own, data={})


def planned(kit: StandardKit, *, terms: Terms) -> PlannedKit:
    """The kit against today's stock; raises BadSpec when its spec no longer holds."""
    plan = plan_for(kit.spec, terms=terms)
    free = stock.free_by_code({line.item for line in plan.lines})
    return PlannedKit(kit=kit, plan=plan, can_be_made=makeable(plan, free=free))
