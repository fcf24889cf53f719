"""Moist air at sea level: its vapour, what a box exchanges with its room, and what misting replaces."""

import math

from inventory.calc.checks import not_negative, positive
from inventory.calc.errors import Impossible
from kits.physics.airflow import mesh_exchange_m3_s
from kits.physics.checks import ZERO_K, celsius, percent
from kits.physics.heat import SECONDS_AN_HOUR, opening_exchange_m3_s

__all__ = [
    "absolute_humidity_g_m3",
    "air_changes_h",
    "density_ratio",
    "dew_point_c",
    "heated_relative_humidity_pct",
    "humidity_ratio",
    "lid_exchange_m3_s",
    "misting_l_day",
    "moist_density_kg_m3",
    "moist_volume_m3_kg",
    "open_lid_exchange_m3_s",
    "relative_humidity_pct",
    "saturation_pressure_pa",
    "vapour_pressure_deficit_pa",
]

PRESSURE_PA = 101325.0
DRY_AIR_J_KGK = 287.042
# Molar mass of water over that of dry air, and its inverse.
MOLE_RATIO, LIGHTNESS = 0.621945, 1.607858
TRIPLE_C, TRIPLE_PA = 0.01, 611.657
# Hyland and Wexler 1983: c1 / T + c2 + c3 T + c4 T^2 + c5 T^3 + c6 T^4 + c7 ln T is the logarithm of the
# saturation pressure [Pa], T in kelvin.
OVER_ICE = (-5.6745359e3, 6.3925247, -9.677843e-3, 6.2215701e-7, 2.0747825e-9, -9.484024e-13, 4.1635019)
OVER_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)
# Air changes that joints, doors and diffusion add; common practice, no source.
ROOM_DRAUGHTS_H = 0.5
HOURS_A_DAY = 24


def saturation_pressure_pa(temperature_c: float) -> float:
    """Pressure of the vapour above water, or above ice below 0.01 C.

    Formula:
        ln p = c1 / T + c2 + c3 T + c4 T^2 + c5 T^3 + c6 T^4 + c7 ln T; T in kelvin, constants of water or ice
    Args:
        temperature_c: temperature [C]
    Returns:
        pressure [Pa]
    Raises:
        Impossible: a temperature at or below absolute zero
    Valid:
        temperature_c -100..200
    Source:
        Hyland and Wexler 1983, as in the ASHRAE Handbook Fundamentals 2017 ch. 1, constants from memory;
        checked against PsychroLib 2.5.0 and CoolProp 8.0.0
    Example:
        >>> round(saturation_pressure_pa(20), 1), round(saturation_pressure_pa(-10), 1)
        (2338.8, 259.9)
    """
    celsius(temperature_c=temperature_c)
    return _saturation_pa(temperature_c)


def humidity_ratio(temperature_c: float, relative_humidity_pct: float) -> float:
    """Water vapour for each kilogram of dry air.

    Formula:
        W = 0.621945 x p / (101325 - p), p = relative humidity / 100 x saturation pressure
    Args:
        temperature_c: temperature of the air [C]
        relative_humidity_pct: relative humidity [%]
    Returns:
        humidity ratio [kg/kg]
    Raises:
        Impossible: a humidity outside 0 to 100, a temperature at which the vapour outweighs the air
    Valid:
        temperature_c -20..60; sea level, 101325 Pa
    Source:
        ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory), ideal gases
    Example:
        >>> round(humidity_ratio(26, 80), 6)
        0.016965
    """
    vapour = _vapour_pa(temperature_c, relative_humidity_pct)
    return MOLE_RATIO * vapour / (PRESSURE_PA - vapour)


