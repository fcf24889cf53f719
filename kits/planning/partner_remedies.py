"""What helps where a lamp or heater would do, but what carries or controls it cannot be had."""

from collections.abc import Callable, Iterator, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import replace
from typing import Any

from kits.planning.chosen import Chosen, Job
from kits.planning.registry import ROLES
from kits.terms.plan import Remedy, Unmet

Spec = Mapping[str, Any]
ChosenAnew = Callable[[Job, Spec, AbstractSet[str]], Chosen | None]


def with_partners(
    job: Job, chosen: Chosen, gaps: tuple[Unmet, ...], chosen_anew: ChosenAnew
) -> tuple[Unmet, ...]:
    """Gaps of partners told too: by another load, by what mends the load, or that nothing does."""
    by_role = {gap.role: gap.remedies for gap in gaps}
    return tuple(_told(job, chosen, gap, by_role, chosen_anew) for gap in gaps)


def _told(
    job: Job, chosen: Chosen, gap: Unmet, by_role: Mapping[str, tuple[Remedy, ...]], chosen_anew: ChosenAnew
) -> Unmet:
    load = _served(chosen, gap)
    if not load or gap.remedies:
        return gap
    found = tuple(_of_the_shop(job, chosen, gap, load, chosen_anew)) or by_role.get(load, ())
    spoken = gap.role.replace("_", " ")
    none = f"No change of the spec was found to do: it takes another {spoken} on the shelf."
    told = " ".join(remedy.text for remedy in found) or none
    return replace(gap, because=f"{gap.because} {told}", remedies=found)


def _served(chosen: Chosen, gap: Unmet) -> str:
    """The load that this role carries or controls; empty for every other role."""
    build = replace(chosen.build, unmet=frozenset())
    return next((need.serves for need in ROLES[gap.role].needs(build) if need.serves), "")


def _of_the_shop(
    job: Job, chosen: Chosen, gap: Unmet, load: str, chosen_anew: ChosenAnew
) -> Iterator[Remedy]:
    """Another load in place of the one that the spec names or the customer has: the pair that can be had."""
    for freed, pointer in _without_the_load(job.spec.data, load):
        found = chosen_anew(job, freed, {one.role for one in chosen.unmet} - {gap.role, load})
        items = _items_of(found, load) if found else []
        if not items:
            continue
        value: object = items if pointer.startswith("/choose") else list(freed["own"])
        named = " and ".join(dict.fromkeys(job.shelf.ware(item).name for item in items))
        instead = "" if pointer.startswith("/choose") else " instead of the customer's own"
        yield Remedy(pointer, value, f"With {named}{instead} it would do.")


def _without_the_load(spec: Spec, load: str) -> Iterator[tuple[Spec, str]]:
    """The spec as it would be if it left the choice of the load to the shop, and the field that says so."""
    if load in (spec.get("choose") or {}):
        others = {role: items for role, items in spec["choose"].items() if role != load}
        yield {**spec, "choose": others}, f"/choose/{load}"
    own = spec.get("own") or ()
    kept = [thing for thing in own if _role(thing) != load]
    if len(kept) < len(own):
        yield {**spec, "own": kept}, "/own"


def _role(thing: object) -> object:
    return thing.get("role") if isinstance(thing, Mapping) else thing


def _items_of(chosen: Chosen, role: str) -> list[str]:
    return [offer.ware.item for pick in chosen.picks if pick.need.role == role for offer, _ in pick.offers]
