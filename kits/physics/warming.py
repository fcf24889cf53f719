"""How warm the air of a box becomes from what lamps and heaters bring, and how warm its room may be."""

from inventory.calc.checks import not_negative, positive
from kits.physics.checks import celsius

__all__ = ["steady_air_c", "warmest_room_c"]


def steady_air_c(room_c: float, heat_w: float, loss_w_k: float) -> float:
    """Air of a box once what comes in as heat and what the room takes are the same.

    Formula:
        T = room + heat / loss
    Args:
        room_c: temperature of the room [C]
        heat_w: heat that stays in the box [W]
        loss_w_k: heat loss of the box for each kelvin [W/K]
    Returns:
        temperature [C]
    Raises:
        Impossible: negative heat, a loss not above zero, a room below absolute zero
    Valid:
        room_c -20..45; the same all through the box and steady, which takes hours; an estimate until a
        thermometer has seen the box
    Source:
        steady heat balance
    Example:
        >>> round(steady_air_c(21, 33.4, 7.69), 2)
        25.34
    """
    celsius(room_c=room_c)
    not_negative(heat_w=heat_w)
    positive(loss_w_k=loss_w_k)
    return room_c + heat_w / loss_w_k


def warmest_room_c(air_c: float, heat_w: float, loss_w_k: float) -> float:
    """The warmest room in which a box is no warmer than this while so much heat comes in.

    Formula:
        room = T - heat / loss
    Args:
        air_c: the warmest that the air of the box may be [C]
        heat_w: heat that stays in the box [W]
        loss_w_k: heat loss of the box for each kelvin [W/K]
    Returns:
        temperature [C]
    Raises:
        Impossible: negative heat, a loss not above zero, air below absolute zero
    Valid:
        air_c -20..45; as steady_air_c, turned round
    Source:
        steady heat balance
    Example:
        >>> round(warmest_room_c(30, 33.4, 7.69), 2)
        25.66
    """
    celsius(air_c=air_c)
    not_negative(heat_w=heat_w)
    positive(loss_w_k=loss_w_k)
    return air_c - heat_w / loss_w_k
