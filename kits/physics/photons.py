"""Photons by the lumen: what an illuminance or a lamp's lumens are worth to plants."""

from inventory.calc.checks import not_negative
from inventory.calc.errors import Impossible
from kits.physics.published import published_column

__all__ = ["flux_from_lumens", "ppfd_from_lux"]


def ppfd_from_lux(lux: float, source: str) -> float:
    """Photons that go with an illuminance, by the kind of light.

    Formula:
        PPFD = lux x factor of the source
    Args:
        lux: illuminance [lux]
        source: kind of light, a code of kits/data/lux_factors.csv such as sunlight or white_led
    Returns:
        photosynthetic photon flux density [umol/m2/s]
    Raises:
        Impossible: a negative illuminance, a source that is not in the table
    Valid:
        lux 0..150000; light of the kind named: for another spectrum the factor errs by tens of percent
    Source:
        each factor with its source in kits/data/lux_factors.csv
    Example:
        >>> ppfd_from_lux(10000, "sunlight")
        185.0
    """
    not_negative(lux=lux)
    return lux * _photons_per_lumen(source)


def flux_from_lumens(lumens: float, source: str) -> float:
    """Photons that a lamp of known lumens gives out, by the kind of light.

    Formula:
        PPF = lumens x factor of the source
    Args:
        lumens: luminous flux of the lamp [lm]
        source: kind of light, a code of kits/data/lux_factors.csv such as white_led
    Returns:
        photosynthetic photon flux [umol/s]
    Raises:
        Impossible: a negative flux, a source that is not in the table
    Valid:
        lumens 0..200000; light of the kind named
    Source:
        each factor with its source in kits/data/lux_factors.csv
    Example:
        >>> round(flux_from_lumens(3000, "cie_led_b3"), 1)
        43.0
    """
    not_negative(lumens=lumens)
    return lumens * _photons_per_lumen(source)


def _photons_per_lumen(source: str) -> float:
    factors = published_column("lux_factors", "ppfd_per_lux")
    if source not in factors:
        raise Impossible("source", f"must be one of {', '.join(factors)}")
    return factors[source]
