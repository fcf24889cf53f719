"""A figure of a plan with its working, told by the published calculation that gives it."""

import marshal
from collections.abc import Callable, Hashable, Mapping, Sequence
from datetime import date
from typing import Any

from inventory.calc import workings
from kits.planning.latest import Latest
from kits.terms.plan import Working

ESTIMATE = "estimate: measure it in the finished enclosure"
SMALL = 0.01
DECIMALS = {"footprint_m2": 6}
Step = tuple[Callable[..., Any], Mapping[str, Any]]  # a published calculation and its inputs
# A changed build leaves most of its figures as they were.
_WORKED = Latest[Hashable, Working](1024)


def worked(
    figure: str,
    function: Callable[..., Any],
    inputs: Mapping[str, Any],
    note: str = "",
    *,
    percent: bool = False,
    before: Sequence[Step] = (),
) -> Working:
    """A figure that one of the published calculations gives; `percent` shows a share as percent.

    `before` are the calculations that its inputs come from: where one of them leaves the range of its source,
    so does the figure.
    """
    name = _named(figure, [(function, inputs), *before], note, percent)
    known = None if name is None else _WORKED.get(name)
    if known is None:
        known = _worked(figure, function, inputs, note, percent=percent, before=before)
        if name is not None:
            _WORKED.keep(name, known)
    return known


def _named(figure: str, steps: Sequence[Step], note: str, percent: bool) -> Hashable | None:
    """Equal for figures that are told alike, whole numbers apart from others; None for other inputs."""
    try:
        inputs = marshal.dumps([list(of_step.items()) for _, of_step in steps], 2)
    except ValueError:
        return None
    return figure, note, percent, tuple(function for function, _ in steps), inputs


def _worked(
    figure: str,
    function: Callable[..., Any],
    inputs: Mapping[str, Any],
    note: str,
    *,
    percent: bool,
    before: Sequence[Step],
) -> Working:
    done = workings.work(workings.of(function), inputs)
    earlier = [note for step in before for note in workings.work(workings.of(step[0]), step[1]).notes]
    notes = dict.fromkeys((*done.notes, *earlier))
    return Working(
        figure=figure,
        formula=done.calculation.formula,
        inputs={key: _given(value) for key, value in done.inputs.items()},
        value=tidy(100 * done.value if percent else done.value, DECIMALS.get(figure, 4)),
        unit="%" if percent else done.calculation.unit,
        source=done.calculation.source,
        valid=not notes,
        note=" ".join((*notes, note)).strip(),
        calculation=done.calculation.name,
    )


def _given(value: Any) -> Any:
    """An input as it is shown and linked: a flow in m3/s has most of its digits behind the sixth decimal."""
    if isinstance(value, date):
        return value.isoformat()
    small = isinstance(value, float) and abs(value) < SMALL
    return tidy(value, 10 if small else 6)


def tidy(value: Any, decimals: int = 4) -> Any:
    """A number rounded for reading; everything else as it is."""
    return round(value, decimals) if isinstance(value, float) else value
