"""Turns plain JSON values into what a calculation's annotations ask for, or says which argument is wrong.

Understood annotations: float, int, bool, str, datetime.date, Literal, TypedDict, Sequence/list/tuple of one
kind, Mapping/dict from text to one kind, unions of these, and Any.
"""

import math
import types
from collections.abc import Mapping
from datetime import date
from typing import Any, Literal, Union, get_args, get_origin, get_type_hints, is_typeddict

from inventory.errors import BadInput, FieldError

_WORDS = {
    float: "a number",
    int: "a whole number",
    bool: "true or false",
    str: "text",
    date: "a date like 2026-01-31",
}


def as_asked(value: Any, kind: Any, name: str) -> Any:
    """The value as the annotation wants it; BadInput naming the argument when it is of another kind."""
    if kind is Any or kind is object:
        return value
    if is_typeddict(kind):
        return _record(value, kind, name)
    if get_origin(kind) is not None:
        return _composed(value, kind, name)
    return _scalar(value, kind, name)


def refuse(name: str, complaint: str) -> BadInput:
    """One complaint about one argument: `packs[0].litres` is told as /packs/0/litres."""
    pointer = "/" + name.replace("[", "/").replace("]", "").replace(".", "/")
    return BadInput([FieldError(pointer, f"{name} {complaint}")])


def _composed(value: Any, kind: Any, name: str) -> Any:
    origin, parts = get_origin(kind), get_args(kind)
    if origin is Literal:
        return _one_of(value, parts, name)
    if origin in (Union, types.UnionType):
        return _either(value, parts, name)
    if issubclass(origin, Mapping):
        return _mapping(value, parts[1], name)
    return _sequence(value, origin, parts[0], name)


def _scalar(value: Any, kind: Any, name: str) -> Any:
    if value is None and kind in (None, types.NoneType):
        return None
    if kind is float and isinstance(value, int | float) and not isinstance(value, bool):
        return _finite(value, name)
    if kind is int and isinstance(value, float) and value.is_integer():
        return int(value)
    if kind is int and isinstance(value, bool):
        raise refuse(name, "must be a whole number.")
    if kind is date and isinstance(value, str):
        return _date(value, name)
    if kind in (int, bool, str) and isinstance(value, kind):
        return value
    raise refuse(name, f"must be {_word(kind)}.")


def _word(kind: Any) -> str:
    if kind in (None, types.NoneType):
        return "null"
    if is_typeddict(kind) or get_origin(kind) in (dict, Mapping):
        return "an object"
    return _WORDS.get(kind, "a list")


def _finite(value: float, name: str) -> float:
    try:
        number = float(value)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise refuse(name, "must be a finite number.")
    return number


def _date(value: str, name: str) -> date:
    try:
        return date.fromisoformat(value)
    except ValueError:
        raise refuse(name, "must be a date like 2026-01-31.") from None


def _one_of(value: Any, choices: tuple[Any, ...], name: str) -> Any:
    if value in choices and isinstance(value, str):
        return value
    raise refuse(name, f"must be one of {', '.join(map(str, choices))}.")


def _either(value: Any, kinds: tuple[Any, ...], name: str) -> Any:
    if len(kinds) == 2 and types.NoneType in kinds and value is not None:
        return as_asked(value, next(kind for kind in kinds if kind is not types.NoneType), name)
    for kind in kinds:
        try:
            return as_asked(value, kind, name)
        except BadInput:
            continue
    raise refuse(name, f"must be {' or '.join(_word(kind) for kind in kinds)}.")


def _sequence(value: Any, origin: Any, kind: Any, name: str) -> Any:
    if not isinstance(value, list | tuple):
        raise refuse(name, "must be a list.")
    items = [as_asked(item, kind, f"{name}[{index}]") for index, item in enumerate(value)]
    return tuple(items) if origin is tuple else items


def _mapping(value: Any, kind: Any, name: str) -> dict[str, Any]:
    if not isinstance(value, Mapping) or not all(isinstance(key, str) for key in value):
        raise refuse(name, "must be an object.")
    return {key: as_asked(item, kind, f"{name}.{key}") for key, item in value.items()}


def _record(value: Any, kind: Any, name: str) -> dict[str, Any]:
    if not isinstance(value, Mapping):
        raise refuse(name, "must be an object.")
    hints = get_type_hints(kind)
    for key in value:
        if key not in hints:
            raise refuse(f"{name}.{key}", "is not known here.")
    for key in sorted(kind.__required_keys__):
        if key not in value:
            raise refuse(f"{name}.{key}", "is missing.")
    return {key: as_asked(item, hints[key], f"{name}.{key}") for key, item in value.items()}
