"""What could stand in for a line, from what is free, proved by the same calculation."""

from collections import Counter
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from weakref import WeakKeyDictionary

from kits.planning import coupled
from kits.planning.choices import Choice
from kits.planning.fields import FIRST_LOOK, Field
from kits.planning.groups import Group
from kits.planning.in_kit import fit_in_kit
from kits.planning.latest import Latest
from kits.planning.selection import Selection, identity
from kits.planning.side_by_side import verdict
from kits.planning.stock import Stock, Watched
from kits.planning.ties import Entry, coupling_for
from kits.terms.needs import Fit
from kits.terms.plan import Substitute

MOST_FOR_SHORT, MOST_FOR_FREE = 3, 2
MOST_KEPT = 4  # answers for one need
_EVERY_PRODUCT = 2  # covers that are worked out for a line that is free anyway


@dataclass(frozen=True, slots=True)
class Swap:
    """A line for which something else is sought."""

    serves: Sequence[tuple[Selection, int]]
    used: frozenset[str]  # items that lines of the role already take
    short: bool
    beside: frozenset[object] = frozenset()  # what its other lines are, where each is to be something else

    @property
    def selection(self) -> Selection:
        """The selection that the line came from."""
        return self.serves[0][0]

    @property
    def now(self) -> Choice:
        """What the line's first need was given."""
        selection, at = self.serves[0]
        choice = selection.chosen[at]
        assert choice is not None  # a line exists only where something was chosen
        return choice

    def named(self) -> Hashable:
        """Equal for swaps that have the same answers while stock is the same."""
        needs = [(selection.alternatives[at], selection.chosen[at]) for selection, at in self.serves]
        return (
            tuple((one, choice and (choice.key, choice.items)) for one, choice in needs),
            self.used,
            self.short,
            self.beside,
        )


def stand_ins(swap: Swap, stock: Stock) -> tuple[Substitute, ...]:
    """The best free alternatives of a line: up to three where it is not free, up to two where it is.

    Most lines stay as they were when a build changes: where nothing else in the kit has a say, the answer
    of last time counts while all that was looked at for it is as free as it was.
    """
    if not _stands_alone(swap):
        return _found(swap, stock)
    kept = _KEPT.setdefault(swap.selection.alternatives[swap.serves[0][1]], Latest(MOST_KEPT))
    name = swap.named()
    known = kept.get(name)
    if known is not None and stock.is_as(known.seen):
        return known.found
    watched = Watched(stock)
    found = _found(swap, watched)
    kept.keep(name, _Kept(found, watched.seen))
    return found


@dataclass(frozen=True, slots=True)
class _Kept:
    found: tuple[Substitute, ...]
    seen: Mapping[str, int]  # pieces that were free, by item


_KEPT: WeakKeyDictionary[Field, Latest[Hashable, _Kept]] = WeakKeyDictionary()


def _stands_alone(swap: Swap) -> bool:
    """Whether no other role of the kit changes how these jobs are done, or is changed by it."""
    selection = swap.selection
    roles = {*selection.partners, *selection.partners.values()}
    return selection.alternatives[swap.serves[0][1]].need.role not in roles and not any(
        at in selection.entries for _, at in swap.serves
    )


def _found(swap: Swap, stock: Stock) -> tuple[Substitute, ...]:
    now = list(_choices_now(swap))
    found = (_substitute(swap, pieces, choices, now, stock) for choices, pieces in _alternatives(swap, stock))
    return tuple(islice(found, MOST_FOR_SHORT if swap.short else MOST_FOR_FREE))


def _choices_now(swap: Swap) -> Iterator[Choice]:
    for selection, at in swap.serves:
        choice = selection.chosen[at]
        if choice is not None:
            yield choice


def _alternatives(swap: Swap, stock: Stock) -> Iterator[tuple[list[Choice], Counter[str]]]:
    goes: dict[Group, bool] = {}  # items alike in every figure go with the rest, or do not, together
    for choice in _free(swap, stock):
        if choice.group is swap.now.group and len(swap.now.group.offers) > 1 and swap.now.group.packs:
            continue  # the pack sizes of this product were all considered
        if choice.fit.stops > swap.now.fit.stops:
            continue  # what is free to be sold now would be stopped
        if not swap.used.isdisjoint(choice.items) or not goes.get(choice.group, True):
            continue
        if identity(choice) in swap.beside:
            continue  # the same species in another pot, which would be taken for the one that is there
        all_choices = _for_every_need(swap, choice)
        pieces = sum((Counter(one.pieces) for one in all_choices), Counter[str]())
        if not all_choices or not stock.times(pieces):
            continue
        if choice.group not in goes:
            goes[choice.group] = _goes_with_the_rest(swap, all_choices)
        if goes[choice.group]:
            yield all_choices, pieces


def _free(swap: Swap, stock: Stock) -> Iterator[Choice]:
    """All free choices where the line is short; where it is free, only those near the top."""
    selection, at = swap.serves[0]
    one = selection.alternatives[at]
    if swap.short:
        return one.free(stock)
    if one.products:
        return islice(one.free(stock), _EVERY_PRODUCT)
    return (choice for choice in islice(one.ranked(), FIRST_LOOK) if choice.is_free(stock))


def _for_every_need(swap: Swap, choice: Choice) -> list[Choice]:
    """The same item for every need that the line serves, or nothing."""
    if len(swap.serves) == 1:
        return [choice]
    item = next(iter(choice.pieces))
    others = [selection.alternatives[at].choice_of(item) for selection, at in swap.serves[1:]]
    return [choice, *(one for one in others if one)] if all(others) else []


