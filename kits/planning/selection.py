"""From needs to picks: roles that share nothing by table, roles that depend on each other together.

Stock sets the status, not the choice: among the items that do a role the order is rank, house preference,
price, waste, item. Only the pack sizes of the product that was chosen use what is free first.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

from kits.planning import coupled
from kits.planning.choices import Choice
from kits.planning.coupled import Together, choose_together
from kits.planning.fields import Field
from kits.planning.in_kit import fit_in_kit, partners
from kits.planning.measured import measured
from kits.planning.refusals import breach, figures_of, unmet_reason, untied_reason
from kits.planning.shelf import Shelf
from kits.planning.stock import ReadFree, Stock
from kits.planning.ties import ROOM, Entry, Role, Ties, owned_couplings, servers_of
from kits.terms.needs import Figures, Fit, Need, Pick
from kits.terms.plan import Working

FREE = "free"


@dataclass(frozen=True, slots=True)
class Conflict:
    """Items named in the spec that cannot work together; the pipeline makes it a stop."""

    role: str
    text: str


@dataclass(frozen=True)
class Selection:
    """What was settled on for each need, and everything that substitutes are made from."""

    picks: tuple[Pick, ...]
    alternatives: tuple[Field, ...]  # for each pick, all that was measured against its need
    chosen: tuple[Choice | None, ...]
    notes: tuple[Working, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    stock: Stock = field(default_factory=lambda: Stock(lambda items: {}))
    ties: Ties = field(default_factory=lambda: Ties({}))
    entries: Mapping[int, Entry | None] = field(default_factory=dict)  # coupled needs by position
    roles: Mapping[str, Role] = field(default_factory=dict)
    filled: Mapping[str, Figures] = field(default_factory=dict)  # by role: chosen, else the customer's

    @cached_property
    def partners(self) -> dict[str, str]:
        """The roles that are told beside another one, each with that one."""
        return partners(self.roles)

    @property
    def taken(self) -> dict[str, int]:
        """Pieces by item that this selection uses, for the next selection of the same plan."""
        pieces: dict[str, int] = {}
        for choice in filter(None, self.chosen):
            for item, number in choice.pieces.items():
                pieces[item] = pieces.get(item, 0) + number
        return pieces


@dataclass(frozen=True)
class _Job:
    fields: tuple[Field, ...]
    roles: Mapping[str, Role]
    stock: Stock
    free_only: bool
    trial: bool  # which packs of a product are taken is of no account

    def alone(self, together: Mapping[int, object]) -> Iterator[tuple[int, Field]]:
        return ((at, one) for at, one in enumerate(self.fields) if at not in together)


def select(  # noqa: PLR0913 - one door with plain arguments, each of them part of the question
    needs: Sequence[Need],
    *,
    shelf: Shelf,
    roles: Mapping[str, Role],
    read_free: ReadFree,
    choose: Mapping[str, Sequence[str]] | None = None,
    fill: str = "preferred",
    owned: Mapping[str, Figures] | None = None,
    capacities: Mapping[str, float] | None = None,
    taken: Mapping[str, int] | None = None,
    trial: bool = False,
) -> Selection:
    """The best pick for every need.

    `choose` names the items that a role is taken from; they are kept even when none of them does the job,
    and the pick then carries the refusal. `fill` is "preferred", or "free" for items that are free wherever
    that is possible. `owned` are figures of what the customer has, by role; `capacities` limits of shared
    room; `taken` pieces that earlier selections of this plan use. In a `trial` nothing is told of the picks
    and no stock is read for what could stand in: only what is chosen counts.
    """
    stock = Stock(read_free, taken=taken)
    fields = tuple(_field(need, shelf, roles, choose or {}) for need in needs)
    job = _Job(fields, roles, stock, fill == FREE, trial)
    ties, coupled_at = _ties(job, shelf, owned or {}, capacities or {})
    if not trial:
        stock.expect(item for one in fields for item in one.near())
    together = _together(job, ties, coupled_at)
    stock.expect(item for entry in together.entries.values() if entry for item in entry.choice.items)
    chosen = _alone(job, together)
    chosen.update({at: entry.choice if entry else None for at, entry in together.entries.items()})
    ordered = tuple(chosen[at] for at in range(len(fields)))
    if trial:
        return _untold(job, ordered)
    broken = _conflicts(job, ties, together)
    filled = {**(owned or {}), **_figures_by_role(fields, ordered)}
    return Selection(
        picks=tuple(
            _chosen(job, at, choice, filled) if choice else _unmet(job, at, ties, together)
            for at, choice in enumerate(ordered)
        ),
        alternatives=fields,
        chosen=ordered,
        notes=_notes(together),
        conflicts=broken,
        stock=stock,
        ties=ties,
        entries=together.entries,
        roles=roles,
        filled=filled,
    )


def _untold(job: _Job, ordered: tuple[Choice | None, ...]) -> Selection:
    """The picks alone, each with how it does the job by itself, and no reason where there is none."""
    picks = tuple(
        Pick(one.need, choice.offers, choice.fit, choice.fit.refusal) if choice else Pick(one.need, (), Fit())
        for one, choice in zip(job.fields, ordered, strict=True)
    )
    return Selection(picks, job.fields, ordered)


def _field(need: Need, shelf: Shelf, roles: Mapping[str, Role], choose: Mapping[str, Sequence[str]]) -> Field:
    return measured(need, shelf, roles[need.role].fit, items=choose.get(need.role, ()))


def _ties(
    job: _Job, shelf: Shelf, owned: Mapping[str, Figures], capacities: Mapping[str, float]
) -> tuple[Ties, dict[int, list[Entry]]]:
    """Who depends on whom, and the entries of every need that depends on another."""
    # Who serves what is asked of all that do a job: what only a substitute asks for is asked for too.
    all_entries = {
        at: coupled.firsts(at, one, job.roles)
        for at, one in enumerate(job.fields)
        if hasattr(job.roles[one.need.role], "coupling") and not one.products
    }
    entries = {at: coupled.heads(at, job.fields[at], job.roles) for at in all_entries}
    known = owned_couplings(job.roles, owned)
    flat = [entry for of_need in all_entries.values() for entry in of_need]
    wanted = {job.fields[at].need.role for at in entries}
    servers = servers_of(flat, shelf=shelf, roles=job.roles, owned=known, wanted=wanted)
    ties = Ties(servers, known, capacities)
    serving = frozenset().union(*ties.servers.values())
    return ties, {
        at: of_need
        for at, of_need in entries.items()
        if job.fields[at].need.role in serving or _depends(of_need, ties)
    }


def _depends(entries: Sequence[Entry], ties: Ties) -> bool:
    return any(
        any((entry.role, tie.kind) in ties.servers for tie in entry.coupling.asks)
        or ties.capacities.keys() & entry.coupling.takes.keys()
        for entry in entries
    )


def _together(job: _Job, ties: Ties, entries: Mapping[int, list[Entry]]) -> Together:
    if not entries:
        return Together({})
    fields = {at: job.fields[at] for at in entries}
    if not job.free_only:
        return choose_together(fields, entries, ties)
    job.stock.know(coupled.first_look(fields.values()))
    both = {
        at: [*_free_for(job, at, fields), *(replace(entry, short=True) for entry in of_need)]
        for at, of_need in entries.items()
    }
    found = choose_together(fields, both, ties, stock=job.stock)
    for entry in filter(None, found.entries.values()):
        job.stock.take(entry.choice.pieces)
    return found


def _free_for(job: _Job, at: int, fields: Mapping[int, Field]) -> list[Entry]:
    alike = sum(one.need.role == fields[at].need.role for one in fields.values())
    return coupled.free_entries(at, fields[at], job.roles, job.stock, alike=alike)


def _alone(job: _Job, together: Together) -> dict[int, Choice | None]:
    chosen: dict[int, Choice | None] = {}
    used: dict[str, set[object]] = {}
    for at, one in job.alone(together.entries):
        seen = used.setdefault(one.need.role, set())
        choice = _best(job, one, seen)
        chosen[at] = choice
        if choice is not None:
            seen.add(identity(choice))
            if job.free_only and not (job.trial and one.products):
                job.stock.take(choice.pieces)
    return chosen if job.free_only or job.trial else _packed(job, chosen)


def _best(job: _Job, one: Field, seen: set[object]) -> Choice | None:
    if job.free_only and not (job.trial and one.products):
        free = _first_new(lambda: one.free(job.stock), seen, distinct=one.need.distinct)
        if free is not None:
            return free
        choice = _first_new(one.heads, seen, distinct=one.need.distinct)
        return choice and one.pack_choice(choice, job.stock)
    return _first_new(one.heads, seen, distinct=one.need.distinct)


def _first_new(
    choices: Callable[[], Iterator[Choice]], seen: set[object], *, distinct: bool
) -> Choice | None:
    """The best choice; for slots that prefer different products the best that is not taken yet."""
    if distinct and seen:
        fresh = next((choice for choice in choices() if identity(choice) not in seen), None)
        if fresh is not None:
            return fresh
    return next(choices(), None)


def identity(choice: Choice) -> object:
    """What makes two products the same: the species where there is one, else all figures."""
    figures = choice.group.figures
    return figures.get("species") or figures.get("taxon") or choice.group


def _packed(job: _Job, chosen: dict[int, Choice | None]) -> dict[int, Choice | None]:
    """The same products, in the pack sizes that are free; one batch reads the stock of all of them."""
    volumes = {at: choice for at, choice in chosen.items() if choice and job.fields[at].products}
    job.stock.know(offer.ware.item for choice in volumes.values() for offer in choice.group.offers)
    for at, choice in volumes.items():
        packed = job.fields[at].pack_choice(choice, job.stock)
        job.stock.take(packed.pieces)
        chosen[at] = packed
    return chosen


def _figures_by_role(fields: Sequence[Field], chosen: Sequence[Choice | None]) -> dict[str, Figures]:
    return {one.need.role: choice.group.figures for one, choice in zip(fields, chosen, strict=True) if choice}


def _chosen(job: _Job, at: int, choice: Choice, filled: Mapping[str, Figures]) -> Pick:
    need = job.fields[at].need
    return Pick(need, choice.offers, fit_in_kit(need, choice, job.roles, filled), choice.fit.refusal)


def _unmet(job: _Job, at: int, ties: Ties, together: Together) -> Pick:
    one = job.fields[at]
    if at not in together.entries or not one.suitable:
        return Pick(one.need, (), Fit(), unmet_reason(one))
    return Pick(one.need, (), Fit(), _untied(job, at, ties, together))


def _untied(job: _Job, at: int, ties: Ties, together: Together) -> str:
    """The rule that keeps the need's items out: the room where one of them, or a partner, is out for that."""
    rest = [entry for entry in together.entries.values() if entry]
    heads = sorted(coupled.heads(at, job.fields[at], job.roles), key=lambda entry: entry.choice.key)
    tried = [[*rest, entry] for entry in heads]
    with_partner = ([*rest, partner, heads[0]] for partner in _left_out(job, at, together))
    for kits, only_room in ((tried, True), (tried, False), (with_partner, True)):
        for kit in kits:
            broken = ties.broken(kit)
            room = [rule for rule in broken if rule.kind == ROOM]
            if room and (room == broken or not only_room):
                return untied_reason(kit, room)
    return untied_reason(tried[0], ties.broken(tried[0]))