def relative_humidity_pct(temperature_c: float, humidity_ratio: float) -> float:
    """Relative humidity of air with so much vapour; above 100 it would be fog.

    Formula:
        100 x p / saturation pressure, p = 101325 x W / (0.621945 + W)
    Args:
        temperature_c: temperature of the air [C]
        humidity_ratio: vapour for each kilogram of dry air [kg/kg]
    Returns:
        relative humidity [%]
    Raises:
        Impossible: a negative humidity ratio, a temperature at or below absolute zero
    Valid:
        temperature_c -20..60; humidity_ratio 0..0.15; sea level, 101325 Pa
    Source:
        ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory), ideal gases
    Example:
        >>> round(relative_humidity_pct(26, 0.016965), 1)
        80.0
    """
    celsius(temperature_c=temperature_c)
    not_negative(humidity_ratio=humidity_ratio)
    vapour = PRESSURE_PA * humidity_ratio / (MOLE_RATIO + humidity_ratio)
    return 100 * vapour / _saturation_pa(temperature_c)


def dew_point_c(temperature_c: float, relative_humidity_pct: float) -> float:
    """Temperature at which air begins to give up its vapour, as frost below 0.01 C.

    Formula:
        saturation pressure (dew point) = relative humidity / 100 x saturation pressure (temperature)
    Args:
        temperature_c: temperature of the air [C]
        relative_humidity_pct: relative humidity [%], > 0
    Returns:
        dew point [C]
    Raises:
        Impossible: a humidity of 0 or outside 0 to 100, a temperature at or below absolute zero
    Valid:
        temperature_c -20..60; relative_humidity_pct 0.1..100
    Source:
        ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory); PsychroLib documents 25 C, 80 % -> 21.3094 C
    Example:
        >>> round(dew_point_c(25, 80), 4)
        21.3094
    """
    positive(relative_humidity_pct=relative_humidity_pct)
    vapour = _vapour_pa(temperature_c, relative_humidity_pct)
    if vapour == 0:
        raise Impossible("temperature_c", "must be higher: no vapour is left at such cold")
    return _dew_c(vapour)


def heated_relative_humidity_pct(
    temperature_c: float, relative_humidity_pct: float, heated_to_c: float
) -> float:
    """Relative humidity that air keeps when it is only warmed: heating dries.

    Formula:
        relative humidity x saturation pressure (temperature) / saturation pressure (heated to)
    Args:
        temperature_c: temperature before [C]
        relative_humidity_pct: relative humidity before [%]
        heated_to_c: temperature after [C]
    Returns:
        relative humidity, at most 100 when the air is cooled below its dew point [%]
    Raises:
        Impossible: a humidity outside 0 to 100, a temperature at or below absolute zero
    Valid:
        temperature_c -20..60; heated_to_c -20..60; no water given or taken but what condenses
    Source:
        the vapour pressure stays as it was, ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory)
    Example:
        >>> round(heated_relative_humidity_pct(22, 45, 30), 2)
        28.03
    """
    celsius(heated_to_c=heated_to_c)
    vapour = _vapour_pa(temperature_c, relative_humidity_pct)
    return min(100.0, 100 * vapour / _saturation_pa(heated_to_c))


def vapour_pressure_deficit_pa(temperature_c: float, relative_humidity_pct: float) -> float:
    """How much more vapour the air would take, as a pressure: what draws water from leaves.

    Formula:
        (1 - relative humidity / 100) x saturation pressure
    Args:
        temperature_c: temperature of air and leaf [C]
        relative_humidity_pct: relative humidity [%]
    Returns:
        deficit [Pa]
    Raises:
        Impossible: a humidity outside 0 to 100, a temperature at or below absolute zero
    Valid:
        temperature_c -20..60; a leaf as warm as the air
    Source:
        definition; saturation pressure as in saturation_pressure_pa
    Example:
        >>> round(vapour_pressure_deficit_pa(26, 80), 1)
        672.6
    """
    vapour = _vapour_pa(temperature_c, relative_humidity_pct)
    return _saturation_pa(temperature_c) - vapour


