"""How a figure was worked out, told by the calculations themselves.

The rule. A calculation is a function listed in `__all__` of a module that stands directly in one of the rooms
of calculations, and defined in that module. Nothing else registers it: `__all__` lists the calculations that
anyone may reach by name, so helpers that take dataclasses stay out of it. Every calculation has annotations
of the kinds named in `arguments.py` and a docstring with the sections Formula, Args, Returns, Raises, Valid,
Source and Example.

    Args:     one line per argument, unit in square brackets: `height_cm: height of the column [cm], > 0.`
    Returns:  the result, unit in square brackets: `water content [m3/m3].`
    Valid:    clauses parted by `;` or a line end. A clause that begins with a name and a range is checked by
              machine, ends included: `height_cm 0..100`, `n 1.01..`, `average ..3.5`. The name may be an
              argument (every number of a list is checked), a key of the objects in a list
              (`parts.grain_mm 0.1..60`), arithmetic on numeric arguments (`distance_m / length_m 0.1..5`)
              or a measure of a list or a date (`step(wavelength_nm, 250, 400) ..1`, see MEASURES).
              Other clauses are for the reader.
    Source:   who says so, or "common practice, no source", or "from memory".

An impossible argument raises Impossible in the calculation. A value outside a range of `Valid` is computed,
marked `valid: false`, and the note says which range it left: this is the one way to say it, in every room.
"""

import ast
import dataclasses
import functools
import importlib
import inspect
import itertools
import math
import operator
import pkgutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any, get_type_hints

from inventory.calc.arguments import as_asked, refuse
from inventory.calc.docstrings import Described, Range, describe, unit_in
from inventory.calc.errors import Impossible
from inventory.errors import BadInput, FieldError, Unknown

_OPERATORS = {ast.Add: operator.add, ast.Sub: operator.sub, ast.Mult: operator.mul, ast.Div: operator.truediv}
_REQUIRED = inspect.Parameter.empty


def _years(days: date | Sequence[date]) -> list[int]:
    return [day.year for day in ([days] if isinstance(days, date) else days)]


def _widest_step(rising: Sequence[float], low: float = -math.inf, high: float = math.inf) -> list[float]:
    """The widest gap between neighbours, of those that reach into the stretch from low to high."""
    steps = (b - a for a, b in itertools.pairwise(rising) if b > low and a < high)
    return [round(max(steps, default=0.0), 9)]  # 300.3 to 301.3 is a step of one


# What a range may speak of besides numbers: lists whose numbers rise, dates and lists of dates.
MEASURES: Mapping[str, Callable[..., Sequence[float]]] = {
    "first": lambda rising: rising[:1],
    "last": lambda rising: rising[-1:],
    "step": _widest_step,
    "year": _years,
}


@dataclasses.dataclass(frozen=True, slots=True)
class Parameter:
    """One argument of a calculation."""

    name: str
    about: str
    unit: str
    kind: Any
    default: Any = _REQUIRED

    @property
    def required(self) -> bool:
        """Whether it has no default."""
        return self.default is _REQUIRED


@dataclasses.dataclass(frozen=True, slots=True)
class Calculation:
    """A pure function with what its docstring says about it."""

    name: str
    function: Callable[..., Any]
    parameters: tuple[Parameter, ...]
    described: Described

    @property
    def unit(self) -> str:
        """Unit of the result."""
        return unit_in(self.described.text("Returns"))

    @property
    def source(self) -> str:
        """Who says so."""
        return self.described.text("Source")

    @property
    def formula(self) -> str:
        """The formula as text."""
        return self.described.text("Formula")

    def as_json(self) -> dict[str, Any]:
        """What the list of calculations shows of it."""
        return {
            "name": self.name,
            "summary": self.described.summary,
            "formula": self.formula,
            "arguments": [_parameter_json(parameter) for parameter in self.parameters],
            "unit": self.unit,
            "result": self.described.text("Returns"),
            "valid": self.described.text("Valid"),
            "source": self.source,
        }


@dataclasses.dataclass(frozen=True, slots=True)
class Worked:
    """A figure and how it came about."""

    calculation: Calculation
    inputs: Mapping[str, Any]
    value: Any
    notes: tuple[str, ...]

    @property
    def valid(self) -> bool:
        """Whether every input lies in the range of the source."""
        return not self.notes

    def as_json(self) -> dict[str, Any]:
        """The published shape; a note only when something lies outside the source's range."""
        shown = {
            "name": self.calculation.name,
            "value": self.value,
            "unit": self.calculation.unit,
            "source": self.calculation.source,
            "valid": self.valid,
        }
        return shown if self.valid else {**shown, "note": " ".join(self.notes)}


def catalogue(rooms: Sequence[str]) -> list[Calculation]:
    """Every calculation of the named packages, in the order of their names."""
    return sorted(_by_name(tuple(rooms)).values(), key=lambda calculation: calculation.name)


def compute(name: str, arguments: Mapping[str, Any], *, rooms: Sequence[str]) -> dict[str, Any]:
    """The result of a named calculation on plain JSON values.

    Raises Unknown for a name that is no calculation, and BadInput naming the argument that is unknown,
    missing, of the wrong kind or impossible.
    """
    return work(find(name, rooms=rooms), arguments).as_json()


def find(name: str, *, rooms: Sequence[str]) -> Calculation:
    """A calculation by its name; raises Unknown."""
    found = _by_name(tuple(rooms)).get(name)
    if found is None:
        raise Unknown("calculation", name)
    return found


