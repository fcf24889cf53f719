"""Which items of one kit depend on each other: sockets, controls and shared room, as countable rules."""

from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from operator import attrgetter
from typing import Protocol
from weakref import WeakKeyDictionary

from kits.planning.choices import Choice
from kits.planning.shelf import Shelf
from kits.terms.needs import Coupling, Figures, Fit, Need, Tie

# One control carries everything plugged into it up to its watts; one socket holds one lamp.
SHARED_KINDS = frozenset({"control"})
ROOM = "room"  # the kind of a rule that no single item is asked to serve
NOTHING = Coupling()


class Role(Protocol):
    """What selection asks of a role module; `coupling` exists only in roles that depend on others."""

    def fit(self, need: Need, figures: Figures) -> Fit:
        """Whether an item with these figures does the job."""


@dataclass(frozen=True, slots=True)
class Entry:
    """One choice for one need (by position), with what it asks and offers."""

    at: int
    role: str
    choice: Choice
    coupling: Coupling
    short: bool = False  # taken in spite of not being free

    @property
    def quantity(self) -> int:
        """Pieces of the item."""
        return sum(number for _, number in self.choice.offers)

    @property
    def name(self) -> str:
        """The item's name for a sentence."""
        return self.choice.offers[0][0].ware.name


@dataclass(frozen=True, slots=True)
class Rule:
    """A sum over the chosen entries that may not exceed `allowance`, unless a partner role is unmet."""

    kind: str
    key: str
    allowance: float
    weights: Mapping[int, float]  # by position in the list of entries that the rules were made for
    excused_by: frozenset[str] = frozenset()  # roles that serve it: while one is unmet, asking is in vain
    askers: frozenset[int] = frozenset()
    amount: float = 0.0  # watts that are asked for

    def excess(self, chosen: Iterable[int]) -> float:
        """How far the chosen entries go beyond the allowance; 0 or less keeps the rule."""
        return sum(self.weights.get(entry, 0.0) for entry in chosen) - self.allowance


@dataclass(frozen=True, slots=True)
class _Side:
    """What one entry, or one thing of the customer's, asks and offers of one kind and key."""

    number: int
    quantity: int
    serving: frozenset[str]  # the roles that serve what it asks for
    asks: list[float] = field(default_factory=list)  # amounts
    offers: list[float] = field(default_factory=list)

    @property
    def watts(self) -> float:
        """What it asks for, less what it offers."""
        return sum(self.asks) - sum(self.offers)


_Sides = dict[tuple[str, str], list[_Side]]  # by kind and key
_asks = attrgetter("asks")


@dataclass(frozen=True)
class Ties:
    """Who serves whom among the roles of a kit, what the customer has, and how much room there is."""

    servers: Mapping[tuple[str, str], frozenset[str]]  # (asking role, kind) -> roles that serve it
    owned: Mapping[str, Coupling] = field(default_factory=dict)
    capacities: Mapping[str, float] = field(default_factory=dict)

    def rules(self, entries: Sequence[Entry]) -> list[Rule]:
        """All rules that a choice among these entries has to keep."""
        sides = self._sides((n, one.role, one.coupling, one.quantity) for n, one in enumerate(entries))
        owned = self._sides((n, role, c, 1) for n, (role, c) in enumerate(self.owned.items()))
        asked = {key for some in (sides, owned) for key, of_key in some.items() if any(map(_asks, of_key))}
        made = [rule for key in sorted(asked) for rule in _tie_rules(key, sides[key], owned[key])]
        return made + [rule for room in self.capacities if (rule := self._room_rule(entries, room))]

    def broken(self, entries: Sequence[Entry], *, unmet: frozenset[str] = frozenset()) -> list[Rule]:
        """The rules that these entries break when all of them are taken."""
        everything = range(len(entries))
        return [
            rule
            for rule in self.rules(entries)
            if rule.excess(everything) > 1e-9 and not rule.excused_by & unmet
        ]

    def circle(self, role: str, entries: Iterable[Entry]) -> frozenset[str]:
        """The roles that this one depends on or shares room with, however indirectly, and itself."""
        reached = {role}
        edges = [{asker, *serving} for (asker, _), serving in self.servers.items()]
        edges += [{one.role for one in entries if one.coupling.takes.get(room)} for room in self.capacities]
        while grown := [edge for edge in edges if edge & reached and not edge <= reached]:
            reached.update(*grown)
        return frozenset(reached)

    def _sides(self, everyone: Iterable[tuple[int, str, Coupling, int]]) -> _Sides:
        """What each has to do with every kind and key; nothing is asked where nobody here could serve it."""
        found: _Sides = defaultdict(list)
        for number, role, coupling, quantity in everyone:
            own: dict[tuple[str, str], _Side] = {}
            for tie, asks in (*((t, True) for t in coupling.asks), *((t, False) for t in coupling.offers)):
                serving = self.servers.get((role, tie.kind), frozenset())
                side = own.setdefault((tie.kind, tie.key), _Side(number, quantity, serving))
                if not asks:
                    side.offers.append(tie.amount)
                elif serving:
                    side.asks.append(tie.amount)
            for key, side in own.items():
                found[key].append(side)
        return found

    def _room_rule(self, entries: Sequence[Entry], room: str) -> Rule | None:
        weights = {
            number: entry.quantity * entry.coupling.takes[room]
            for number, entry in enumerate(entries)
            if entry.coupling.takes.get(room)
        }
        used = sum(coupling.takes.get(room, 0.0) for coupling in self.owned.values())
        allowance = self.capacities[room] - used
        return Rule(ROOM, room, allowance, weights, askers=frozenset(weights)) if weights else None


