"""Columns beside those of an item that a caller reads and writes: the seam of import and export."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from inventory.actors import Actor
from inventory.errors import FieldError
from inventory.services.drafting import Change

Columns = tuple[Sequence[str], Mapping[str, Mapping[str, Any]]]


@dataclass(frozen=True, slots=True)
class ExtraRow:
    """The cells of one row in the columns of a caller."""

    number: int
    code: str
    cells: Mapping[str, str]


class ExtraDraft(Protocol):
    """What the extra cells of a file would do; nothing is written yet."""

    @property
    def faults(self) -> Sequence[FieldError]:
        """What is wrong, each told with its row and column."""

    @property
    def changes(self) -> Sequence[Change]:
        """Every cell that would read otherwise."""

    def write(self, *, actor: Actor) -> None:
        """All of it is in the database; the items are there by now."""


class ExtraColumns(Protocol):
    """How the columns of a caller are read and written. An empty cell says nothing of its item."""

    def knows(self, column: str) -> bool:
        """Whether this is a column of the caller's."""

    def draft(self, rows: Sequence[ExtraRow]) -> ExtraDraft:
        """What these cells would do."""

    def table(self) -> Columns:
        """The columns in use, and the cells of every item that has any, by its code."""


@dataclass(frozen=True, slots=True)
class NothingToDo:
    """The draft of a file without extra columns."""

    faults: Sequence[FieldError] = ()
    changes: Sequence[Change] = ()

    def write(self, *, actor: Actor) -> None:
        """There is nothing to write."""


@dataclass(frozen=True, slots=True)
class NoExtraColumns:
    """A caller that knows the columns of an item and no others."""

    def knows(self, column: str) -> bool:
        """No column is the caller's."""
        return False

    def draft(self, rows: Sequence[ExtraRow]) -> ExtraDraft:
        """No cell, nothing to do."""
        return NothingToDo()

    def table(self) -> Columns:
        """No columns and no cells."""
        return (), {}


NO_EXTRA = NoExtraColumns()
