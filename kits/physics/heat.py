"""What an enclosure loses to the room, what replaces it, and how warm a spot under a lamp becomes."""

import math

from inventory.calc.checks import not_negative, positive
from inventory.calc.errors import Impossible
from kits.physics.checks import ZERO_K, celsius, share
from kits.physics.published import published_column

__all__ = [
    "basking_surface_c",
    "beam_irradiance_w_m2",
    "duty",
    "enclosure_loss_w_k",
    "floor_u_value",
    "heater_power_w",
    "irradiance_for_surface_w_m2",
    "opening_exchange_m3_s",
    "pane_u_value",
    "running_share",
    "top_u_value",
    "ventilation_w_k",
    "wall_conductivity_w_mk",
]

# Surface resistances of ISO 6946 [m2K/W], from memory. Both faces of a pane in a room are inner surfaces.
R_UP, R_SIDE, R_DOWN = 0.10, 0.13, 0.17
# "pvc" is a solid board, "wood" is timber or plywood.
CONDUCTIVITY_W_MK = published_column("walls", "conductivity_w_mk")
WOOD_W_MK = CONDUCTIVITY_W_MK["wood"]
AIR_KG_M3, AIR_J_KGK = 1.2, 1006.0
SECONDS_AN_HOUR = 3600.0
GRAVITY_M_S2 = 9.81
EXCHANGE = 0.055
STEFAN_BOLTZMANN = 5.670374419e-8
# A heater that runs this share of the time on the coldest night is neither too weak nor coarse; common
# practice, no source.
RUNNING_SHARE_WANTED = (0.5, 0.85)


def wall_conductivity_w_mk(material: str) -> float:
    """How well a wall material conducts heat.

    Formula:
        looked up: glass, acrylic, polycarbonate, pvc, pvc-expanded, wood, particle-board, polystyrene, cork
    Args:
        material: name of the material
    Returns:
        conductivity [W/mK]
    Raises:
        Impossible: a material that is not listed
    Valid:
        design values near 20 C of dry material; makers' own figures come first
    Source:
        ISO 10456 and EN 673, from memory; each with its mark in kits/data/walls.csv
    Example:
        >>> wall_conductivity_w_mk("glass")
        1.0
    """
    if material not in CONDUCTIVITY_W_MK:
        raise Impossible("material", f"must be one of {', '.join(CONDUCTIVITY_W_MK)}")
    return CONDUCTIVITY_W_MK[material]


def pane_u_value(
    thickness_m: float, conductivity_w_mk: float, r_inside: float = R_SIDE, r_outside: float = R_SIDE
) -> float:
    """Heat that passes one square metre of an upright pane for each kelvin.

    Formula:
        U = 1 / (r_inside + thickness / conductivity + r_outside)
    Args:
        thickness_m: thickness of the pane [m]
        conductivity_w_mk: conductivity of the pane [W/mK]
        r_inside: resistance of the inner surface [m2K/W]
        r_outside: resistance of the outer surface, in a room the same as inside [m2K/W]
    Returns:
        U-value [W/m2K]
    Raises:
        Impossible: a conductivity not above zero, a negative thickness or resistance, no resistance at all
    Valid:
        thickness_m 0.001..0.05; r_inside 0.04..0.17; r_outside 0.04..0.17; still air in a room;
        in wind outdoors r_outside is 0.04
    Source:
        ISO 6946; its surface resistances are from memory
    Example:
        >>> round(pane_u_value(0.004, 1.0), 4)
        3.7879
    """
    positive(conductivity_w_mk=conductivity_w_mk)
    not_negative(thickness_m=thickness_m, r_inside=r_inside, r_outside=r_outside)
    resistance = r_inside + thickness_m / conductivity_w_mk + r_outside
    if resistance <= 0:
        raise Impossible("thickness_m", "must be above zero when neither surface resists")
    return 1 / resistance


