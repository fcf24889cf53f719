"""What the pictures of light, heat and the day of a plan are made from; worked out when looked at."""

from collections import defaultdict
from collections.abc import Mapping
from typing import Any

from kits.effects.maps import Equipment
from kits.selectors.shelf import shelf
from kits.terms.build import Build
from kits.terms.needs import Figures


def equipment_of(plan: Mapping[str, Any], build: Build) -> Equipment:
    """The figures of every piece that fills a role: the lines of the plan, and what the customer has.

    Items that have left the catalogue are left out. One query.
    """
    shelves, found = shelf(), defaultdict[str, list[Figures]](list)
    for line in plan["lines"]:
        offer = shelves.offer(line["role"], line["item"])
        if offer is not None:
            found[line["role"]] += [offer.figures] * line["quantity"]
    for role, figures in build.owned.items():
        if role not in found and figures:
            found[role].append(figures)
    return dict(found)