def work(calculation: Calculation, arguments: Mapping[str, Any]) -> Worked:
    """Compute and tell how: inputs with defaults filled in, the value, and which ranges were left."""
    inputs = _inputs(calculation, arguments)
    try:
        value = calculation.function(**inputs)
        notes = _notes(calculation, inputs)
    except Impossible as impossible:
        pointer = "/" + impossible.argument.replace(".", "/")
        raise BadInput([FieldError(pointer, f"{str(impossible).rstrip('.')}.")]) from impossible
    except ArithmeticError as error:
        raise BadInput([FieldError("", f"These arguments give no finite {calculation.name}.")]) from error
    return Worked(calculation, inputs, _plain(value, calculation.name), notes)


@functools.cache
def of(function: Callable[..., Any]) -> Calculation:
    """The calculation that a function is, for those who hold the function itself."""
    described = describe(function)
    hints = get_type_hints(function)
    return Calculation(
        name=f"{function.__module__.rpartition('.')[2]}.{function.__name__}",
        function=function,
        parameters=tuple(
            Parameter(
                p.name,
                about := described.arguments.get(p.name, ""),
                unit_in(about),
                hints.get(p.name),
                p.default,
            )
            for p in inspect.signature(function).parameters.values()
        ),
        described=described,
    )


@functools.cache
def _by_name(rooms: tuple[str, ...]) -> dict[str, Calculation]:
    return {(found := of(function)).name: found for room in rooms for function in _functions(room)}


def _functions(room: str) -> Iterator[Callable[..., Any]]:
    package = importlib.import_module(room)
    for entry in pkgutil.iter_modules(package.__path__, prefix=f"{room}."):
        module = importlib.import_module(entry.name)
        for name in getattr(module, "__all__", ()):
            member = getattr(module, name)
            if inspect.isfunction(member) and member.__module__ == entry.name:
                yield member


def _inputs(calculation: Calculation, arguments: Mapping[str, Any]) -> dict[str, Any]:
    known = {parameter.name for parameter in calculation.parameters}
    strange = [name for name in arguments if name not in known]
    faults = [refuse(name, f"is not an argument of {calculation.name}.") for name in strange]
    inputs = {}
    for parameter in calculation.parameters:
        try:
            inputs[parameter.name] = _input(parameter, arguments)
        except BadInput as fault:
            faults.append(fault)
    if faults:
        raise BadInput([error for fault in faults for error in fault.errors])
    return inputs


def _input(parameter: Parameter, arguments: Mapping[str, Any]) -> Any:
    if parameter.name in arguments:
        return as_asked(arguments[parameter.name], parameter.kind, parameter.name)
    if parameter.required:
        raise refuse(parameter.name, "is missing.")
    return parameter.default


def _notes(calculation: Calculation, inputs: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(note for limits in calculation.described.ranges for note in _left(limits, inputs))


def _left(limits: Range, inputs: Mapping[str, Any]) -> list[str]:
    outside = [value for value in numbers_about(limits.about, inputs) if not limits.holds(value)]
    if not outside:
        return []
    return [f"{limits.about} {outside[0]:g} lies outside {limits}, the range of the source."]


def numbers_about(about: str, inputs: Mapping[str, Any]) -> list[float]:
    """The numbers that a range speaks of: an argument, all of a list, a key of its objects, a measure."""
    head, _, key = about.partition(".")
    if head in inputs and (not key or key.isidentifier()):
        values = inputs[head] if isinstance(inputs[head], list | tuple) else [inputs[head]]
        picked = [value[key] for value in values if key in value] if key else values
        return [float(value) for value in picked if isinstance(value, int | float)]
    match _tree(about):
        case ast.Call(func=ast.Name(id=measure), args=[ast.Name(id=name), *stretch]):
            return [float(n) for n in MEASURES[measure](inputs[name], *map(ast.literal_eval, stretch))]
        case node:
            return [_arithmetic(node, inputs)]


@functools.cache
def _tree(about: str) -> ast.expr:
    return ast.parse(about, mode="eval").body


def _arithmetic(node: ast.expr, inputs: Mapping[str, Any]) -> float:
    match node:
        case ast.Constant(value=int() | float() as number):
            return float(number)
        case ast.Name(id=name) if name in inputs:
            return float(inputs[name])
        case ast.BinOp(left=left, op=op, right=right):
            return float(_OPERATORS[type(op)](_arithmetic(left, inputs), _arithmetic(right, inputs)))
    raise LookupError(
        f"{ast.unparse(node)} in a Valid section is no argument and no arithmetic on arguments."
    )


def _plain(value: Any, name: str) -> Any:
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        value = dataclasses.asdict(value)
    if isinstance(value, Mapping):
        return {str(key): _plain(item, name) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item, name) for item in value]
    if isinstance(value, Decimal | date):
        return str(value)
    if isinstance(value, float) and not math.isfinite(value):
        raise BadInput([FieldError("", f"These arguments give no finite {name}.")])
    return value


def _parameter_json(parameter: Parameter) -> dict[str, Any]:
    shown = {
        "name": parameter.name,
        "about": parameter.about,
        "unit": parameter.unit,
        "required": parameter.required,
    }
    return shown if parameter.required else {**shown, "default": _plain(parameter.default, parameter.name)}
