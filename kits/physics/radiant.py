"""Lamps and radiant heaters: how far away, how far dimmed, and in which part of the spectrum."""

import math

from inventory.calc.checks import not_negative, positive
from inventory.calc.errors import Impossible
from kits.physics.checks import ZERO_K, celsius, share
from kits.physics.heat import STEFAN_BOLTZMANN, irradiance_for_surface_w_m2

__all__ = [
    "bare_emitter_irradiance_w_m2",
    "black_body_bands",
    "ceramic_radiant_fraction",
    "dimmer_share",
    "lamp_distance_for_irradiance_m",
]

# h c / k of CODATA 2018 [m K].
SECOND_RADIATION_M_K = 1.438776877e-2
# Bands of CIE S 017 (from memory) as they end [m]: ultraviolet, visible, IR-A, IR-B; beyond it IR-C.
BAND_ENDS_M = {"ultraviolet": 380e-9, "visible": 780e-9, "ir_a": 1400e-9, "ir_b": 3000e-9}
# Below this both series agree to rounding; above it the one in exponentials takes few terms.
SMALL_X = 0.5
LAST_EXPONENT = 40.0


def lamp_distance_for_irradiance_m(
    irradiance_w_m2: float, power_w: float, radiant_fraction: float, beam_fraction: float, beam_deg: float
) -> float:
    """Distance at which the mean of a lamp's beam has this irradiance: the inverse of the beam.

    Formula:
        d = sqrt(power x radiant_fraction x beam_fraction / (pi x E)) / tan(beam / 2)
    Args:
        irradiance_w_m2: irradiance wanted [W/m2]
        power_w: power of the lamp [W]
        radiant_fraction: share of the power that leaves as radiation [-]
        beam_fraction: share of the radiation inside the beam [-]
        beam_deg: full angle of the beam [deg]
    Returns:
        distance [m]
    Raises:
        Impossible: an irradiance or power not above zero, a share outside 0 to 1, an angle outside 0 to 180
    Valid:
        beam_deg 10..120; irradiance_w_m2 50..1400; radiant_fraction 0.4..0.9; the maker's smallest
        distance comes first
    Source:
        school geometry, as heat.beam_irradiance_w_m2
    Example:
        >>> round(lamp_distance_for_irradiance_m(297.09, 50, 0.8, 0.7, 60), 4)
        0.3
    """
    positive(irradiance_w_m2=irradiance_w_m2, power_w=power_w, beam_deg=beam_deg)
    share(radiant_fraction=radiant_fraction, beam_fraction=beam_fraction)
    if beam_deg >= 180:
        raise Impossible("beam_deg", "must lie below 180")
    spot_m2 = power_w * radiant_fraction * beam_fraction / irradiance_w_m2
    return math.sqrt(spot_m2 / math.pi) / math.tan(math.radians(beam_deg) / 2)


def dimmer_share(
    full_irradiance_w_m2: float,
    surface_c: float,
    air_c: float,
    absorptance: float = 0.85,
    emissivity: float = 0.95,
    convection_w_m2k: float = 5.0,
) -> float:
    """Share of a lamp's full irradiance that makes the surface just so warm; above 1 the lamp is too weak.

    Formula:
        heat.irradiance_for_surface_w_m2 / full irradiance
    Args:
        full_irradiance_w_m2: irradiance on the surface with the lamp undimmed [W/m2]
        surface_c: temperature wanted of the surface [C]
        air_c: temperature of air and walls around [C]
        absorptance: share of the irradiance that is absorbed [-]
        emissivity: emissivity of the surface [-]
        convection_w_m2k: heat transfer to the air [W/m2K]
    Returns:
        share [-]
    Raises:
        Impossible: an irradiance not above zero, a share outside 0 to 1, a negative convection
    Valid:
        surface_c 0..70; air_c -20..45; convection_w_m2k 2..15; radiation taken in proportion to power,
        though a dimmed filament also turns redder
    Source:
        steady heat balance, as heat.irradiance_for_surface_w_m2
    Example:
        >>> round(dimmer_share(297.1, 40, 28), 2)
        0.53
    """
    positive(full_irradiance_w_m2=full_irradiance_w_m2)
    wanted = irradiance_for_surface_w_m2(surface_c, air_c, absorptance, emissivity, convection_w_m2k)
    return wanted / full_irradiance_w_m2


