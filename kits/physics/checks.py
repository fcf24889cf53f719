"""What no argument of a calculation may be; each refusal names the argument."""

import math

from inventory.calc.errors import Impossible

ZERO_K = 273.15


def finite(**values: float) -> None:
    """Refuse what is no finite number."""
    for name, value in values.items():
        if isinstance(value, bool) or not math.isfinite(value):
            raise Impossible(name, "must be a finite number")


def above_zero(**values: float) -> None:
    """Refuse zero, negative numbers and what is no finite number."""
    finite(**values)
    for name, value in values.items():
        if value <= 0:
            raise Impossible(name, "must be above zero")


def not_negative(**values: float) -> None:
    """Refuse negative numbers and what is no finite number."""
    finite(**values)
    for name, value in values.items():
        if value < 0:
            raise Impossible(name, "must not be negative")


def share(**values: float) -> None:
    """Refuse what does not lie from 0 to 1."""
    finite(**values)
    for name, value in values.items():
        if not 0 <= value <= 1:
            raise Impossible(name, "must lie from 0 to 1")


def percent(**values: float) -> None:
    """Refuse what does not lie from 0 to 100."""
    finite(**values)
    for name, value in values.items():
        if not 0 <= value <= 100:
            raise Impossible(name, "must lie from 0 to 100")


def celsius(**values: float) -> None:
    """Refuse temperatures at or below absolute zero."""
    finite(**values)
    for name, value in values.items():
        if value <= -ZERO_K:
            raise Impossible(name, "must lie above absolute zero")
