"""Roles that depend on each other, chosen together by one exact integer programme."""

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from weakref import WeakKeyDictionary

from kits.planning.choices import Choice, Key
from kits.planning.fields import Field, looked_up
from kits.planning.programme import NoAnswer, NoAnswerInTime, Programme, Solution
from kits.planning.stock import Stock
from kits.planning.ties import Entry, Role, Rule, Ties, coupling_for
from kits.terms.needs import Tie

NO_TIME = "There was no time to compare sets of coupled items; the first that go together were taken."
NO_SET = "No set of coupled items keeps every rule; those that break none were taken."
MOST_TRIED = 20  # entries that are tried for a need without the programme
UNKNOWN_GAP = 1.0  # nothing is known of how much better the best could be
FIRST_LOOK = 4  # offers of a group whose stock is read at once


@dataclass(frozen=True, slots=True)
class Together:
    """What was chosen for each coupled need (by position); None where the need is unmet."""

    entries: Mapping[int, Entry | None]
    solution: Solution | None = None  # None when every need could simply have its first choice
    note: str = ""  # why the programme gave no answer, when the first that go together were taken


def entries_of(at: int, field: Field, roles: Mapping[str, Role], choices: Iterable[Choice]) -> list[Entry]:
    """Choices for one need with their couplings."""
    role = field.need.role
    module = roles.get(role)
    return [
        Entry(at, role, choice, coupling_for(module, choice.group.figures, choice.fit)) for choice in choices
    ]


def firsts(at: int, field: Field, roles: Mapping[str, Role]) -> list[Entry]:
    """The best choice of every group that does the job, in order of its key."""
    return _of_field(at, field, roles).firsts


def heads(at: int, field: Field, roles: Mapping[str, Role]) -> list[Entry]:
    """The best choice of every group, without those that another one beats in every respect."""
    return _of_field(at, field, roles).heads


@dataclass(frozen=True, slots=True)
class _Entries:
    firsts: list[Entry]
    heads: list[Entry]


_ENTRIES: WeakKeyDictionary[Field, dict[Hashable, _Entries]] = WeakKeyDictionary()


def _of_field(at: int, field: Field, roles: Mapping[str, Role]) -> _Entries:
    """Worked out once for a field, whose choices do not change."""
    kept = _ENTRIES.setdefault(field, {})
    name = at, getattr(roles.get(field.need.role), "coupling", None)
    if name not in kept:
        found = [next(suitable.choices()) for suitable in field.suitable if suitable.group.offers]
        all_firsts = entries_of(at, field, roles, sorted(found, key=lambda choice: choice.key))
        kept[name] = _Entries(all_firsts, _undominated(all_firsts))
    return kept[name]


def free_entries(
    at: int, field: Field, roles: Mapping[str, Role], stock: Stock, *, alike: int, without: Iterable[str] = ()
) -> list[Entry]:
    """The choices that what is free can serve; `alike` needs may compete for the same ones."""
    kept: list[Entry] = []
    refused = frozenset(without)
    for suitable in sorted(field.suitable, key=lambda one: one.head()):
        coupling = coupling_for(roles.get(field.need.role), suitable.group.figures, suitable.fit)
        for choice in looked_up(suitable.choices(), stock, first=FIRST_LOOK):
            entry = Entry(at, field.need.role, choice, coupling)
            if sum(_no_worse(other, entry) for other in kept) >= alike:
                break
            if choice.is_free(stock) and refused.isdisjoint(choice.items):
                kept.append(entry)
    return kept


def first_look(fields: Iterable[Field]) -> Iterator[str]:
    """The items whose stock decides most often."""
    for field in fields:
        for suitable in field.suitable:
            yield from (offer.ware.item for offer in suitable.group.offers[:FIRST_LOOK])


def choose_together(
    fields: Mapping[int, Field],
    entries: Mapping[int, Sequence[Entry]],
    ties: Ties,
    *,
    stock: Stock | None = None,
) -> Together:
    """The best entries for all needs that keep every rule; with stock, none of them twice from one piece."""
    first = _first_choices(entries, ties, stock)
    return first or _solved(fields, entries, ties, stock)


