"""Saving specs that are sold by a code."""

import re
from collections.abc import Mapping
from decimal import Decimal
from typing import Any

from inventory.actors import Actor
from inventory.errors import BadInput, FieldError, Unknown
from kits.models import StandardKit
from kits.planning.spec import read_spec
from kits.selectors.facts import facts
from kits.selectors.shelf import shelf

URL_SAFE = re.compile(r"[a-z0-9][a-z0-9-]{0,63}")


def save(
    code: str, *, name: str, spec: Mapping[str, Any], fixed_price: Decimal | None = None, actor: Actor
) -> StandardKit:
    """Save a spec under a code, replacing what stood there.

    Refuses a missing ability, a spec with faults (BadSpec names each), a price not above zero and a code
    that no address can hold.
    """
    actor.must("catalogue")
    if fixed_price is not None:
        actor.must("price")
        if not (fixed_price.is_finite() and fixed_price > 0):
            raise BadInput([FieldError("/fixed_price", "The fixed price must be above zero.")])
    if not (name.strip() and URL_SAFE.fullmatch(code)):
        raise BadInput([FieldError("/code", "A kit needs a name, and a code of a-z, 0-9 and hyphens.")])
    read_spec(spec, facts=facts(), knows_item=shelf().knows)
    return StandardKit.objects.update_or_create(
        code=code,
        defaults={"name": name, "spec": dict(spec), "fixed_price": fixed_price, "active": True},
    )[0]


def retire(code: str, *, actor: Actor) -> None:
    """Take a kit off sale; quotes made from it keep their own spec. Refuses an unknown code."""
    actor.must("catalogue")
    if not StandardKit.objects.filter(code=code).update(active=False):
        raise Unknown("standard kit", code)