def moist_volume_m3_kg(temperature_c: float, humidity_ratio: float) -> float:
    """Volume of moist air for each kilogram of dry air in it.

    Formula:
        v = 287.042 x T x (1 + 1.607858 x W) / 101325, T in kelvin
    Args:
        temperature_c: temperature of the air [C]
        humidity_ratio: vapour for each kilogram of dry air [kg/kg]
    Returns:
        volume [m3/kg]
    Raises:
        Impossible: a negative humidity ratio, a temperature at or below absolute zero
    Valid:
        temperature_c -20..60; humidity_ratio 0..0.15; sea level, 101325 Pa
    Source:
        ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory), ideal gases
    Example:
        >>> round(moist_volume_m3_kg(26, 0.016965), 4)
        0.8706
    """
    celsius(temperature_c=temperature_c)
    not_negative(humidity_ratio=humidity_ratio)
    return DRY_AIR_J_KGK * (temperature_c + ZERO_K) * (1 + LIGHTNESS * humidity_ratio) / PRESSURE_PA


def moist_density_kg_m3(temperature_c: float, relative_humidity_pct: float) -> float:
    """Density of moist air: the moister, the lighter.

    Formula:
        (1 + W) / v, W as in humidity_ratio and v as in moist_volume_m3_kg
    Args:
        temperature_c: temperature of the air [C]
        relative_humidity_pct: relative humidity [%]
    Returns:
        density [kg/m3]
    Raises:
        Impossible: a humidity outside 0 to 100, a temperature at which the vapour outweighs the air
    Valid:
        temperature_c -20..60; sea level, 101325 Pa
    Source:
        ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory), ideal gases
    Example:
        >>> round(moist_density_kg_m3(20, 50), 4)
        1.1989
    """
    ratio = humidity_ratio(temperature_c, relative_humidity_pct)
    return (1 + ratio) / moist_volume_m3_kg(temperature_c, ratio)


def absolute_humidity_g_m3(temperature_c: float, relative_humidity_pct: float) -> float:
    """Water vapour in a cubic metre of air.

    Formula:
        1000 x W / v, W as in humidity_ratio and v as in moist_volume_m3_kg
    Args:
        temperature_c: temperature of the air [C]
        relative_humidity_pct: relative humidity [%]
    Returns:
        vapour [g/m3]
    Raises:
        Impossible: a humidity outside 0 to 100, a temperature at which the vapour outweighs the air
    Valid:
        temperature_c -20..60
    Source:
        ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory), ideal gases
    Example:
        >>> round(absolute_humidity_g_m3(20, 50), 3)
        8.643
    """
    ratio = humidity_ratio(temperature_c, relative_humidity_pct)
    return 1000 * ratio / moist_volume_m3_kg(temperature_c, ratio)


def density_ratio(inside_c: float, inside_pct: float, room_c: float, room_pct: float) -> float:
    """What makes the air of a box rise out of it: how much lighter it is than the room's.

    Formula:
        (room density - inside density) / their mean, never below 0
    Args:
        inside_c: temperature in the enclosure [C]
        inside_pct: relative humidity in the enclosure [%]
        room_c: temperature of the room [C]
        room_pct: relative humidity of the room [%]
    Returns:
        density ratio [-]
    Raises:
        Impossible: a humidity outside 0 to 100, a temperature at which the vapour outweighs the air
    Valid:
        inside_c -20..60; room_c -20..60; an inside that is heavier lies still under an open top
    Source:
        definition, with densities as in moist_density_kg_m3
    Example:
        >>> round(density_ratio(22, 80, 22, 45), 5)
        0.00348
    """
    inside = moist_density_kg_m3(inside_c, inside_pct)
    room = moist_density_kg_m3(room_c, room_pct)
    return max(0.0, 2 * (room - inside) / (room + inside))


