"""What items can do, as columns beside those of the items: inventory's import and export call this module."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from inventory.actors import Actor
from inventory.errors import FieldError
from inventory.services.drafting import Change
from inventory.services.extra_columns import Columns, ExtraRow
from kits.models import Profile
from kits.services import profiles
from kits.services.profiles import ItemRole
from kits.terms import profile_cells
from kits.terms.profile_cells import COLUMNS

Figures = Mapping[str, object]
Cells = Mapping[str, str]


@dataclass(slots=True)
class ProfileDraft:
    """The roles that a file gives to items or takes from them, each with the row that says so."""

    said: list[ItemRole] = field(default_factory=list)
    rows: list[int] = field(default_factory=list)
    ended: list[tuple[str, str]] = field(default_factory=list)
    changes: list[Change] = field(default_factory=list)
    faults: list[FieldError] = field(default_factory=list)

    def write(self, *, actor: Actor) -> None:
        """All of it is written through the one door to profiles."""
        if self.said:
            profiles.set_all(self.said, actor=actor)
        for item, role in self.ended:
            profiles.remove(item, role=role, actor=actor)


def knows(column: str) -> bool:
    """Whether this column holds a figure of a role."""
    return column in COLUMNS


def draft(rows: Sequence[ExtraRow]) -> ProfileDraft:
    """What the cells would do. A figure without a column stays; a role whose figures are all empty ends."""
    now = _figures_now([row.code for row in rows])
    found = ProfileDraft()
    for row in rows:
        for role, cells in _by_role(row.cells):
            _draft_one(found, row, role, cells, now.get((row.code, role), {}))
    found.faults = [_at_row(fault, found) for fault in profiles.faults(found.said)]
    return found


def table() -> Columns:
    """The columns of figures that items have, in the order of the roles, and the cells by item."""
    by_code: dict[str, dict[str, object]] = {}
    used: set[str] = set()
    for code, role, figures in Profile.objects.values_list("item__code", "role", "figures"):
        cells = profile_cells.cells(role, figures)
        by_code.setdefault(code, {}).update(cells)
        used |= cells.keys()
    return [name for name in COLUMNS if name in used], by_code


def _figures_now(codes: Sequence[str]) -> dict[tuple[str, str], Figures]:
    rows = Profile.objects.filter(item__code__in=codes).values_list("item__code", "role", "figures")
    return {(code, role): figures for code, role, figures in rows}


def _by_role(cells: Cells) -> Iterator[tuple[str, Cells]]:
    for role in dict.fromkeys(COLUMNS[name].role for name in cells):
        yield role, {name: text for name, text in cells.items() if COLUMNS[name].role == role}


def _draft_one(found: ProfileDraft, row: ExtraRow, role: str, cells: Cells, now: Figures) -> None:
    columns = {COLUMNS[name].figure for name in cells}
    kept = {name: value for name, value in now.items() if name not in columns}
    wanted = {**kept, **profile_cells.figures(role, cells)}
    if wanted == {name: value for name, value in now.items() if value is not None or name in kept}:
        return
    old, new = profile_cells.cells(role, now), profile_cells.cells(role, wanted)
    found.changes += [
        Change(row.code, name, old.get(name), new.get(name))
        for name in cells
        if old.get(name) != new.get(name)
    ]
    if new:
        found.said.append(ItemRole(row.code, role, wanted))
        found.rows.append(row.number)
    else:
        found.ended.append((row.code, role))


def _at_row(fault: FieldError, found: ProfileDraft) -> FieldError:
    index, _, figure = fault.pointer.removeprefix("/").partition("/")
    role, number = found.said[int(index)].role, found.rows[int(index)]
    column = f"{role}.{figure.removeprefix('figures/')}"
    return FieldError(f"/rows/{number}/{column}", f"Row {number}, {column}: {fault.detail}")