def top_u_value(thickness_m: float = 0.0, conductivity_w_mk: float = 1.0) -> float:
    """Heat that passes one square metre of a top for each kelvin; thickness 0 is mesh or an open top.

    Formula:
        U = 1 / (0.10 + thickness / conductivity + 0.10)
    Args:
        thickness_m: thickness of the lid, 0 for mesh [m]
        conductivity_w_mk: conductivity of the lid [W/mK]
    Returns:
        U-value [W/m2K]
    Raises:
        Impossible: a conductivity not above zero, a negative thickness
    Valid:
        thickness_m 0..0.05; heat flowing upward; the air that leaves through a mesh comes on top
    Source:
        ISO 6946, resistances from memory; two still films for a mesh are an engineering choice, no source
    Example:
        >>> top_u_value(), round(top_u_value(0.004, 1.0), 4)
        (5.0, 4.902)
    """
    return pane_u_value(thickness_m, conductivity_w_mk, R_UP, R_UP)


def floor_u_value(
    thickness_m: float,
    conductivity_w_mk: float,
    shelf_m: float = 0.018,
    shelf_conductivity_w_mk: float = WOOD_W_MK,
) -> float:
    """Heat that passes one square metre of a floor that stands on a shelf, for each kelvin.

    Formula:
        U = 1 / (0.17 + thickness / conductivity + shelf / shelf_conductivity + 0.17)
    Args:
        thickness_m: thickness of the floor pane [m]
        conductivity_w_mk: conductivity of the floor pane [W/mK]
        shelf_m: thickness of the board underneath, 0 for none [m]
        shelf_conductivity_w_mk: conductivity of the board [W/mK]
    Returns:
        U-value [W/m2K]
    Raises:
        Impossible: a conductivity not above zero, a negative thickness
    Valid:
        thickness_m 0.001..0.05; shelf_m 0..0.1; heat flowing downward to room air; soil layers, left out,
        only lower it
    Source:
        ISO 6946 and ISO 10456, resistances and conductivities from memory
    Example:
        >>> round(floor_u_value(0.004, 1.0), 4)
        2.0727
    """
    positive(shelf_conductivity_w_mk=shelf_conductivity_w_mk)
    not_negative(shelf_m=shelf_m)
    return pane_u_value(thickness_m, conductivity_w_mk, R_DOWN + shelf_m / shelf_conductivity_w_mk, R_DOWN)


def ventilation_w_k(volume_m3: float, air_changes_h: float, air_kg_m3: float = AIR_KG_M3) -> float:
    """Heat that exchanged air carries away for each kelvin, without its vapour.

    Formula:
        air density x 1006 J/kgK x air changes x volume / 3600
    Args:
        volume_m3: volume of air in the enclosure [m3]
        air_changes_h: air changes [1/h]
        air_kg_m3: density of the air [kg/m3]
    Returns:
        heat loss [W/K]
    Raises:
        Impossible: a volume or density not above zero, negative air changes
    Valid:
        air_kg_m3 1.1..1.3; well mixed air; what the water takes to evaporate comes on top
    Source:
        specific heat of dry air 1006 J/kgK, from memory
    Example:
        >>> round(10 * ventilation_w_k(0.1215, 10), 4)
        4.0743
    """
    positive(volume_m3=volume_m3, air_kg_m3=air_kg_m3)
    not_negative(air_changes_h=air_changes_h)
    return air_kg_m3 * AIR_J_KGK * air_changes_h * volume_m3 / SECONDS_AN_HOUR