def lid_exchange_m3_s(
    width_m: float, length_m: float, opening_mm: float, wire_mm: float, inside_c: float, room_c: float
) -> float:
    """Air that a warm box exchanges with the room through its mesh lid.

    Formula:
        Q = Q_open x sqrt(K0 / (K0 + K)), K0 = 1 / 0.61^2, K the screen's loss at the speed 2 Q / area;
        density ratio (inside - room) / mean temperature in kelvin, 0 when the box is the colder
    Args:
        width_m: width of the lid [m]
        length_m: length of the lid [m]
        opening_mm: clear opening between the wires [mm]
        wire_mm: thickness of the wire [mm]
        inside_c: temperature in the enclosure [C]
        room_c: temperature of the room [C]
    Returns:
        flow, out and in alike [m3/s]
    Raises:
        Impossible: a side or opening not above zero, a negative wire, a temperature below absolute zero
    Valid:
        wire_mm 0.1..1; opening_mm 0.3..10; inside_c - room_c 0..30; width_m / length_m 0.33..3; half to
        double the figure; of longer lids the hydraulic diameter tells too little, by more than half where
        the mesh rules; draughts through joints (0.5 air changes an hour, common practice) come on top
    Source:
        Epstein 1988 (from memory) for the opening, Brundrett 1993 (from memory) for the mesh, in series as
        greenhouses are calculated; the humidity of the air left out
    Example:
        >>> flow = lid_exchange_m3_s(0.45, 0.45, 1.2136, 0.2794, 31.85, 21.85)
        >>> round(air_changes_h(flow, 0.1215), 1)
        24.4
    """
    return mesh_exchange_m3_s(width_m, length_m, opening_mm, wire_mm, _thermal_ratio(inside_c, room_c))


def open_lid_exchange_m3_s(width_m: float, length_m: float, inside_c: float, room_c: float) -> float:
    """Air that a warm box exchanges with the room through an open top without mesh.

    Formula:
        heat.opening_exchange_m3_s at the density ratio (inside - room) / mean temperature in kelvin
    Args:
        width_m: width of the opening [m]
        length_m: length of the opening [m]
        inside_c: temperature in the enclosure [C]
        room_c: temperature of the room [C]
    Returns:
        flow, out and in alike, 0 when the box is the colder [m3/s]
    Raises:
        Impossible: a side not above zero, a temperature at or below absolute zero
    Valid:
        inside_c - room_c 0..30; width_m / length_m 0.2..5; an upper bound, with nothing in the opening;
        of longer openings the hydraulic diameter tells too little, by more than half
    Source:
        Epstein 1988, J. Heat Transfer 110, from memory
    Example:
        >>> round(open_lid_exchange_m3_s(0.45, 0.45, 31.85, 21.85), 7)
        0.0042724
    """
    return opening_exchange_m3_s(width_m, length_m, _thermal_ratio(inside_c, room_c))


def air_changes_h(exchange_m3_s: float, volume_m3: float, draughts_h: float = 0.0) -> float:
    """How often an hour the air of a box is replaced.

    Formula:
        3600 x exchange / volume + draughts
    Args:
        exchange_m3_s: flow in and out [m3/s]
        volume_m3: volume of air in the enclosure [m3]
        draughts_h: air changes by joints, doors and diffusion, usually 0.5 [1/h]
    Returns:
        air changes [1/h]
    Raises:
        Impossible: a volume not above zero, a negative flow or number of air changes
    Valid:
        draughts_h 0..2; well mixed air
    Source:
        definition; 0.5 an hour for draughts is common practice, no source
    Example:
        >>> round(air_changes_h(0.0007930, 0.1215), 1)
        23.5
    """
    positive(volume_m3=volume_m3)
    not_negative(exchange_m3_s=exchange_m3_s, draughts_h=draughts_h)
    return SECONDS_AN_HOUR * exchange_m3_s / volume_m3 + draughts_h


