"""The arguments of a calculation's own Example, so that everyone can begin to try it with them."""

import doctest
import inspect
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any, NoReturn

from inventory.calc.workings import Calculation

_PARSER = doctest.DocTestParser()


class _Called(Exception):
    """The Example has come to its first call."""


def example(calculation: Calculation) -> dict[str, Any]:
    """Plain JSON values for the first call of the Example, which tests run too; empty where it has none."""
    function = calculation.function

    def stand_in(*args: Any, **kwargs: Any) -> NoReturn:
        raise _Called(inspect.signature(function).bind(*args, **kwargs).arguments)

    names = {**vars(inspect.getmodule(function)), function.__name__: stand_in}
    try:
        for one in _PARSER.get_examples(calculation.described.sections.get("Example", "")):
            exec(one.source, names)  # noqa: S102  Our own docstring, as doctest runs it.
    except _Called as called:
        return {name: _plain(value) for name, value in called.args[0].items()}
    return {}


def _plain(value: Any) -> Any:
    """What JSON can write: dates as text, decimals as numbers."""
    match value:
        case date():
            return value.isoformat()
        case Decimal():
            return float(value)
        case Mapping():
            return {key: _plain(part) for key, part in value.items()}
        case list() | tuple():
            return [_plain(part) for part in value]
    return value
