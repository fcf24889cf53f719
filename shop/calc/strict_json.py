"""JSON read so that nothing later can trip over it: finite numbers, no twins, no bottomless nesting."""

import json
import math
from collections.abc import Iterator, Sequence
from typing import Any, NoReturn

DEEPEST = 32  # a build spec is four levels deep
LONGEST_NUMBER = 25  # characters; no quantity, price or physical figure needs more


class BadJson(ValueError):
    """The text is not JSON that can be used; the message is one plain sentence."""


def loads(raw: bytes | str) -> Any:
    """The value of strict JSON text.

    Refuses NaN, Infinity and numbers that overflow, a key given twice, nesting deeper than DEEPEST
    and characters that no database column can hold, each with a sentence of its own.

    >>> loads('{"a": [1, 2.5]}')
    {'a': [1, 2.5]}
    """
    try:
        value = json.loads(
            raw,
            parse_constant=_no_constant,
            parse_float=_finite,
            parse_int=_sane_integer,
            object_pairs_hook=_no_twins,
        )
    except RecursionError:
        raise BadJson(_TOO_DEEP) from None
    except BadJson:
        raise
    except UnicodeDecodeError:
        raise BadJson("The text is not UTF-8.") from None
    except json.JSONDecodeError as error:
        raise BadJson(f"Line {error.lineno}, column {error.colno}: {error.msg}.") from None
    _inspect(value)
    return value


_TOO_DEEP = f"The JSON is nested more than {DEEPEST} levels deep."


def _no_constant(word: str) -> NoReturn:
    raise BadJson(f"{word} is not a JSON number.")


def _finite(digits: str) -> float:
    if len(digits) > LONGEST_NUMBER or not math.isfinite(value := float(digits)):
        raise BadJson(f"The number {digits[:LONGEST_NUMBER]} is too long or too large.")
    return value


def _sane_integer(digits: str) -> int:
    if len(digits) > LONGEST_NUMBER:
        raise BadJson(f"The number {digits[:LONGEST_NUMBER]}… is too long.")
    return int(digits)


def _no_twins(pairs: Sequence[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise BadJson(f"The key {key[:60]!r} is given twice.")
        found[key] = value
    return found


def _inspect(value: Any) -> None:
    level, depth = [value], 0
    while level:
        for text in (entry for entry in level if isinstance(entry, str)):
            _refuse_unstorable(text)
        containers = [entry for entry in level if isinstance(entry, dict | list)]
        depth += bool(containers)
        if depth > DEEPEST:
            raise BadJson(_TOO_DEEP)
        level = [inner for container in containers for inner in _inside(container)]


def _inside(container: dict[str, Any] | list[Any]) -> Iterator[Any]:
    if isinstance(container, dict):
        yield from container.keys()
        yield from container.values()
    else:
        yield from container


def _refuse_unstorable(text: str) -> None:
    if any(letter == "\x00" or "\ud800" <= letter <= "\udfff" for letter in text):
        raise BadJson(
            "A text holds a character that is not valid Unicode text (NUL or half a surrogate pair)."
        )
