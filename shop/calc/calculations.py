"""Every pure calculation of the house, by name: where the rooms of calculations are listed."""

from collections.abc import Mapping
from typing import Any

from inventory.calc import workings

ROOMS = ("inventory.calc", "kits.physics")


def listed() -> list[dict[str, Any]]:
    """All calculations with their arguments, units, valid ranges and sources."""
    return [calculation.as_json() for calculation in workings.catalogue(ROOMS)]


def compute(name: str, arguments: Mapping[str, Any]) -> dict[str, Any]:
    """One calculation on plain JSON values; raises Unknown or BadInput naming the argument."""
    return workings.compute(name, arguments, rooms=ROOMS)
