"""Reads a published table that is packed with the code: a row a figure, as everywhere in `kits/data/`."""

import csv
import functools
import io
from collections.abc import Mapping
from importlib import resources
from types import MappingProxyType


@functools.cache
def published_column(table: str, field: str) -> Mapping[str, float]:
    """One field of a table in `kits/data/`, code -> value; read once."""
    text = resources.files("kits.data").joinpath(f"{table}.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(io.StringIO(text, newline=""))
    return MappingProxyType({row["code"]: float(row["value"]) for row in rows if row["field"] == field})
