"""The one door from a build spec to a plan."""

import json
from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any

from kits.planning import pipeline
from kits.planning.latest import Latest
from kits.planning.spec import read_spec
from kits.planning.stock import ReadFree
from kits.selectors.catalogue import CatalogueKey, catalogue_key
from kits.selectors.facts import facts
from kits.selectors.shelf import stocked_shelf
from kits.terms.plan import Plan, Terms

MOST_KEPT = 64  # plans of one process: what its clerks have on their worktables, and some steps back


def plan_for(
    spec: Mapping[str, Any], *, terms: Terms, leaving_out: str | None = None, at: CatalogueKey | None = None
) -> Plan:
    """The plan of a spec against today's facts, shelf and stock; raises BadSpec.

    `leaving_out` is a demand whose own hold counts as free. Warm: one query for the state of the catalogue
    where its key `at` is not given, and one a look at the stock. A plan is made once for one state of all
    that it depends on: asked for again, it is the same plan while every item that it looked at is as free as
    it was.
    """
    at = at or catalogue_key()
    known, stocked = facts(at), stocked_shelf(at)
    read_free = partial(stocked.free, leaving_out=leaving_out)
    read = read_spec(spec, facts=known, knows_item=stocked.shelf.knows)
    name = (at, terms, json.dumps(read.data, sort_keys=True))
    kept = _LATEST.get(name)
    if kept is not None and read_free(kept.seen) == kept.seen:
        return kept.plan
    look = _Look(read_free)
    plan = pipeline.plan(read, facts=known, shelf=stocked.shelf, read_free=look, terms=terms)
    _LATEST.keep(name, _Kept(plan, look.seen))
    return plan


@dataclass(frozen=True, slots=True)
class _Look:
    """Reads what is free, and remembers what was seen."""

    read_free: ReadFree
    seen: dict[str, int] = field(default_factory=dict)

    def __call__(self, items: Collection[str]) -> Mapping[str, int]:
        found = self.read_free(items)
        self.seen.update(found)
        return found


@dataclass(frozen=True, slots=True)
class _Kept:
    plan: Plan
    seen: Mapping[str, int]


_LATEST = Latest[tuple[CatalogueKey, Terms, str], _Kept](MOST_KEPT)
