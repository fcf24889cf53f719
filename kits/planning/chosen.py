"""All that is chosen for one build: what stands in the soil, then the rest, and never half a pair."""

from collections import Counter
from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field, replace
from heapq import merge
from itertools import islice

from kits.effects.airing import open_depth_mm
from kits.planning.build import Draft
from kits.planning.fields import FIRST_LOOK
from kits.planning.groups import first_choice
from kits.planning.lines import unmet_roles
from kits.planning.pairs import lacking, partners_of
from kits.planning.registry import ROLES
from kits.planning.requirements import Requirements, requirements
from kits.planning.selection import Selection, StillLacking, select
from kits.planning.shelf import Shelf
from kits.planning.spec import BuildSpec
from kits.planning.stock import Stock
from kits.terms.build import Build
from kits.terms.conditions import lit_loads
from kits.terms.facts import Facts, Subject
from kits.terms.needs import Need, Offer, Pick
from kits.terms.plan import Unmet
from kits.terms.reading import positive


@dataclass(frozen=True, slots=True)
class Job:
    """One spec to be planned from one shelf."""

    spec: BuildSpec
    facts: Facts
    shelf: Shelf
    read_free: Stock  # remembers what it has read, so that all passes see the same stock
    trial: bool = False  # only what is chosen and what is unmet counts: nothing is told of it
    may_lack: AbstractSet[str] | None = None  # the roles that may be unmet, where others may not
    made: list["_Made"] = field(default_factory=list, compare=False)


@dataclass(frozen=True, slots=True)
class _Made:
    """A selection of this job and all that it depends on; a spec that is tried leaves most as it was."""

    needs: tuple[Need, ...]
    asked: tuple[object, ...]
    selection: Selection


@dataclass(frozen=True, slots=True)
class Chosen:
    """What was picked for a build, and what nothing known here can do."""

    build: Build  # which knows the hardscape, the plants and the gaps that were found
    wanted: Mapping[str, tuple[Need, ...]]
    selections: tuple[Selection, ...]
    picks: tuple[Pick, ...]  # of all selections, without single items that are not wanted
    unmet: tuple[Unmet, ...]


@dataclass(frozen=True, slots=True)
class _Rest:
    """The roles that do not stand in the soil, once no pair is half."""

    build: Build
    wants: Requirements
    selection: Selection
    lost: tuple[Unmet, ...]  # the loads that were given up, and the partners for whose want they were


def choose(job: Job, draft: Draft) -> Chosen:
    """Items for every role of the draft: those in the soil first, since they take the place of soil.

    Raises: StillLacking as soon as a role is unmet that may not be, by the job's `may_lack`.
    """
    if not job.trial:
        job.read_free.expect(_likely_last(job.shelf, draft.build))
    in_soil = requirements(draft.build, in_soil=True)
    first = select_for(job, in_soil.needs, draft.build, {})
    _check(job, unmet_roles([first]))
    kept = _kept(first.picks, job.spec)
    build = replace(
        draft.build,
        displaced_l=_displaced_l(kept, in_soil, draft.build),
        planted=_planted(kept, draft.build),
    )
    rest = _in_whole_pairs(job, build, first.taken)
    build = replace(rest.build, timed=_timed(_kept(rest.selection.picks, job.spec), rest.build))
    last = _with_named(
        job.spec, build, requirements(build, in_soil=False, after_lamps=True), after_lamps=True
    )
    taken = Counter(first.taken) + Counter(rest.selection.taken)
    selections = (first, rest.selection, select_for(job, last.needs, build, taken))
    return Chosen(
        build=build,
        wanted=_in_order(in_soil, rest.wants, last),
        selections=selections,
        picks=_kept(tuple(pick for selection in selections for pick in selection.picks), job.spec),
        unmet=_in_parts_order((*unmet_roles(selections), *rest.lost)),
    )


def _likely_last(shelf: Shelf, build: Build) -> list[str]:
    """What the roles after the lamps will ask for most likely, so that one look at the stock answers all."""
    roles = {code for code, role in ROLES.items() if getattr(role, "AFTER_LAMPS", False)}
    groups = (group for code in roles - build.owned.keys() - build.without for group in shelf.groups(code))
    best_first = merge(*(group.offers for group in groups), key=first_choice)  # as they stand in each group
    return [offer.ware.item for offer in islice(best_first, 2 * FIRST_LOOK)]


def _check(job: Job, unmet: Iterable[Unmet]) -> None:
    """Whatever is unmet here stays so."""
    if job.may_lack is not None and (more := {one.role for one in unmet} - job.may_lack):
        raise StillLacking(more)