def enclosure_loss_w_k(
    width_m: float,
    depth_m: float,
    height_m: float,
    wall_u: float,
    top_u: float,
    floor_u: float,
    air_changes_h: float = 0.0,
) -> float:
    """Heat that an enclosure loses to the room for each kelvin that it is warmer.

    Formula:
        L = wall_u x 2 x height x (width + depth) + (top_u + floor_u) x width x depth
        + 1.2 x 1006 x air_changes x width x depth x height / 3600
    Args:
        width_m: width [m]
        depth_m: depth [m]
        height_m: height [m]
        wall_u: U-value of the four walls [W/m2K]
        top_u: U-value of the top [W/m2K]
        floor_u: U-value of the floor [W/m2K]
        air_changes_h: air changes [1/h]
    Returns:
        heat loss [W/K]
    Raises:
        Impossible: a side not above zero, a negative U-value or number of air changes
    Valid:
        air_changes_h 0..200; a box of one temperature in a room of one temperature, nothing else behind
        its walls; an estimate until a thermometer has seen the box
    Source:
        ISO 6946 for the panes; air of 1.2 kg/m3 and 1006 J/kgK, from memory
    Example:
        >>> round(enclosure_loss_w_k(0.45, 0.45, 0.60, 1 / 0.264, 5.0, floor_u_value(0.004, 1.0)), 5)
        5.52313
    """
    positive(width_m=width_m, depth_m=depth_m, height_m=height_m)
    not_negative(wall_u=wall_u, top_u=top_u, floor_u=floor_u)
    floor_m2 = width_m * depth_m
    panes = wall_u * 2 * height_m * (width_m + depth_m) + (top_u + floor_u) * floor_m2
    return panes + ventilation_w_k(floor_m2 * height_m, air_changes_h)


def opening_exchange_m3_s(width_m: float, length_m: float, density_ratio: float) -> float:
    """Air that changes places through a level opening without mesh while the air below it is lighter.

    Formula:
        Q = 0.055 x sqrt(9.81 x density_ratio x D^5), D = 2 x width x length / (width + length)
    Args:
        width_m: width of the opening [m]
        length_m: length of the opening [m]
        density_ratio: difference of the two densities over their mean, 0 when the air below is heavier [-]
    Returns:
        flow, out and in alike [m3/s]
    Raises:
        Impossible: a side not above zero, a negative density ratio
    Valid:
        density_ratio 0..0.2; width_m / length_m 0.2..5; an upper bound: any mesh lets less through
    Source:
        Epstein 1988, J. Heat Transfer 110, and Cooper 1989, from memory; coefficient and diameter as the
        horizontal openings of EnergyPlus' airflow network have them
    Example:
        >>> round(opening_exchange_m3_s(0.45, 0.45, 10 / 300), 7)
        0.0042724
    """
    positive(width_m=width_m, length_m=length_m)
    not_negative(density_ratio=density_ratio)
    diameter = 2 * width_m * length_m / (width_m + length_m)
    return EXCHANGE * math.sqrt(GRAVITY_M_S2 * density_ratio * diameter**5)


def heater_power_w(loss_w_k: float, target_c: float, room_c: float, margin: float = 1.25) -> float:
    """Power of the heater that still holds a temperature in the room's coldest night.

    Formula:
        P = margin x loss x (target - room), never below 0
    Args:
        loss_w_k: heat loss of the enclosure [W/K]
        target_c: temperature to hold [C]
        room_c: coldest temperature of the room [C]
        margin: how much stronger than the loss [-]
    Returns:
        power [W]
    Raises:
        Impossible: a negative loss, a margin below 1, a temperature below absolute zero
    Valid:
        margin 1.25..1.5; always behind a thermostat
    Source:
        steady heat balance; the margin is common practice, no source
    Example:
        >>> round(heater_power_w(5.52313, 26, 18), 2)
        55.23
    """
    not_negative(loss_w_k=loss_w_k)
    celsius(target_c=target_c, room_c=room_c)
    positive(margin=margin)
    if margin < 1:
        raise Impossible("margin", "must not be below 1")
    return max(0.0, margin * loss_w_k * (target_c - room_c))


