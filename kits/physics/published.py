"""Reads a published table that is packed with the code: a row a figure, as everywhere in `kits/data/`."""

import csv
import functools
from collections.abc import Mapping
from importlib import resources
from types import MappingProxyType


@functools.cache
def published_column(table: str, field: str) -> Mapping[str, float]:
    """One field of a table in `kits/data/`, code -> value; read once."""
    path = resources.files("kits.data").joinpath(f"{table}.csv")
    with path.open(encoding="utf-8", newline="") as handle:
        rows = [row for row in csv.DictReader(handle) if row["field"] == field]
    return MappingProxyType({row["code"]: float(row["value"]) for row in rows})
