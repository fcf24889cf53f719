"""What temperatures and shares may be; a refusal names the argument."""

from inventory.calc import checks
from inventory.calc.errors import Impossible

ZERO_K = 273.15


def share(**values: float) -> None:
    """Refuse what is not a finite number from 0 to 1."""
    checks.within(0, 1, **values)


def percent(**values: float) -> None:
    """Refuse what is not a finite number from 0 to 100."""
    checks.within(0, 100, **values)


def celsius(**values: float) -> None:
    """Refuse temperatures at or below absolute zero."""
    checks.finite(**values)
    for name, value in values.items():
        if value <= -ZERO_K:
            raise Impossible(name, "must lie above absolute zero")