def misting_l_day(
    volume_m3: float,
    air_changes_h: float,
    inside_c: float,
    inside_pct: float,
    room_c: float,
    room_pct: float,
) -> float:
    """Water that has to evaporate in a day to hold a humidity against the air that is exchanged.

    Formula:
        24 x air changes x volume x (W inside - W room) / v inside, never below 0
    Args:
        volume_m3: volume of air in the enclosure [m3]
        air_changes_h: air changes [1/h]
        inside_c: temperature in the enclosure [C]
        inside_pct: relative humidity to hold [%]
        room_c: temperature of the room [C]
        room_pct: relative humidity of the room [%]
    Returns:
        water, 1 kg taken as 1 L [L/d]
    Raises:
        Impossible: a volume not above zero, negative air changes, a humidity outside 0 to 100
    Valid:
        inside_c 0..45; room_c 0..45; air_changes_h 0..200; steady and well mixed; what runs off into the
        drainage comes on top (30 to 60 % of a misting, common practice, no source)
    Source:
        vapour balance; humidity ratio and volume of the ASHRAE Handbook Fundamentals 2017 ch. 1 (from memory)
    Example:
        >>> round(misting_l_day(0.1215, 5, 26, 80, 22, 45), 4)
        0.1603
    """
    positive(volume_m3=volume_m3)
    not_negative(air_changes_h=air_changes_h)
    percent(inside_pct=inside_pct, room_pct=room_pct)
    celsius(inside_c=inside_c, room_c=room_c)
    inside, room = humidity_ratio(inside_c, inside_pct), humidity_ratio(room_c, room_pct)
    gained = (inside - room) / moist_volume_m3_kg(inside_c, inside)
    return max(0.0, HOURS_A_DAY * air_changes_h * volume_m3 * gained)


def _saturation_pa(temperature_c: float) -> float:
    kelvin = temperature_c + ZERO_K
    return math.exp(_log_saturation(kelvin, OVER_ICE if temperature_c < TRIPLE_C else OVER_WATER))


def _log_saturation(kelvin: float, constants: tuple[float, ...]) -> float:
    c1, c2, c3, c4, c5, c6, c7 = constants
    polynomial = c2 + kelvin * (c3 + kelvin * (c4 + kelvin * (c5 + kelvin * c6)))
    return c1 / kelvin + polynomial + c7 * math.log(kelvin)


def _log_saturation_slope(kelvin: float, constants: tuple[float, ...]) -> float:
    c1, _, c3, c4, c5, c6, c7 = constants
    polynomial = c3 + kelvin * (2 * c4 + kelvin * (3 * c5 + kelvin * 4 * c6))
    return -c1 / kelvin**2 + polynomial + c7 / kelvin


def _vapour_pa(temperature_c: float, relative_humidity_pct: float) -> float:
    celsius(temperature_c=temperature_c)
    percent(relative_humidity_pct=relative_humidity_pct)
    vapour = relative_humidity_pct / 100 * _saturation_pa(temperature_c)
    if vapour >= PRESSURE_PA:
        raise Impossible("temperature_c", "must be lower: such vapour would outweigh the air")
    return vapour


def _dew_c(vapour_pa: float) -> float:
    """Temperature of saturation, by Newton's steps in 1 / T, in which ln p is almost a straight line."""
    constants = OVER_ICE if vapour_pa < TRIPLE_PA else OVER_WATER
    wanted, inverse = math.log(vapour_pa), 1 / (TRIPLE_C + ZERO_K)
    while True:
        kelvin = 1 / inverse
        step = (wanted - _log_saturation(kelvin, constants)) / (
            -_log_saturation_slope(kelvin, constants) * kelvin**2
        )
        inverse += step
        if not abs(step) > 1e-12 * inverse:
            return 1 / inverse - ZERO_K


def _thermal_ratio(inside_c: float, room_c: float) -> float:
    celsius(inside_c=inside_c, room_c=room_c)
    return max(0.0, inside_c - room_c) / ((inside_c + room_c) / 2 + ZERO_K)
