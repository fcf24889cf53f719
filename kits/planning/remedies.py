"""The smallest changes of the spec that would fill an unmet role, each proved by choosing anew."""

from collections.abc import Iterator, Mapping, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Any

from kits.planning.build import draft_build
from kits.planning.chosen import Chosen, Job, StillLacking, choose, select_for
from kits.planning.groups import Group
from kits.planning.levers import LEVERS, Lever, Way
from kits.planning.partner_remedies import with_partners
from kits.planning.registry import ROLES
from kits.planning.requirements import owned_figures, requirements
from kits.planning.spec import BadSpec, read_spec
from kits.planning.stretches import Stretches
from kits.terms.build import Build
from kits.terms.needs import Fit, Need
from kits.terms.plan import Remedy, Unmet

STRIDE = 4  # values that are passed over once a lamp does but its partner does not
MOST_SETS = 24  # sets of a load and its partners that are tried one way
MOST_PROOFS = 3  # times that everything is chosen anew for one field


def with_remedies(job: Job, chosen: Chosen) -> tuple[Unmet, ...]:
    """What is unmet, each with every single change of the spec that would mend it, or that none would."""
    gaps = tuple(_with_remedies(job, chosen, unmet) for unmet in chosen.unmet)
    return with_partners(job, chosen, gaps, _chosen_anew)


def _with_remedies(job: Job, chosen: Chosen, unmet: Unmet) -> Unmet:
    levers = LEVERS.get(unmet.role, ())
    levers = tuple(lever for lever in levers if lever.ways(chosen.build))
    if not levers:
        return unmet
    trial = _Trial.of(job, chosen, unmet.role)
    found = tuple(remedy for lever in levers if (remedy := trial.smallest(lever)))
    told = (
        " ".join(remedy.text for remedy in found) or f"No change of {_listed(levers)} alone was found to do."
    )
    return replace(unmet, because=f"{unmet.because} {told}", remedies=found)


def _listed(levers: tuple[Lever, ...]) -> str:
    *others, last = (lever.name for lever in levers)
    return f"{', '.join(others)} or {last}" if others else last


