"""Readings of UV lamps: what mesh and age leave of one, what stands in for none, and which to distrust."""

from collections.abc import Sequence
from typing import Literal, TypedDict

from inventory.calc.checks import finite, not_negative, positive, within
from inventory.calc.errors import Impossible

__all__ = ["aged_share", "placeholder_uv_index", "shortwave_alarm", "transmission"]

LEAST_UVB_PER_INDEX = 10.0
PLACEHOLDER_DISTANCE_M = 0.30
# UV index at 30 cm with a reflector and no mesh. T5: middle of a class from memory, give or take half of it
# (the upper class agrees with a hobby lamp page of 2019: good tubes reach 5 at 30 cm). T8: one test report of
# 2008-9 on an 18 W tube, never above 1 from 15 to 30 cm.
PLACEHOLDERS = {
    "t5_2_to_5_pct": (0.425, 1.275),
    "t5_6_pct": (1.125, 3.375),
    "t5_12_pct": (2.0, 6.0),
    "t8": (0.0, 1.0),
}


LampClass = Literal["t5_2_to_5_pct", "t5_6_pct", "t5_12_pct", "t8"]


class Alarm(TypedDict):
    """Whether a lamp's light is too short in wavelength."""

    ratio: float
    reject: bool


class Estimate(TypedDict):
    """A band that stands in for a reading nobody has taken; never to be shown as a reading."""

    low: float
    high: float
    distance_m: float
    estimate: bool


def transmission(open_fraction: float, reflector_gain: float = 1.0, age_share: float = 1.0) -> float:
    """Share of a lamp's reading that is left behind a mesh, in another reflector, after ageing.

    Formula:
        T = open fraction x reflector gain x age share
    Args:
        open_fraction: open fraction of the mesh, 1 without mesh, 0 for glass and plastic [-]
        reflector_gain: gain against the reflector of the reading, 1 when it was read in its fixture [-]
        age_share: output left since the reading [-]
    Returns:
        share [-]
    Raises:
        Impossible: an open fraction or age share not from 0 to 1, a gain not above zero
    Valid:
        open_fraction 0..1; reflector_gain 0.4..2.5; ordinary glass is opaque to UVB, and ordinary acrylic and
        polycarbonate nearly so
    Source:
        geometry of the mesh; gain of a polished reflector over a bare tube 1.5 to 2.5 from memory
    Example:
        >>> transmission(0.60) * 5.0
        3.0
    """
    within(0, 1, open_fraction=open_fraction, age_share=age_share)
    positive(reflector_gain=reflector_gain)
    return open_fraction * reflector_gain * age_share


def aged_share(months: float, loss_per_year: Sequence[float] = (0.10, 0.30)) -> list[float]:
    """Share of its output that a UV lamp keeps after months of use, as a band.

    Formula:
        share = (1 - loss)^(months / 12), for the largest and the smallest loss
    Args:
        months: months of use since the reading [months]
        loss_per_year: smallest and largest loss of output in a year [-]
    Returns:
        lowest and highest share [-]
    Raises:
        Impossible: negative months, losses not two rising shares from 0 to below 1
    Valid:
        months 0..24; T5 tubes after burning-in; a meter beats any guess
    Source:
        10 to 30 % a year from memory; replacement at 8 to 12 months is common practice, no source
    Example:
        >>> [round(share, 2) for share in aged_share(12)]
        [0.7, 0.9]
    """
    not_negative(months=months)
    if len(loss_per_year) != 2:
        raise Impossible("loss_per_year", "must be two shares, the smaller first")
    low, high = loss_per_year
    finite(loss_per_year=low)
    finite(loss_per_year=high)
    if not 0 <= low <= high < 1:
        raise Impossible("loss_per_year", "must be two shares from 0 to below 1, the smaller first")
    return [float((1 - loss) ** (months / 12)) for loss in (high, low)]


def shortwave_alarm(uvb_uw_cm2: float, uv_index: float) -> Alarm:
    """Whether a lamp gives too short-waved light: little broadband UVB for its UV index.

    Formula:
        ratio = UVB / UVI; reject below 10 uW/cm2
    Args:
        uvb_uw_cm2: broadband UVB reading, 280 to 320 nm [uW/cm2]
        uv_index: UV index at the same spot [-], > 0
    Returns:
        ratio [uW/cm2] and whether to reject the lamp
    Raises:
        Impossible: a negative UVB reading, a UV index not above zero
    Valid:
        uv_index 0.5..20; both readings from one spot; UVB meters of different makers disagree
    Source:
        common practice, no source; sunlight reads 50 to 55 and most lamps 20 to 30 on a hobby page, a harmful
        75 W lamp read 5.4 to 5.5 on a keepers' forum
    Example:
        >>> alarm = shortwave_alarm(21, 3.8)
        >>> round(alarm["ratio"], 2), alarm["reject"]
        (5.53, True)
    """
    not_negative(uvb_uw_cm2=uvb_uw_cm2)
    positive(uv_index=uv_index)
    ratio = uvb_uw_cm2 / uv_index
    return {"ratio": ratio, "reject": ratio < LEAST_UVB_PER_INDEX}


def placeholder_uv_index(
    lamp_class: LampClass,
) -> Estimate:
    """Band of UV index that stands in for a lamp nobody has measured; an estimate, never a reading.

    Formula:
        table
    Args:
        lamp_class: kind of lamp, by technology and the UVB share on its label
    Returns:
        lowest and highest UV index [-] at a distance, marked as an estimate
    Raises:
        Impossible: a class that is not in the table
    Valid:
        with a reflector, without mesh, new; measure the lamp and enter its reading instead
    Source:
        from memory, give or take half; T8 from one test report of 2008-9
    Example:
        >>> placeholder_uv_index("t5_6_pct")
        {'low': 1.125, 'high': 3.375, 'distance_m': 0.3, 'estimate': True}
    """
    if lamp_class not in PLACEHOLDERS:
        raise Impossible("lamp_class", f"must be one of {', '.join(PLACEHOLDERS)}")
    low, high = PLACEHOLDERS[lamp_class]
    return {"low": low, "high": high, "distance_m": PLACEHOLDER_DISTANCE_M, "estimate": True}
