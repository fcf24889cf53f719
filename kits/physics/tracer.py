"""How a shop measures the air that a box exchanges: by how fast something added to it thins out."""

import math

from inventory.calc.checks import positive
from inventory.calc.errors import Impossible

__all__ = ["air_changes_h"]


def air_changes_h(excess_first: float, excess_last: float, hours: float) -> float:
    """Air changes of a box in which a gas, set free once and well mixed, thinned out.

    Formula:
        N = ln(c0 / c1) / t, c what is there above the air of the room
    Args:
        excess_first: reading at the beginning less that of the room, in any one unit [-]
        excess_last: reading at the end less that of the room, in the same unit [-]
        hours: time between the two readings [h]
    Returns:
        air changes an hour [1/h], what the enclosure's air_changes_h asks for
    Raises:
        Impossible: an excess or a time not above zero, a last reading above the first
    Valid:
        excess_first / excess_last 1.2..20; hours 0.05..12; lamps at their usual heat, the box empty of
        animals
    Source:
        decay of a tracer in one mixed volume (ASTM E741, from memory)
    Example:
        >>> round(air_changes_h(800, 500, 0.25), 2)
        1.88
    """
    positive(excess_first=excess_first, excess_last=excess_last, hours=hours)
    if excess_last > excess_first:
        raise Impossible("excess_last", "must not exceed excess_first")
    return math.log(excess_first / excess_last) / hours
