"""A figure of a plan with its working, told by the published calculation that gives it."""

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import Any

from inventory.calc import workings
from kits.terms.plan import Working

ESTIMATE = "estimate: measure it in the finished enclosure"
SMALL = 0.01
DECIMALS = {"footprint_m2": 6}
Step = tuple[Callable[..., Any], Mapping[str, Any]]  # a published calculation and its inputs


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
