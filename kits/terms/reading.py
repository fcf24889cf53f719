"""Reading an item's figures, which come from a catalogue or a customer and may be missing or odd."""

import math

from kits.terms.needs import Figures, Fit, Need


def number(figures: Figures, key: str) -> float | None:
    """A figure as a finite number, None where it is missing or something else."""
    value = figures.get(key)
    if value is None or isinstance(value, bool) or not isinstance(value, int | float):
        return None
    return float(value) if math.isfinite(value) else None


def positive(figures: Figures, key: str) -> float | None:
    """A figure as a number above zero, None otherwise."""
    value = number(figures, key)
    return value if value is not None and value > 0 else None


def text(figures: Figures, key: str) -> str:
    """A figure as text, empty where it is missing."""
    value = figures.get(key)
    return "" if value is None else str(value)


def words(figures: Figures, key: str) -> tuple[str, ...]:
    """A figure that is a list of words."""
    value = figures.get(key)
    if isinstance(value, str):
        return tuple(word.strip() for word in value.split(";") if word.strip())
    return tuple(str(word) for word in value) if isinstance(value, list | tuple) else ()


def missing(key: str) -> Fit:
    """The refusal of an item that does not say what is needed to measure it."""
    return Fit(refusal=f"Its {key} is not recorded.")


def wanted_number(need: Need, key: str) -> float:
    """A number that the role itself put into the need."""
    value = number(need.wanted, key)
    assert value is not None, f"{need.role} needs {key}"
    return value