def _tie_rules(key: tuple[str, str], sides: Sequence[_Side], owned: Sequence[_Side]) -> list[Rule]:
    everyone = (*sides, *owned)
    excused_by = frozenset().union(*(side.serving for side in everyone if side.asks))
    amounts = sorted({amount for side in everyone for amount in side.asks})
    rules = [_reach_rule(key, sides, owned, amount, excused_by) for amount in amounts]
    return [*rules, _carry_rule(key, sides, owned, excused_by)] if key[0] in SHARED_KINDS else rules


def _reach_rule(
    key: tuple[str, str], sides: Sequence[_Side], owned: Sequence[_Side], amount: float,
    excused_by: frozenset[str],
) -> Rule:  # fmt: skip
    """As many offers of at least this amount as there are asks of at least this amount.

    Kept for every amount that is asked for, this is the same as giving every ask an offer of its own,
    because an offer that serves a large ask serves every smaller one too. A shared offer serves all.
    """
    asked = [_count(side.asks, amount) for side in sides]
    owned_asks = sum(_count(side.asks, amount) for side in owned)
    share = 1.0
    if key[0] in SHARED_KINDS:
        share = 1 / (owned_asks + sum(n * side.quantity for n, side in zip(asked, sides, strict=True)))
    weights = {
        side.number: side.quantity * (asks * share - _count(side.offers, amount))
        for asks, side in zip(asked, sides, strict=True)
    }
    allowance = sum(_count(side.offers, amount) for side in owned) - owned_asks * share
    askers = frozenset(side.number for asks, side in zip(asked, sides, strict=True) if asks)
    return Rule(*key, allowance, _nonzero(weights), excused_by, askers, amount)


def _carry_rule(
    key: tuple[str, str], sides: Sequence[_Side], owned: Sequence[_Side], excused_by: frozenset[str]
) -> Rule:
    """What is plugged in adds up to no more than the controls carry."""
    weights = {side.number: side.quantity * side.watts for side in sides}
    allowance = -sum(side.watts for side in owned)
    askers = frozenset(number for number, weight in weights.items() if weight > 0)
    return Rule(*key, allowance, _nonzero(weights), excused_by, askers)


def coupling_of(role: Role | None, figures: Figures) -> Coupling:
    """What an item with these figures asks and offers; nothing where the role depends on no other."""
    made = getattr(role, "coupling", None)
    return NOTHING if made is None else made(figures)


def coupling_for(role: Role | None, figures: Figures, fit: Fit) -> Coupling:
    """What an item asks and offers in the job that it was measured for."""
    made = coupling_of(role, figures)
    return replace(made, asks=(*made.asks, *fit.asks)) if fit.asks else made


def owned_couplings(roles: Mapping[str, Role], owned: Mapping[str, Figures]) -> dict[str, Coupling]:
    """What the customer's own items ask and offer; figures nobody gave cannot be held against the kit."""
    known = {}
    for role, figures in owned.items():
        try:
            known[role] = coupling_of(roles.get(role), figures)
        except (KeyError, TypeError, ValueError):
            continue  # a thermostat of unknown watts: the role's own caution asks for the figure
    return {role: coupling for role, coupling in known.items() if coupling != NOTHING}


def servers_of(
    entries: Iterable[Entry], *, shelf: Shelf, roles: Mapping[str, Role], owned: Mapping[str, Coupling],
    wanted: Iterable[str],
) -> dict[tuple[str, str], frozenset[str]]:  # fmt: skip
    """Which of the wanted or owned roles serve what each role asks for.

    A role that nobody in this kit serves is asking in vain: the customer has the partner, or does without.
    A socket is served by whoever has sockets of its kind, so that none of another shape is taken for it;
    a control only by what controls this very load.
    """
    offered = {role: _offered(shelf, role, roles) for role in wanted}
    for role, coupling in owned.items():
        offered[role] = offered.get(role, frozenset()) | _offered(shelf, role, roles) | _keys(coupling.offers)
    asked: dict[tuple[str, str], set[tuple[str, str]]] = defaultdict(set)
    for entry in entries:
        for kind, key in _keys(entry.coupling.asks):
            asked[entry.role, kind].add((kind, key))
    for role, coupling in owned.items():
        for kind, key in _keys(coupling.asks):
            asked[role, kind].add((kind, key))
    return {
        asker: frozenset(role for role, keys in offered.items() if _serves(keys, wishes))
        for asker, wishes in asked.items()
    }


def _serves(offered: Set[tuple[str, str]], wishes: Set[tuple[str, str]]) -> bool:
    kinds = {kind for kind, _ in wishes} - SHARED_KINDS
    return bool(offered & wishes) or any(kind in kinds for kind, _ in offered)


def _offered(shelf: Shelf, role: str, roles: Mapping[str, Role]) -> frozenset[tuple[str, str]]:
    """What the items of a role offer; looked up once in a shelf, which does not change."""
    made = getattr(roles.get(role), "coupling", None)
    if made is None:
        return frozenset()
    kept = _OFFERED.setdefault(shelf, {})
    if (role, made) not in kept:
        kept[role, made] = frozenset(
            key for group in shelf.groups(role) for key in _keys(made(group.figures).offers)
        )
    return kept[role, made]


_OFFERED: WeakKeyDictionary[Shelf, dict[Hashable, frozenset[tuple[str, str]]]] = WeakKeyDictionary()


def _nonzero(weights: Mapping[int, float]) -> dict[int, float]:
    return {number: weight for number, weight in weights.items() if weight}


def _keys(ties: Iterable[Tie]) -> set[tuple[str, str]]:
    return {(tie.kind, tie.key) for tie in ties}


def _count(amounts: Iterable[float], least: float) -> int:
    return sum(1 for amount in amounts if amount >= least)
