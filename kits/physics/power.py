"""What a household circuit carries for hours on end, and what running a load costs in energy."""

from inventory.calc.checks import not_negative, positive, within

__all__ = ["circuit_share", "continuous_limit_w", "energy_kwh", "holder_share"]

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
    positive(breaker_a=breaker_a, volts=volts)
    return CONTINUOUS_SHARE * breaker_a * volts


def energy_kwh(watts: float, hours_a_day: float, days: float = 365.0, duty: float = 1.0) -> float:
    """Electricity that a load takes over a number of days.

    Formula:
        E = watts x duty x hours x days / 1000
    Args:
        watts: power drawn [W]
        hours_a_day: hours switched on in a day [h]
        days: number of days [d]
        duty: share of those hours that a thermostat keeps it on, or of its power that a dimmer leaves [-]
    Returns:
        energy [kWh]
    Raises:
        Impossible: a negative power or number of days, hours outside 0 to 24, a duty outside 0 to 1
    Valid:
        a load that draws its rated power whenever it is on
    Source:
        definition of the kilowatt-hour
    Example:
        >>> round(energy_kwh(39, 12), 2), round(energy_kwh(60, 24, duty=0.46), 2)
        (170.82, 241.78)
    """
    not_negative(watts=watts, days=days)
    within(0, 24, hours_a_day=hours_a_day)
    within(0, 1, duty=duty)
    return watts * duty * hours_a_day * days / 1000


def circuit_share(watts: float, breaker_a: float, volts: float) -> float:
    """How much of what a circuit may carry for hours a load takes; above 1 it is too much.

    Formula:
        watts / (0.8 x breaker x volts)
    Args:
        watts: all loads together at full power [W]
        breaker_a: rating of the circuit breaker [A]
        volts: mains voltage [V]
    Returns:
        share [-]
    Raises:
        Impossible: a negative power, a rating or voltage not above zero
    Valid:
        volts 100..240; breaker_a 10..32; a circuit with nothing else on it; a single plugged-in appliance
        may take 0.8 of its branch too (NEC 210.23, from memory); a licensed electrician decides
    Source:
        NEC 2023 210.19(A)(1), and 210.20(A) from memory: 125 % of the continuous load
    Example:
        >>> circuit_share(720, 15, 120)
        0.5
    """
    not_negative(watts=watts)
    return watts / continuous_limit_w(breaker_a, volts)


def holder_share(lamp_w: float, holder_max_w: float) -> float:
    """How much of the rating of its holder a lamp takes; above 1 it must not be used in it.

    Formula:
        lamp watts / holder watts
    Args:
        lamp_w: power that the lamp draws [W]
        holder_max_w: greatest power printed on the holder [W]
    Returns:
        share [-]
    Raises:
        Impossible: a negative power, a rating not above zero
    Valid:
        the printed rating as it stands, never averaged with another; heat lamps want ceramic holders
    Source:
        the maker's rating; a hard stop above 1
    Example:
        >>> holder_share(75, 150)
        0.5
    """
    not_negative(lamp_w=lamp_w)
    positive(holder_max_w=holder_max_w)
    return lamp_w / holder_max_w
