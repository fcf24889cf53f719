"""The one door from a build spec to a plan."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from kits.planning import pipeline
from kits.planning.spec import read_spec
from kits.selectors.facts import facts
from kits.selectors.shelf import stocked_shelf
from kits.terms.plan import Plan, Terms


def plan_for(spec: Mapping[str, Any], *, terms: Terms, leaving_out: str | None = None) -> Plan:
    """The plan of a spec against today's facts, shelf and stock; raises BadSpec.

    `leaving_out` is a demand whose own hold counts as free. Warm: two queries, and one a look at the stock.
    """
    known, stocked = facts(), stocked_shelf()
    shelf, read_free = stocked.shelf, partial(stocked.free, leaving_out=leaving_out)
    read = read_spec(spec, facts=known, knows_item=shelf.knows)
    return pipeline.plan(read, facts=known, shelf=shelf, read_free=read_free, terms=terms)