@dataclass(frozen=True, slots=True)
class _Trial:
    """One role that is unmet, and what is tried to fill it."""

    job: Job
    build: Build
    role: str
    partners: tuple[str, ...]  # roles without which it cannot be had
    may_lack: frozenset[str]  # the other roles that are unmet, and what would carry them
    may_stop: frozenset[str]  # the roles whose item keeps the kit from being sold already

    @classmethod
    def of(cls, job: Job, chosen: Chosen, role: str) -> "_Trial":
        """The build as it would be if the role, and a cover of the mesh, could be had."""
        build = replace(chosen.build, unmet=chosen.build.unmet - {role, "mesh_cover"})
        whole = requirements(replace(build, unmet=frozenset()), in_soil=False).needs
        partners = tuple(dict.fromkeys(need.role for need in whole if need.serves == role))
        others = frozenset(unmet.role for unmet in chosen.unmet) - {role, *partners}
        carrying = {need.role for need in whole if need.serves in others}
        return cls(job, build, role, partners, others | carrying, _stopped(chosen))

    def smallest(self, lever: Lever) -> Remedy | None:
        """The smallest change that passes, put to the proof; after one that fails it, the next."""
        ways = lever.ways(self.build)
        stretches = [self._stretches(lever, way) for way in ways]
        starts = {number: self._first(lever, way, stretches[number], 0) for number, way in enumerate(ways)}
        failed: dict[int, int] = {}
        for _ in range(MOST_PROOFS):
            open_ways = [(at, number) for number, at in starts.items() if at is not None]
            if not open_ways:
                break
            at, number = min(open_ways)
            remedy = self._proved(lever, ways[number][at])
            if remedy:
                return self._nearer(lever, ways[number], failed.get(number, at), at) or remedy
            failed[number] = at
            starts[number] = self._first(lever, ways[number], stretches[number], at + STRIDE)
        return None

    def _nearer(self, lever: Lever, way: Way, failed: int, at: int) -> Remedy | None:
        """A smaller change that was passed over between the last one that failed its proof and this one."""
        found = None
        while 1 < at - failed <= STRIDE:
            middle = (failed + at) // 2
            remedy = self._proved(lever, way[middle])
            found, failed, at = (remedy, failed, middle) if remedy else (found, middle, at)
        return found

    def _first(self, lever: Lever, way: Way, stretches: Stretches[Need, Group], start: int) -> int | None:
        """Where one way, from here on, leads to a set of load and partners that goes together."""
        failed, begun, at = start - 1, start, stretches.first(start)
        for _ in range(MOST_SETS):
            if at is None:
                return None
            if self._a_set_does(lever.moved(self.build, way[at])):
                passed_over = range(max(failed + 1, at - STRIDE + 1), min(begun, at))
                return next((one for one in passed_over if self._does(lever.moved(self.build, way[one]))), at)
            failed, begun = at, at + STRIDE
            at = stretches.first(begun)
        return None

    def _does(self, build: Build) -> bool:
        return self._some_item_does(build, self._groups()) and self._a_set_does(build)

    def _stretches(self, lever: Lever, way: Way) -> Stretches[Need, Group]:
        """The way in whole stretches, of roles that can tell from the two ends of one that nothing does."""
        role = ROLES[self.role]
        between = getattr(role, "may_do_between", None)

        def place(at: int) -> Need | None:
            needs = role.needs(lever.moved(self.build, way[at]))
            return needs[0] if len(needs) == 1 else None

        return Stretches(
            self._groups(),
            len(way),
            place=lru_cache(maxsize=None)(place),
            may_do=between and (lambda low, high, group: between(low, high, group.figures)),
            does=lambda at, groups: self._some_item_does(lever.moved(self.build, way[at]), groups),
        )

    def _groups(self) -> tuple[Group, ...]:
        """What the role is chosen from, once for each likeness: pack sizes do a job alike."""
        named = self.job.spec.choose.get(self.role)
        of_role = self.job.shelf.section(self.role, named or None).groups
        return tuple({group.likeness: group for group in of_role}.values())

    def _some_item_does(self, build: Build, groups: Sequence[Group]) -> bool:
        """The role's own predicate, item by item; nothing else is looked at yet."""
        role = ROLES[self.role]
        return all(any(_sold(role.fit(need, g.figures)) for g in groups) for need in role.needs(build))

    def _a_set_does(self, build: Build) -> bool:
        needs = tuple(self._needs(build))
        picks = select_for(replace(self.job, trial=True), needs, build, {}).picks
        return all(pick.offers and not pick.fit.stops for pick in picks)

    def _needs(self, build: Build) -> Iterator[Need]:
        for role in (self.role, *self.partners):
            if role not in build.owned and role not in build.without:
                yield from (n for n in ROLES[role].needs(build) if self.role in (n.role, n.serves))

    def _proved(self, lever: Lever, value: float) -> Remedy | None:
        """The change, where everything chosen anew leaves the role filled, none else unmet and no stop."""
        wanted = lever.value(self.job.spec.data, self.build, value)
        data = changed(self.job.spec.data, lever.pointer, wanted)
        chosen = _chosen_anew(self.job, data, self.may_lack)
        if chosen is None:
            return None
        if not _stopped(chosen) <= self.may_lack | self.may_stop:
            return None
        does = "it would do" if self.role in chosen.wanted else "none is needed"
        return Remedy(lever.pointer, wanted, f"With {lever.words(self.build, value)} {does}.")


def _sold(fit: Fit) -> bool:
    """Whether an item does the job and the kit can be sold with it."""
    return fit.passes and not fit.stops


def _stopped(chosen: Chosen) -> frozenset[str]:
    """The roles whose item, though it does the job, brings a stop."""
    return frozenset(pick.need.role for pick in chosen.picks if pick.offers and pick.fit.stops)


def _chosen_anew(job: Job, data: Mapping[str, Any], may_lack: AbstractSet[str]) -> Chosen | None:
    """What would be chosen for another spec; None where it is no spec, or more than `may_lack` is unmet."""
    try:
        spec = read_spec(data, facts=job.facts, knows_item=job.shelf.knows)
    except BadSpec:
        return None  # such as a share of mesh on a top that has none: no remedy then
    owned, _ = owned_figures(spec, job.shelf)
    tried = replace(job, spec=spec, trial=True)
    try:
        return choose(tried, draft_build(spec, facts=job.facts, owned=owned), may_lack=may_lack)
    except StillLacking:
        return None


def changed(data: Mapping[str, Any], pointer: str, value: object) -> dict[str, Any]:
    """A spec with one value put in its place; the spec itself stays as it is.

    Example:
        >>> changed({"room": {"temperature_c": 20}}, "/room/night_temperature_c", 17)
        {'room': {'temperature_c': 20, 'night_temperature_c': 17}}
    """
    first, _, rest = pointer.strip("/").partition("/")
    inner = changed(data.get(first) or {}, rest, value) if rest else value
    return {**data, first: inner}