def running_share(loss_w_k: float, target_c: float, room_c: float, power_w: float) -> float:
    """Heat that a temperature takes as a share of what the heater gives; above 1 it is too weak.

    Formula:
        loss x (target - room) / power, never below 0
    Args:
        loss_w_k: heat loss of the enclosure [W/K]
        target_c: temperature to hold [C]
        room_c: temperature of the room [C]
        power_w: power of the heater [W]
    Returns:
        share [-]
    Raises:
        Impossible: a negative loss, a power not above zero, a temperature below absolute zero
    Valid:
        all power stays in the enclosure; 0.5 to 0.85 in the coldest night is wanted of a substitute
    Source:
        steady heat balance; the wanted range is common practice, no source
    Example:
        >>> round(running_share(5.52313, 26, 18, 60), 3)
        0.736
    """
    positive(power_w=power_w)
    return heater_power_w(loss_w_k, target_c, room_c, margin=1.0) / power_w


def duty(loss_w_k: float, target_c: float, room_c: float, power_w: float) -> float:
    """Share of the time that a thermostat keeps a heater on.

    Formula:
        min(1, loss x (target - room) / power), never below 0
    Args:
        loss_w_k: heat loss of the enclosure [W/K]
        target_c: temperature to hold [C]
        room_c: temperature of the room [C]
        power_w: power of the heater [W]
    Returns:
        share of the time [-]
    Raises:
        Impossible: a negative loss, a power not above zero, a temperature below absolute zero
    Valid:
        all power stays in the enclosure and the temperature is steady
    Source:
        steady heat balance
    Example:
        >>> round(duty(5.52313, 26, 21, 60), 3), duty(5.52313, 40, 18, 60)
        (0.46, 1.0)
    """
    return min(1.0, running_share(loss_w_k, target_c, room_c, power_w))


def beam_irradiance_w_m2(
    power_w: float, radiant_fraction: float, beam_fraction: float, beam_deg: float, distance_m: float
) -> float:
    """Mean irradiance inside the beam of a reflector lamp.

    Formula:
        E = power x radiant_fraction x beam_fraction / (pi x r^2), r = distance x tan(beam / 2)
    Args:
        power_w: power of the lamp [W]
        radiant_fraction: share of the power that leaves as radiation [-]
        beam_fraction: share of the radiation inside the beam [-]
        beam_deg: full angle of the beam [deg]
        distance_m: distance from the lamp to the spot [m]
    Returns:
        irradiance [W/m2]
    Raises:
        Impossible: a power or distance not above zero, a share outside 0 to 1, an angle outside 0 to 180
    Valid:
        beam_deg 10..120; distance_m 0.1..2; radiant_fraction 0.4..0.9; the middle of a beam is brighter
        than its mean
    Source:
        school geometry; halogen and incandescent radiate 0.80 to 0.90 of their power (a heater maker's
        figures); 0.7 of it inside the beam is common practice, no source
    Example:
        >>> round(beam_irradiance_w_m2(50, 0.8, 0.7, 60, 0.30), 1)
        297.1
    """
    positive(power_w=power_w, distance_m=distance_m, beam_deg=beam_deg)
    share(radiant_fraction=radiant_fraction, beam_fraction=beam_fraction)
    if beam_deg >= 180:
        raise Impossible("beam_deg", "must lie below 180")
    radius = distance_m * math.tan(math.radians(beam_deg) / 2)
    return power_w * radiant_fraction * beam_fraction / (math.pi * radius**2)