def bare_emitter_irradiance_w_m2(power_w: float, radiant_fraction: float, distance_m: float) -> float:
    """Irradiance straight below a flat radiant heater without reflector.

    Formula:
        E = power x radiant_fraction / (pi x distance^2)
    Args:
        power_w: power of the heater [W]
        radiant_fraction: share of the power that leaves as radiation [-]
        distance_m: distance from the emitting face [m]
    Returns:
        irradiance on the axis [W/m2]
    Raises:
        Impossible: a power or distance not above zero, a share outside 0 to 1
    Valid:
        distance_m 0.15..2; radiant_fraction 0.4..0.9; a face that radiates alike in all directions, no nearer
        than twice its own width
    Source:
        Lambert's law, school physics
    Example:
        >>> round(bare_emitter_irradiance_w_m2(60, 0.5, 0.30), 1)
        106.1
    """
    positive(power_w=power_w, distance_m=distance_m)
    share(radiant_fraction=radiant_fraction)
    return power_w * radiant_fraction / (math.pi * distance_m**2)


def ceramic_radiant_fraction(
    surface_c: float, emissivity: float = 0.9, convection_w_m2k: float = 10.0, air_c: float = 25.0
) -> float:
    """Share of a ceramic heater's power that leaves as radiation, by the balance of its face.

    Formula:
        r / (r + convection x (Ts - Ta)), r = emissivity x sigma x (Ts^4 - Ta^4), temperatures in kelvin
    Args:
        surface_c: temperature of the face [C]
        emissivity: emissivity of the face [-]
        convection_w_m2k: heat transfer to the air [W/m2K]
        air_c: temperature of air and walls around [C]
    Returns:
        share [-]
    Raises:
        Impossible: a face not hotter than the air, an emissivity outside 0 to 1, a negative convection,
            neither of the two
    Valid:
        surface_c 150..500; emissivity 0.8..0.95; convection_w_m2k 8..15; the heat that goes up the socket
        is left out
    Source:
        steady heat balance; Stefan-Boltzmann constant of CODATA 2018; emissivity and convection from memory
    Example:
        >>> round(ceramic_radiant_fraction(300), 4)
        0.6499
    """
    celsius(surface_c=surface_c, air_c=air_c)
    share(emissivity=emissivity)
    not_negative(convection_w_m2k=convection_w_m2k)
    if surface_c <= air_c:
        raise Impossible("surface_c", "must be above air_c")
    radiated = emissivity * STEFAN_BOLTZMANN * ((surface_c + ZERO_K) ** 4 - (air_c + ZERO_K) ** 4)
    lost = radiated + convection_w_m2k * (surface_c - air_c)
    if lost <= 0:
        raise Impossible("convection_w_m2k", "must be above zero when the face radiates nothing")
    return radiated / lost


def black_body_bands(temperature_k: float) -> dict[str, float]:
    """Where in the spectrum a glowing body radiates, as shares of all it radiates.

    Formula:
        F(0 to x) = 15 / pi^4 x sum over n of exp(-n x) (x^3 + 3 x^2 / n + 6 x / n^2 + 6 / n^3) / n,
        x = 0.01438777 / (wavelength x temperature)
    Args:
        temperature_k: temperature of the body [K]
    Returns:
        ultraviolet to 380 nm, visible to 780 nm, ir_a to 1400 nm, ir_b to 3000 nm, ir_c beyond [-]
    Raises:
        Impossible: a temperature not above zero
    Valid:
        temperature_k 300..6500; a black body; a bulb's glass stops most of what lies beyond 4000 nm
    Source:
        Planck's law with the constants of CODATA 2018; bands of CIE S 017, from memory
    Example:
        >>> {band: round(part, 3) for band, part in black_body_bands(2200).items()}
        {'ultraviolet': 0.0, 'visible': 0.03, 'ir_a': 0.261, 'ir_b': 0.492, 'ir_c': 0.217}
    """
    positive(temperature_k=temperature_k)
    bands, below = {}, 0.0
    for band, end_m in BAND_ENDS_M.items():
        part = _radiated_below(SECOND_RADIATION_M_K / end_m / temperature_k)
        bands[band], below = part - below, part
    return {**bands, "ir_c": 1 - below}


def _radiated_below(x: float) -> float:
    """Share that a black body radiates at wavelengths below the one at which hc / (wavelength k T) = x."""
    scale = 15 / math.pi**4
    if x < SMALL_X:
        squared = x * x
        tail = 1 / 3 - x / 8 + squared * (1 / 60 - squared * (1 / 5040 - squared * (1 / 272160)))
        return 1 - scale * x**3 * tail
    total = 0.0
    for n in range(1, 2 + int(LAST_EXPONENT / x)):
        total += math.exp(-n * x) * (x**3 + 3 * x * x / n + 6 * x / n**2 + 6 / n**3) / n
    return scale * total
