"""A figure of a plan with its working, told by the published calculation that gives it."""

from collections.abc import Callable, Mapping
from typing import Any

from inventory.calc import workings
from kits.terms.plan import Working

DECIMALS = {"footprint_m2": 6}


def worked(
    figure: str,
    function: Callable[..., Any],
    inputs: Mapping[str, Any],
    note: str = "",
    *,
    percent: bool = False,
) -> Working:
    """A figure that one of the published calculations gives; `percent` shows a share as percent."""
    done = workings.work(workings.of(function), inputs)
    return Working(
        figure=figure,
        formula=done.calculation.formula,
        inputs={key: tidy(value, 6) for key, value in done.inputs.items()},
        value=tidy(100 * done.value if percent else done.value, DECIMALS.get(figure, 4)),
        unit="%" if percent else done.calculation.unit,
        source=done.calculation.source,
        valid=done.valid,
        note=" ".join((*done.notes, note)).strip(),
        calculation=done.calculation.name,
    )


def tidy(value: Any, decimals: int = 4) -> Any:
    """A number rounded for reading; everything else as it is."""
    return round(value, decimals) if isinstance(value, float) else value
