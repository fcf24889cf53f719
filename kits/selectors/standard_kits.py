"""Standard kits, planned against today's stock."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.db import connection
from django.db.models import QuerySet

from inventory.errors import Unknown
from inventory.selectors import stock
from kits.models import StandardKit
from kits.planning.makeable import Makeable, makeable
from kits.selectors.plans import plan_for
from kits.terms.plan import Plan, Terms

# A kit stays the same kit from what is free, and in other units.
SAME_KIT = ("fill", "units")
_PRICED_FOR = """
    SELECT id FROM kits_standardkit WHERE active AND fixed_price IS NOT NULL AND spec - %s = %s::jsonb
    ORDER BY code LIMIT 1
"""


@dataclass(frozen=True, slots=True)
class PlannedKit:
    """A standard kit with its plan of today, its price before tax and how many could be made now."""

    kit: StandardKit
    plan: Plan
    net_cents: int
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


def at_fixed_price(spec: Mapping[str, Any]) -> StandardKit | None:
    """The kit that is sold at a fixed price and asks for just this; one query, two where there is one."""
    asked = {key: value for key, value in spec.items() if key not in SAME_KIT}
    with connection.cursor() as cursor:  # most specs are no kit's, and each key that is typed asks
        cursor.execute(_PRICED_FOR, (list(SAME_KIT), json.dumps(asked)))
        found = cursor.fetchone()
    return StandardKit.objects.get(pk=found[0]) if found else None


def planned(kit: StandardKit, *, terms: Terms) -> PlannedKit:
    """The kit against today's stock; raises BadSpec when its spec no longer holds."""
    plan = plan_for(kit.spec, terms=terms)
    free = stock.free_by_code({line.item for line in plan.lines})
    fixed = kit.fixed_price
    return PlannedKit(
        kit=kit,
        plan=plan,
        net_cents=plan.totals.net_cents if fixed is None else int(fixed * 100),
        can_be_made=makeable(plan, free=free),
    )
