"""The arguments of a calculation's own Example, so that everyone can begin to try it with them."""

import ast
import doctest
import inspect
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from typing import Any

from inventory.calc.workings import Calculation

_PARSER = doctest.DocTestParser()


def example(calculation: Calculation) -> dict[str, Any]:
    """Plain JSON values for the first call of the Example, which tests run too; empty where it has none."""
    names = dict(vars(inspect.getmodule(calculation.function) or object()))
    for one in _PARSER.get_examples(calculation.described.sections.get("Example", "")):
        call = _call_of(calculation.function.__name__, ast.parse(one.source))
        if call is not None:
            return {name: _plain(_value(node, names)) for name, node in _given(calculation, call, names)}
        exec(one.source, names)  # noqa: S102  Our own docstring, as doctest runs it.
    return {}


def _call_of(function: str, tree: ast.AST) -> ast.Call | None:
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == function:
            return node
    return None


def _given(calculation: Calculation, call: ast.Call, names: dict[str, Any]) -> Iterator[tuple[str, ast.expr]]:
    known = [parameter.name for parameter in calculation.parameters]
    positional: list[ast.expr] = []
    for argument in call.args:
        if isinstance(argument, ast.Starred):
            positional += [ast.Constant(part) for part in _value(argument.value, names)]
        else:
            positional.append(argument)
    yield from zip(known, positional, strict=False)
    for word in call.keywords:
        if word.arg is not None:
            yield word.arg, word.value
            continue
        for name, value in _value(word.value, names).items():
            yield name, ast.Constant(value)


def _value(node: ast.expr, names: dict[str, Any]) -> Any:
    if isinstance(node, ast.Constant):
        return node.value
    code = compile(ast.Expression(node), "<example>", "eval")
    return eval(code, names)  # noqa: S307  Our own docstring, as doctest runs it.


def _plain(value: Any) -> Any:
    """What JSON can write: dates as text, decimals as numbers."""
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, Decimal):
        return float(value)
    if isinstance(value, dict):
        return {key: _plain(part) for key, part in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(part) for part in value]
    return value
