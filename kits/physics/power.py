"""What a household circuit carries for hours on end, and what running a load costs in energy."""

from inventory.calc.errors import Impossible

__all__ = ["continuous_limit_w", "energy_kwh"]

CONTINUOUS_SHARE = 0.8


def continuous_limit_w(breaker_a: float, volts: float) -> float:
    """Largest load that may run for three hours or more on one circuit.

    Formula:
        P = 0.8 x breaker x volts
    Args:
        breaker_a: rating of the circuit breaker [A]
        volts: mains voltage [V]
    Returns:
        power [W]
    Raises:
        Impossible: a rating or voltage not above zero
    Valid:
        volts 100..240; breaker_a 10..32; a single-phase branch circuit with nothing else on it;
        local codes and a licensed electrician decide
    Source:
        NEC 2023 210.19(A)(1), and 210.20(A) from memory: 125 % of the continuous load
    Example:
        >>> continuous_limit_w(15, 120)
        1440.0
    """
    for name, value in (("breaker_a", breaker_a), ("volts", volts)):
        if not value > 0:
            raise Impossible(name, "must be above zero")
    return CONTINUOUS_SHARE * breaker_a * volts


def energy_kwh(watts: float, hours_a_day: float, days: float = 365.0) -> float:
    """Electricity that a load takes over a number of days.

    Formula:
        E = watts x hours x days / 1000
    Args:
        watts: power drawn [W]
        hours_a_day: hours switched on in a day [h]
        days: number of days [d]
    Returns:
        energy [kWh]
    Raises:
        Impossible: a negative power or number of days, hours outside 0 to 24
    Valid:
        a load that draws its rated power whenever it is on
    Source:
        definition of the kilowatt-hour
    Example:
        >>> round(energy_kwh(39, 12), 2)
        170.82
    """
    if not watts >= 0:
        raise Impossible("watts", "must not be negative")
    if not 0 <= hours_a_day <= 24:
        raise Impossible("hours_a_day", "must lie from 0 to 24")
    if not days >= 0:
        raise Impossible("days", "must not be negative")
    return watts * hours_a_day * days / 1000
