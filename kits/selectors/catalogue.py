"""When the catalogue last changed, and values kept in memory for as long as it has not."""

import gc
from collections.abc import Callable
from typing import Generic, NamedTuple, TypeVar

from django.db import connection

Kept = TypeVar("Kept")


class CatalogueKey(NamedTuple):
    """Names one state of the catalogue.

    The row's writing transaction stands beside the number because a number is given again after a rollback.
    """

    database: str
    version: int
    written_by: str


class KeptByCatalogue(Generic[Kept]):
    """A value made from the catalogue, made again when the catalogue has changed."""

    def __init__(self, make: Callable[[int], Kept]) -> None:
        self._make = make
        self._kept: tuple[CatalogueKey, Kept] | None = None

    def value(self, at: CatalogueKey | None = None) -> Kept:
        """The value for today's catalogue, whose key one query reads where it is not given."""
        key = at or catalogue_key()
        kept = self._kept
        if kept is not None and kept[0] == key:
            return kept[1]
        made = self._make(key.version)
        if not gc.isenabled():
            gc.collect(1)  # Whoever asks for a new catalogue waits anyway; the next search finds it sorted.
        self._kept = (key, made)  # One assignment: a thread sees the old pair or the new one.
        return made


def catalogue_key() -> CatalogueKey:
    """The state that the catalogue is in; one query."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT current_database(), version, xmin::text FROM inventory_catalogueversion")
        return CatalogueKey(*cursor.fetchone())
