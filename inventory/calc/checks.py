"""Checks of the arguments of pure calculations: finite numbers, and the range that the world allows."""

import math

from inventory.calc.errors import Impossible

INFINITE = math.inf


def finite(**values: float) -> None:
    """Refuse what is no finite number, truth values included, by the argument's name."""
    for name, value in values.items():
        if type(value) is float and -INFINITE < value < INFINITE:
            continue  # most are, and this is asked very often
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise Impossible(name, "must be a finite number")


def positive(**values: float) -> None:
    """Refuse what is not a finite number above zero."""
    for value in values.values():
        if not (type(value) is float and 0 < value < INFINITE):
            break
    else:
        return
    finite(**values)
    for name, value in values.items():
        if value <= 0:
            raise Impossible(name, "must be above zero")


def not_negative(**values: float) -> None:
    """Refuse what is not a finite number of zero or more."""
    for value in values.values():
        if not (type(value) is float and 0 <= value < INFINITE):
            break
    else:
        return
    finite(**values)
    for name, value in values.items():
        if value < 0:
            raise Impossible(name, "must not be negative")


def within(low: float, high: float, **values: float) -> None:
    """Refuse what is not a finite number from low to high, ends included."""
    finite(**values)
    for name, value in values.items():
        if not low <= value <= high:
            raise Impossible(name, f"must lie from {low:g} to {high:g}")
