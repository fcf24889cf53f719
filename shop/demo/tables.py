"""Reading the demo shop's tables: one CSV file a group, one row a thing, readable in a spreadsheet."""

import csv
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"

Row = Mapping[str, str]


def rows(name: str) -> list[dict[str, str]]:
    """All rows of one table, in the order of the file."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def item_rows() -> Iterator[dict[str, str]]:
    """The rows of every `items_*` table, tables in alphabetical order."""
    for path in sorted(DATA.glob("items_*.csv")):
        yield from rows(path.stem)


def specs() -> dict[str, dict[str, Any]]:
    """The build specs that standard kits and quotes of the demo shop refer to, by name."""
    found: dict[str, dict[str, Any]] = json.loads((DATA / "specs.json").read_text(encoding="utf-8"))
    return found


def words(text: str) -> list[str]:
    """The semicolon-separated words of a cell."""
    return [word for word in text.split(";") if word]


def value(text: str) -> object:
    """A cell as a number, a yes or no, or text."""
    if text in {"yes", "no"}:
        return text == "yes"
    for read in (int, float):
        try:
            return read(text)
        except ValueError:
            continue
    return text


def profiles(row: Row) -> dict[str, dict[str, object]]:
    """Role -> figures, from columns `role.figure`; `[]` after the name marks a list, an empty cell is absent.

    >>> profiles({"code": "X", "moss.litres": "1.1", "moss.styles[]": "desert;dry-scrub", "hide.humid": ""})
    {'moss': {'litres': 1.1, 'styles': ['desert', 'dry-scrub']}}
    """
    found: dict[str, dict[str, object]] = {}
    for column, text in row.items():
        role, dot, figure = column.partition(".")
        if dot and text:
            is_list = figure.endswith("[]")
            figures = found.setdefault(role, {})
            figures[figure.removesuffix("[]")] = (
                [value(word) for word in words(text)] if is_list else value(text)
            )
    return found