def _first_choices(
    entries: Mapping[int, Sequence[Entry]], ties: Ties, stock: Stock | None
) -> Together | None:
    """Every need's own best entry; when these keep the rules together, no other answer can be better."""
    if not all(entries.values()):
        return None
    best = {at: min(of_need, key=_short_last) for at, of_need in entries.items()}
    chosen = list(best.values())
    if ties.broken(chosen) or (stock is not None and _overdrawn(chosen, stock)):
        return None
    return Together(best)


def _short_last(entry: Entry) -> tuple[bool, Key]:
    return entry.short, entry.choice.key


def _overdrawn(chosen: Sequence[Entry], stock: Stock) -> bool:
    pieces: Counter[str] = Counter()
    for entry in chosen:
        if not entry.short:
            pieces.update(entry.choice.pieces)
    return bool(pieces) and stock.times(pieces) == 0


def _solved(
    fields: Mapping[int, Field], entries: Mapping[int, Sequence[Entry]], ties: Ties, stock: Stock | None
) -> Together:
    programme = Programme()
    flat = [entry for of_need in entries.values() for entry in of_need]
    columns: list[int] = []
    slack: dict[int, int] = {}
    for at, of_need in entries.items():
        own = [programme.column(costs) for costs in _costs(of_need)]
        slack[at] = programme.column(_slack_cost(fields[at], of_need))
        forced = bool(of_need) and fields[at].named
        programme.exactly_one(own if forced else [*own, slack[at]])
        columns.extend(own)
    roles = {at: fields[at].need.role for at in entries}
    named = {at for at, of_need in entries.items() if of_need and fields[at].named}
    for rule in ties.rules(flat):
        terms = {columns[number]: weight for number, weight in rule.weights.items()}
        reach = sum(weight for weight in rule.weights.values() if weight > 0) - rule.allowance
        for at, role in roles.items():
            if role in rule.excused_by or (at in named and any(flat[n].at == at for n in rule.askers)):
                terms[slack[at]] = -max(reach, 0.0)
        if _least(rule, flat, slack, terms) > rule.allowance + 1e-9:
            # What the customer has breaks the rule alone, and its role cautions: nothing may add to it.
            terms = {c: weight for c, weight in terms.items() if weight > 0 or c in slack.values()}
            programme.row(terms, upper=0.0)
            continue
        programme.row(terms, upper=rule.allowance)
    if stock is not None:
        _add_stock(programme, flat, columns, stock)
    try:
        solution = programme.solve()
    except NoAnswerInTime:
        return going_together(fields, entries, ties, stock, note=NO_TIME)
    except NoAnswer:
        return going_together(fields, entries, ties, stock, note=NO_SET)
    taken = {flat[n].at: flat[n] for n, column in enumerate(columns) if solution.values[column]}
    return Together({at: taken.get(at) for at in entries}, solution)


def going_together(
    fields: Mapping[int, Field],
    entries: Mapping[int, Sequence[Entry]],
    ties: Ties,
    stock: Stock | None = None,
    *,
    note: str,
) -> Together:
    """Entries that keep every rule, found without comparing sets.

    Whatever breaks a rule is left out, then the first that goes with the rest takes its place. Items named
    in the spec stay, as they do in the programme, and are told as a conflict.
    """
    best = {at: min(of_need, key=_short_last) for at, of_need in entries.items() if of_need}
    while (leaver := _leaver(fields, best, entries, ties, stock)) is not None:
        del best[leaver]
    for at in entries.keys() - best.keys():
        for entry in sorted(entries[at], key=_short_last)[:MOST_TRIED]:
            if _leaver(fields, {**best, at: entry}, entries, ties, stock) is None:
                best[at] = entry
                break
    taken = tuple(int(best.get(entry.at) is entry) for of_need in entries.values() for entry in of_need)
    return Together({at: best.get(at) for at in entries}, Solution(taken, (), UNKNOWN_GAP), note)


def _leaver(
    fields: Mapping[int, Field],
    best: Mapping[int, Entry],
    entries: Mapping[int, Sequence[Entry]],
    ties: Ties,
    stock: Stock | None,
) -> int | None:
    """The need to give up next, None when what is left goes together."""
    chosen = list(best.values())
    free_to_go = {number for number, entry in enumerate(chosen) if not fields[entry.at].named}
    unmet = frozenset(fields[at].need.role for at in entries if at not in best)
    for rule in ties.broken(chosen, unmet=unmet) if chosen else ():
        guilty = [n for n in rule.weights if n in free_to_go and rule.weights[n] > 0]
        if guilty:
            return chosen[max(guilty, key=lambda number: (rule.weights[number], number))].at
    drawn = [n for n in free_to_go if not chosen[n].short]
    if stock is not None and drawn and _overdrawn([chosen[n] for n in drawn], stock):
        return chosen[max(drawn)].at
    return None


