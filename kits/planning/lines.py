"""Picks become lines: equal items together, each with what is free of it and what could stand in."""

from collections.abc import Iterable, Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, field

from kits.planning.selection import Selection, identity
from kits.planning.shelf import Shelf
from kits.planning.stock import ReadFree, Stock
from kits.planning.substitutes import Swap, stand_ins, together
from kits.terms.needs import Fit, Pick, Ware
from kits.terms.plan import FREE, NONE, SHORT, PlanLine, Substitute, Unmet

EXTRA = "extra"  # the role of items that the spec adds by hand


@dataclass(slots=True)
class _Draft:
    """A line in the making, with the picks that it serves."""

    role: str
    ware: Ware
    quantity: int
    because: tuple[str, ...] = ()
    fit: Fit = field(default_factory=Fit)
    serves: list[tuple[Selection, int]] = field(default_factory=list)
    free: int = 0

    @property
    def missing(self) -> int:
        """Pieces that are not free."""
        return self.quantity - min(self.free, self.quantity)


def plan_lines(
    selections: Sequence[Selection],
    *,
    shelf: Shelf,
    read_free: ReadFree,
    extra: Sequence[tuple[str, int]] = (),
    left_out: AbstractSet[tuple[str, str]] = frozenset(),
) -> tuple[PlanLine, ...]:
    """The lines of all selections of one plan in the order of their roles, then the extra items.

    An item on several lines is given to them in line order, so that no piece is counted twice. What is
    `left_out`, as role and item, gets no line and stands in for none.
    """
    drafts = _drafts(selections, left_out) + [
        _Draft(EXTRA, shelf.ware(item), number) for item, number in extra
    ]
    stock = Stock(read_free)
    stock.know(_likely(drafts))
    for draft in drafts:
        draft.free = stock.free(draft.ware.item)
        stock.take({draft.ware.item: draft.quantity})
    stock.know(_near((draft for draft in drafts if draft.missing), further=True))
    found = _substitutes(drafts, selections, stock, left_out)
    return tuple(_line(draft, found.get(number, ())) for number, draft in enumerate(drafts))


def unmet_roles(selections: Iterable[Selection]) -> tuple[Unmet, ...]:
    """The needs that nothing known here can serve, each with its nearest miss."""
    picks = (pick for selection in selections for pick in selection.picks if not pick.offers)
    return tuple(dict.fromkeys(Unmet(pick.need.role, pick.refusal) for pick in picks))


def _drafts(selections: Sequence[Selection], left_out: AbstractSet[tuple[str, str]]) -> list[_Draft]:
    drafts: dict[tuple[str, str], _Draft] = {}
    for selection in selections:
        for at, pick in enumerate(selection.picks):
            for offer, quantity in pick.offers:
                key = pick.need.role, offer.ware.item
                if key in left_out:
                    continue
                draft = drafts.setdefault(key, _Draft(pick.need.role, offer.ware, 0))
                _serve(draft, pick, quantity)
                draft.serves.append((selection, at))
    order = {role: place for selection in selections for place, role in enumerate(selection.roles)}
    return sorted(drafts.values(), key=lambda draft: order[draft.role])


def _serve(draft: _Draft, pick: Pick, quantity: int) -> None:
    draft.quantity += quantity
    draft.because = tuple(dict.fromkeys((*draft.because, *pick.need.because, *pick.fit.because)))
    draft.fit = pick.fit


def _likely(drafts: Sequence[_Draft]) -> list[str]:
    """Everything that is probably asked for, so that one batch answers most plans."""
    return [draft.ware.item for draft in drafts] + _near(drafts)


def _near(drafts: Iterable[_Draft], *, further: bool = False) -> list[str]:
    """What could stand in for these lines, as far as one looks for it at once."""
    fields = [selection.alternatives[at] for draft in drafts for selection, at in draft.serves[:1]]
    return [item for one in fields for item in one.near(further=further)]


def _substitutes(
    drafts: Sequence[_Draft], selections: Sequence[Selection], stock: Stock,
    left_out: AbstractSet[tuple[str, str]],
) -> dict[int, tuple[Substitute, ...]]:  # fmt: skip
    used: dict[str, set[str]] = {}
    for role, item in (*((draft.role, draft.ware.item) for draft in drafts), *left_out):
        used.setdefault(role, set()).add(item)
    found: dict[int, tuple[Substitute, ...]] = {}
    for number, draft in enumerate(drafts):
        if draft.serves and (draft.missing or not _is_later_pack(drafts, number)):
            beside = frozenset(
                kind for other in drafts if other is not draft for kind in _kinds(other, draft.role)
            )
            swap = Swap(draft.serves, frozenset(used[draft.role]), draft.missing > 0, beside)
            found[number] = stand_ins(swap, stock)
    for selection in selections:
        stuck = {
            draft.serves[0][1]: number
            for number, draft in enumerate(drafts)
            if draft.missing and draft.serves and draft.serves[0][0] is selection and not found.get(number)
        }
        for at, substitute in together(selection, stuck.keys(), stock).items():
            found[stuck[at]] = (substitute,)
    return found


def _kinds(draft: _Draft, role: str) -> Iterator[object]:
    """What a line of this role is, such as its species, where no other line is to be the same."""
    for selection, at in draft.serves if draft.role == role else ():
        choice = selection.chosen[at]
        if choice is not None and selection.alternatives[at].need.distinct:
            yield identity(choice)


def _is_later_pack(drafts: Sequence[_Draft], number: int) -> bool:
    """Whether an earlier line belongs to the same pick, and so already shows what could stand in for both."""
    serves = drafts[number].serves[0]
    return any(serves in earlier.serves for earlier in drafts[:number])


def _line(draft: _Draft, substitutes: tuple[Substitute, ...]) -> PlanLine:
    ware = draft.ware
    return PlanLine(
        role=draft.role,
        item=ware.item,
        name=ware.name,
        quantity=draft.quantity,
        unit=ware.unit,
        each_cents=ware.price_cents,
        total_cents=draft.quantity * ware.price_cents,
        status=_status(draft),
        free=draft.free,
        missing=draft.missing,
        because=draft.because,
        substitutes=substitutes,
        figures=dict(draft.fit.figures),
        tax_rate_pct=ware.tax_rate_pct,
    )


def _status(draft: _Draft) -> str:
    if not draft.missing:
        return FREE
    return SHORT if draft.free else NONE
