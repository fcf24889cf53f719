"""What an item can do as cells of a table: one column `role.figure` a figure, `[]` after it for a list."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple

from kits.terms.profiles import PROFILE_FIGURES, Key

SEPARATOR = ";"
LONGEST_NUMBER = 24  # characters; no figure of an item needs more


class Column(NamedTuple):
    """Whose figure a column holds."""

    role: str
    figure: str
    key: Key


def _columns() -> Iterator[tuple[str, Column]]:
    for role, keys in PROFILE_FIGURES.items():
        for figure, key in keys.items():
            yield f"{role}.{figure}{'[]' if key.kind.many else ''}", Column(role, figure, key)


COLUMNS: Mapping[str, Column] = MappingProxyType(dict(_columns()))


def figures(role: str, cells: Mapping[str, str]) -> dict[str, object]:
    """The figures of one role that cells tell; an empty cell tells none.

    >>> figures("moss", {"moss.litres": "1.1", "moss.styles[]": "desert; dry-scrub", "moss.settle": ""})
    {'litres': 1.1, 'styles': ['desert', 'dry-scrub']}
    >>> figures("enclosure", {"enclosure.size": "123"})
    {'size': '123'}
    """
    told = {}
    for name, text in cells.items():
        column = COLUMNS[name]
        if column.role == role and text:
            told[column.figure] = _value(text, column.key)
    return told


def cells(role: str, values: Mapping[str, object]) -> dict[str, object]:
    """The cells that `figures` reads the same values from; a figure that is null has none.

    >>> cells("moss", {"litres": 1.1, "styles": ["desert", "dry-scrub"], "settle": None})
    {'moss.litres': 1.1, 'moss.styles[]': 'desert;dry-scrub'}
    """
    return {
        name: _cell(value)
        for name, column in COLUMNS.items()
        if column.role == role and (value := values.get(column.figure)) is not None
    }


def _value(text: str, key: Key) -> object:
    if key.kind.many:
        return [_readings(word.strip())[0] for word in text.split(SEPARATOR) if word.strip()]
    readings = _readings(text)
    return next((value for value in readings if key.kind.accepts(value)), readings[0])


def _readings(text: str) -> list[object]:
    """What a cell may mean, the likeliest first: a yes or no, a number, or the text itself."""
    if text in {"yes", "no"}:
        return [text == "yes", text]
    found: list[object] = []
    if len(text) > LONGEST_NUMBER:
        return [text]
    for read in (int, float):
        try:
            found.append(read(text))
        except ValueError:
            continue
    return [*found, text]


def _cell(value: object) -> object:
    return SEPARATOR.join(map(str, value)) if isinstance(value, list | tuple) else value