def _least(rule: Rule, flat: Sequence[Entry], slack: Mapping[int, int], terms: Mapping[int, float]) -> float:
    """The smallest sum that one choice for each need could give a rule."""
    least = {at: min(0.0, terms.get(column, 0.0)) for at, column in slack.items()}
    for number, weight in rule.weights.items():
        least[flat[number].at] = min(least[flat[number].at], weight)
    return sum(least.values())


def _costs(entries: Sequence[Entry]) -> list[tuple[int, ...]]:
    """Breaches, unmet, unmet that ask, short, rank, preference, price, waste, place among equals."""
    levels = [entry.choice.key[:4] for entry in entries]
    base = [min(level) for level in zip(*levels, strict=True)]
    place = _places(entries)
    return [
        (
            0,
            0,
            0,
            int(entry.short),
            *(cost - low for cost, low in zip(level, base, strict=True)),
            place[number],
        )
        for number, (entry, level) in enumerate(zip(entries, levels, strict=True))
    ]


def _places(entries: Sequence[Entry]) -> list[int]:
    """How many entries of equal rank, preference, price and waste come before each one."""
    met: Counter[tuple[int, int, int, int]] = Counter()
    place = [0] * len(entries)
    for number in sorted(range(len(entries)), key=lambda at: entries[at].choice.key):
        alike = entries[number].choice.key[:4]
        place[number] = met[alike]
        met[alike] += 1
    return place


def _slack_cost(field: Field, entries: Sequence[Entry]) -> tuple[int, ...]:
    """Being unmet; for items named in the spec, which are taken in any case, breaking a rule."""
    asks = int(any(entry.coupling.asks for entry in entries))
    breach = int(bool(entries) and field.named)
    return (breach, 1 - breach, asks * (1 - breach), 0, 0, 0, 0, 0, 0)


def _add_stock(programme: Programme, flat: Sequence[Entry], columns: Sequence[int], stock: Stock) -> None:
    drawn: dict[str, dict[int, float]] = {}
    for entry, column in zip(flat, columns, strict=True):
        if not entry.short:
            for item, number in entry.choice.pieces.items():
                drawn.setdefault(item, {})[column] = float(number)
    for item, terms in drawn.items():
        if len(terms) > 1:
            programme.row(terms, upper=float(stock.free(item)))


def _undominated(entries: Sequence[Entry]) -> list[Entry]:
    """Entries in order of their key, without those that an earlier one can replace in every kit."""
    kept: list[Entry] = []
    for entry in entries:
        if not any(_no_worse(better, entry) for better in kept):
            kept.append(entry)
    return kept


def _no_worse(one: Entry, other: Entry) -> bool:
    """Whether `one` can replace `other` in every kit, at a lower key."""
    return one.choice.key <= other.choice.key and asks_no_more(one, other)


def asks_no_more(one: Entry, other: Entry) -> bool:
    """Whether `one` asks no more, offers no less and takes no more room than `other`."""
    mine, theirs = one.coupling, other.coupling
    return (
        one.quantity == other.quantity
        and _within(mine.asks, theirs.asks)
        and _within(theirs.offers, mine.offers)
        and all(amount <= theirs.takes.get(room, 0.0) for room, amount in mine.takes.items())
    )


def _within(fewer: tuple[Tie, ...], more: tuple[Tie, ...]) -> bool:
    """Whether every tie of the first finds one of its own in the second that is at least as large."""
    if fewer == more:
        return True
    largest = _by_key(more)
    return all(
        len(amounts) <= len(largest.get(key, ()))
        and all(amount <= limit for amount, limit in zip(amounts, largest[key], strict=False))
        for key, amounts in _by_key(fewer).items()
    )


@lru_cache(maxsize=1024)
def _by_key(ties: tuple[Tie, ...]) -> Mapping[tuple[str, str], list[float]]:
    amounts: dict[tuple[str, str], list[float]] = {}
    for tie in ties:
        amounts.setdefault((tie.kind, tie.key), []).append(tie.amount)
    return {key: sorted(of_key, reverse=True) for key, of_key in amounts.items()}