def _left_out(job: _Job, at: int, together: Together) -> Iterator[Entry]:
    """What other unmet needs could have had."""
    for other, entry in together.entries.items():
        if entry is None and other != at:
            yield from coupled.heads(other, job.fields[other], job.roles)


def _conflicts(job: _Job, ties: Ties, together: Together) -> tuple[Conflict, ...]:
    chosen = [entry for entry in together.entries.values() if entry]
    unmet = frozenset(job.fields[at].need.role for at, entry in together.entries.items() if entry is None)
    told = []
    for rule in ties.broken(chosen, unmet=unmet) if chosen else ():  # owned things alone: their roles caution
        asker = chosen[min(rule.askers, default=0)]
        why = f"{asker.name} cannot be used here: {breach(rule)}.{figures_of(rule, chosen)}"
        told.append(Conflict(asker.role, why))
    return tuple(dict.fromkeys(told))


def _notes(together: Together) -> tuple[Working, ...]:
    solution = together.solution
    if solution is None or solution.proved:
        return ()
    note = "The coupled items were chosen as well as the time allowed; a better set may exist."
    return (
        Working(
            figure="selection_gap",
            formula="best answer found in the time allowed against the best that could exist",
            inputs={"columns": len(solution.values)},
            value=solution.gap,
            unit="",
            source="own method: integer programme with a time limit",
            valid=False,
            note=together.note or note,
        ),
    )