def _goes_with_the_rest(swap: Swap, choices: Sequence[Choice]) -> bool:
    selection = swap.selection
    entries = dict(selection.entries)
    eased = True
    for (_, at), choice in zip(swap.serves, choices, strict=True):
        entry = entries.get(at)
        if entry is not None:
            coupling = coupling_for(selection.roles.get(entry.role), choice.group.figures, choice.fit)
            changed = replace(entry, choice=choice, coupling=coupling)
            eased = eased and coupled.asks_no_more(changed, entry)
            entries[at] = changed
    if eased:
        return True
    unmet = frozenset(selection.alternatives[at].need.role for at, entry in entries.items() if entry is None)
    return not selection.ties.broken([entry for entry in entries.values() if entry], unmet=unmet)


def _substitute(
    swap: Swap, pieces: Mapping[str, int], choices: Sequence[Choice], now: Sequence[Choice], stock: Stock
) -> Substitute:
    total = sum(choice.total_cents for choice in choices)
    dearer_by = total - sum(choice.total_cents for choice in now)
    pairs = _told_beside(swap.selection, {swap.serves[0][1]: choices[0]})
    fit = pairs[0][0]
    told = verdict(pairs, dearer_by)
    because = (told, *_free_words(pieces, stock), *fit.because)
    return Substitute(tuple(pieces.items()), total, stock.times(pieces), because, dict(fit.figures))


def _told_beside(selection: Selection, changed: Mapping[int, Choice]) -> list[tuple[Fit, Fit]]:
    """How each job is done then and now: those that change, and those that depend on one that does."""
    needs = [one.need for one in selection.alternatives]
    then = {**selection.filled, **{needs[at].role: choice.group.figures for at, choice in changed.items()}}
    moved = {needs[at].role for at in changed}
    dependent = {role for role, other in selection.partners.items() if other in moved and role not in moved}
    beside = {
        at: choice for at, choice in enumerate(selection.chosen) if needs[at].role in dependent and choice
    }
    pairs = []
    for at, choice in (*changed.items(), *beside.items()):
        before = selection.chosen[at]
        if before is not None:
            pairs.append(
                (
                    fit_in_kit(needs[at], choice, selection.roles, then),
                    fit_in_kit(needs[at], before, selection.roles, selection.filled),
                )
            )
    return pairs


def _free_words(pieces: Mapping[str, int], stock: Stock) -> tuple[str, ...]:
    return (", ".join(f"{stock.free(item)} free" for item in pieces),)


def together(selection: Selection, stuck: Iterable[int], stock: Stock) -> dict[int, Substitute]:
    """Several coupled items changed at once, for lines that no single item can stand in for.

    One more programme, limited to what is free, serves all of them.
    """
    wanted = [at for at in stuck if selection.entries.get(at)]
    if not wanted:
        return {}
    now = {at: entry for at, entry in selection.entries.items() if entry}
    held: Counter[str] = sum((Counter(entry.choice.pieces) for entry in now.values()), Counter[str]())
    stock.give_back(held)
    refused = {item for at in wanted for item in now[at].choice.pieces}
    found = _free_answer(selection, refused, stock)
    combined = {}
    for at in wanted:
        circle = selection.ties.circle(now[at].role, now.values())
        changed = _changed(found, now, circle)
        if any(_stops(entry) > _stops(now.get(other)) for other, entry in changed.items()):
            continue
        if all(found.get(other) for other, entry in now.items() if entry.role in circle):
            combined[at] = _combined(selection, changed, now, stock)
    stock.take(held)
    return combined


def _changed(
    found: Mapping[int, Entry | None], now: Mapping[int, Entry], circle: frozenset[str]
) -> dict[int, Entry]:
    return {
        at: entry
        for at, entry in found.items()
        if entry and entry.role in circle and _items(entry) != _items(now.get(at))
    }


def _stops(entry: Entry | None) -> bool:
    return entry is not None and entry.choice.fit.stops


def _items(entry: Entry | None) -> tuple[tuple[str, int], ...]:
    return tuple(entry.choice.pieces.items()) if entry else ()


def _free_answer(selection: Selection, refused: set[str], stock: Stock) -> Mapping[int, Entry | None]:
    fields = {at: selection.alternatives[at] for at in selection.entries}
    stock.know(coupled.first_look(fields.values()))
    entries = {
        at: coupled.free_entries(
            at, one, selection.roles, stock,
            alike=sum(other.need.role == one.need.role for other in fields.values()), without=refused,
        )
        for at, one in fields.items()
    }  # fmt: skip
    return coupled.choose_together(fields, entries, selection.ties, stock=stock).entries


def _combined(
    selection: Selection, changed: Mapping[int, Entry], now: Mapping[int, Entry], stock: Stock
) -> Substitute:
    pieces: Counter[str] = sum((Counter(entry.choice.pieces) for entry in changed.values()), Counter[str]())
    total = sum(entry.choice.total_cents for entry in changed.values())
    before = sum(now[at].choice.total_cents for at in changed if at in now)
    names = " and ".join(entry.name for entry in changed.values())
    swapped = f"{names} go together" if len(changed) > 1 else names
    pairs = _told_beside(selection, {at: entry.choice for at, entry in changed.items()})
    because = (verdict(pairs, total - before), *_free_words(pieces, stock), swapped)
    figures = {name: figure for fit, _ in pairs for name, figure in fit.figures.items()}
    return Substitute(tuple(pieces.items()), total, stock.times(pieces), because, figures)