def basking_surface_c(
    irradiance_w_m2: float,
    air_c: float,
    absorptance: float = 0.85,
    emissivity: float = 0.95,
    convection_w_m2k: float = 5.0,
) -> float:
    """Temperature that a dry, thin surface takes under a lamp once it is steady.

    Formula:
        absorptance x E = convection x (Ts - Ta) + emissivity x sigma x (Ts^4 - Ta^4), temperatures in kelvin
    Args:
        irradiance_w_m2: irradiance on the surface [W/m2]
        air_c: temperature of air and walls around [C]
        absorptance: share of the irradiance that is absorbed [-]
        emissivity: emissivity of the surface [-]
        convection_w_m2k: heat transfer to the air [W/m2K]
    Returns:
        surface temperature [C]
    Raises:
        Impossible: a negative irradiance or convection, a share outside 0 to 1, no way to lose heat
    Valid:
        irradiance_w_m2 0..1400; air_c -20..45; convection_w_m2k 2..15; insulated below, so an upper bound:
        thick stone or wet substrate stays 5 to 15 K cooler (common practice, no source)
    Source:
        steady heat balance; Stefan-Boltzmann constant of CODATA 2018; the defaults are from memory
    Example:
        >>> round(basking_surface_c(300, 28), 2)
        50.05
    """
    not_negative(irradiance_w_m2=irradiance_w_m2, convection_w_m2k=convection_w_m2k)
    share(absorptance=absorptance, emissivity=emissivity)
    celsius(air_c=air_c)
    if convection_w_m2k == 0 and emissivity == 0:
        raise Impossible("convection_w_m2k", "must be above zero when the surface radiates nothing")
    air_k, grey = air_c + ZERO_K, emissivity * STEFAN_BOLTZMANN
    return _surface_k(absorptance * irradiance_w_m2, air_k, grey, convection_w_m2k) - ZERO_K


def irradiance_for_surface_w_m2(
    surface_c: float,
    air_c: float,
    absorptance: float = 0.85,
    emissivity: float = 0.95,
    convection_w_m2k: float = 5.0,
) -> float:
    """Irradiance that makes a dry, thin surface just so warm; 0 where the air alone does.

    Formula:
        E = (convection x (Ts - Ta) + emissivity x sigma x (Ts^4 - Ta^4)) / absorptance, never below 0
    Args:
        surface_c: temperature wanted of the surface [C]
        air_c: temperature of air and walls around [C]
        absorptance: share of the irradiance that is absorbed [-]
        emissivity: emissivity of the surface [-]
        convection_w_m2k: heat transfer to the air [W/m2K]
    Returns:
        irradiance [W/m2]
    Raises:
        Impossible: a share outside 0 to 1, an absorptance of 0, a negative convection
    Valid:
        surface_c 0..70; air_c -20..45; convection_w_m2k 2..15; insulated below, so thick stone or wet
        substrate takes more
    Source:
        steady heat balance; Stefan-Boltzmann constant of CODATA 2018; the defaults are from memory
    Example:
        >>> round(irradiance_for_surface_w_m2(40, 28), 1)
        158.8
    """
    celsius(surface_c=surface_c, air_c=air_c)
    positive(absorptance=absorptance)
    share(absorptance=absorptance, emissivity=emissivity)
    not_negative(convection_w_m2k=convection_w_m2k)
    surface_k, air_k = surface_c + ZERO_K, air_c + ZERO_K
    radiated = emissivity * STEFAN_BOLTZMANN * (surface_k**4 - air_k**4)
    return max(0.0, (convection_w_m2k * (surface_k - air_k) + radiated) / absorptance)


def _surface_k(absorbed: float, air_k: float, grey: float, convection: float) -> float:
    # The loss is convex and rises with the temperature, so its tangent at the air's temperature meets the
    # absorbed heat at or above the root, and from there Newton's steps fall towards it without passing it.
    surface = air_k + absorbed / (convection + 4 * grey * air_k**3)
    if grey > 0:
        # Without convection the surface would be at least as hot, so this too lies at or above the root.
        surface = min(surface, (air_k**4 + absorbed / grey) ** 0.25)
    while True:
        surplus = convection * (surface - air_k) + grey * (surface**4 - air_k**4) - absorbed
        step = surplus / (convection + 4 * grey * surface**3)
        if not step > 1e-10 * surface:
            return surface - step
        surface -= step