def _in_whole_pairs(job: Job, build: Build, taken: Mapping[str, int]) -> _Rest:
    """Choose again without the loads that cannot be had, until nothing is listed for a thing that is not.

    It ends, since every round gives up one load more.
    """
    lost: list[Unmet] = []
    while True:
        wants = _with_named(job.spec, build, requirements(build, in_soil=False))
        needs = tuple(need for need in wants.needs if need.role not in build.unmet)
        selection = select_for(job, needs, build, taken)
        given_up = lacking(selection.picks, named=job.spec.choose)
        if not given_up:
            _check(job, unmet_roles([selection]))
            return _Rest(build, wants, selection, tuple(lost))
        lost += [*given_up, *partners_of(given_up, selection.picks)]
        _check(job, lost)
        build = replace(build, unmet=build.unmet | {unmet.role for unmet in given_up})


def _with_named(
    spec: BuildSpec, build: Build, rest: Requirements, *, after_lamps: bool = False
) -> Requirements:
    """The roles that are left, and those of items that the spec names though their load is not to be had."""
    if not build.unmet or not spec.choose:
        return rest
    whole = requirements(replace(build, unmet=frozenset()), in_soil=False, after_lamps=after_lamps)
    named = {role: needs for role, needs in whole.wanted.items() if role in spec.choose.keys() - rest.wanted}
    bought = tuple(need for need in whole.needs if need.role in named)
    return Requirements((*rest.needs, *bought), {**rest.wanted, **named})


def select_for(job: Job, needs: tuple[Need, ...], build: Build, taken: Mapping[str, int]) -> Selection:
    """The best picks for these needs of a build, beside pieces that are taken already."""
    room_mm = open_depth_mm(build)
    asked = (job.spec.choose, job.spec.fill, build.owned, room_mm, taken)
    known = (made.selection for made in job.made if made.asked == asked and made.needs == needs)
    if (selection := next(known, None)) is not None:
        return selection
    selection = select(
        needs,
        shelf=job.shelf,
        roles=ROLES,
        read_free=job.read_free,
        choose=job.spec.choose,
        fill=job.spec.fill,
        owned=build.owned,
        capacities={"top_depth_mm": room_mm},
        taken=taken,
        trial=job.trial,
        may_lack=job.may_lack,
    )
    job.made.append(_Made(needs, asked, selection))
    return selection


def _displaced_l(picks: tuple[Pick, ...], wants: Requirements, build: Build) -> float:
    """Soil that need not be bought because hardscape stands in it; never more than there is."""
    bought = sum(
        (positive(offer.figures, "buried_l") or 0.0) * pieces
        for pick in picks
        for offer, pieces in pick.offers
    )
    owned = sum(positive(build.owned.get(role, {}), "buried_l") or 0.0 for role in wants.wanted)
    return min(bought + owned, build.layer_l("substrate"))


def _kept(picks: tuple[Pick, ...], spec: BuildSpec) -> tuple[Pick, ...]:
    """The picks without the items that are not wanted; what else was picked stays as it is."""
    if not spec.without_items:
        return picks
    return tuple(
        replace(pick, offers=tuple(pair for pair in pick.offers if _wanted(spec, pick, pair[0])))
        for pick in picks
    )


def _wanted(spec: BuildSpec, pick: Pick, offer: Offer) -> bool:
    return (pick.need.role, offer.ware.item) not in spec.without_items


def _timed(picks: tuple[Pick, ...], build: Build) -> tuple[tuple[str, float], ...]:
    """The plugs that a timer switches: each lamp that was picked, else that which the customer has."""
    plugs: list[tuple[str, float]] = []
    for role in lit_loads(build):
        bought = [
            (role, positive(offer.figures, "watts") or offer.ware.watts)
            for pick in picks
            if pick.need.role == role
            for offer, pieces in pick.offers
            for _ in range(pieces)
        ]
        own = build.owned.get(role)
        plugs += bought or ([] if own is None else [(role, positive(own, "watts") or 0.0)])
    return tuple(plugs)


def _planted(picks: tuple[Pick, ...], build: Build) -> tuple[Subject, ...]:
    """The species among what was picked."""
    codes = {str(offer.figures.get("species")) for pick in picks for offer, _ in pick.offers}
    return tuple(subject for code, subject in build.plants.items() if code in codes)


def _in_order(*wants: Requirements) -> dict[str, tuple[Need, ...]]:
    return {role: some.wanted[role] for role in ROLES for some in wants if role in some.wanted}


def _in_parts_order(unmet: Iterable[Unmet]) -> tuple[Unmet, ...]:
    """Each gap once, in the order of the parts list."""
    place = {role: number for number, role in enumerate(ROLES)}
    return tuple(sorted(dict.fromkeys(unmet), key=lambda one: place[one.role]))
