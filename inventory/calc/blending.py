"""What becomes of volumes, densities, carbon and moisture when loose ingredients are mixed."""

from collections.abc import Sequence
from typing import TypedDict

from inventory.calc.checks import not_negative, positive, within
from inventory.calc.errors import Impossible

__all__ = [
    "blended_density_kg_l",
    "blended_volume_l",
    "carbon_nitrogen_ratio",
    "ec_range",
    "moisture_to_add_l",
    "ph_range",
    "second_part_kg_for_moisture",
    "second_part_kg_for_ratio",
]

MOST_PH = 14.0
MOST_EC_MS_CM = 50.0
MOST_PARTS = 200  # far more than any mix has; each is held against each other one


class GrainPart(TypedDict):
    """A poured ingredient by its grain."""

    volume_l: float
    grain_mm: float
    void_fraction: float


class DensePart(GrainPart):
    """A poured ingredient with its dry bulk density."""

    density_kg_l: float


class Composition(TypedDict):
    """What an ingredient is made of: carbon and nitrogen of the dry mass, water of the wet mass."""

    carbon_pct: float
    nitrogen_pct: float
    moisture_pct: float


class WeighedPart(Composition):
    """A weighed ingredient with its composition."""

    wet_kg: float


class AcidPart(TypedDict):
    """A poured ingredient with the range of its pH."""

    volume_l: float
    ph_lo: float
    ph_hi: float


class SaltPart(TypedDict):
    """A poured ingredient with the range of its electrical conductivity."""

    volume_l: float
    ec_lo: float
    ec_hi: float


def filling(ratio: float) -> float:
    """How fully small grains vanish in the voids of large ones, by small over large size; 1 to 0."""
    return float((1 - ratio) ** 3.3 + 2.8 * ratio * (1 - ratio) ** 2.7)


def embedding(ratio: float) -> float:
    """How fully a large grain displaces the voids of the small ones around it, by size ratio; 1 to 0."""
    return float((1 - ratio) ** 2.0 + 0.4 * ratio * (1 - ratio) ** 3.7)


def packing_weights(
    grains_mm: Sequence[float], void_fractions: Sequence[float]
) -> tuple[tuple[float, ...], ...]:
    """Row i, column j: the share of a poured litre of j that counts while the grains of i set the volume.

    Every row times the poured litres is one candidate volume; the greatest is the volume of the mix.
    """
    parts = list(zip(grains_mm, void_fractions, strict=True))
    return tuple(tuple(_counts(own, grain, void) for grain, void in parts) for own in grains_mm)


def _counts(own_mm: float, grain_mm: float, void_fraction: float) -> float:
    if grain_mm > own_mm:
        return 1 - void_fraction * embedding(own_mm / grain_mm)
    return 1 - filling(grain_mm / own_mm)


def blended_volume_l(parts: Sequence[GrainPart], calibration: float = 1.0) -> float:
    """Volume of a mix of loose ingredients: fine grains fill the voids between coarse ones.

    Formula:
        V = (1 - k) sum A + k max_i V_i, V_i = A_i + sum over larger j of A_j [1 - e_j g(d_i/d_j)]
        + sum over smaller j of A_j [1 - f(d_j/d_i)], f(r) = (1-r)^3.3 + 2.8 r (1-r)^2.7,
        g(r) = (1-r)^2 + 0.4 r (1-r)^3.7
    Args:
        parts: ingredients, each with its poured volume A [L], its grain size d [mm] and the voids e between
        its grains
        calibration: share k of the predicted shrinkage that happens, 1 for hard grains;
        a test batch tells it [-]
    Returns:
        volume [L]
    Raises:
        Impossible: no parts or more than 200,
        a negative volume, a grain not above zero, a fraction or calibration outside 0
        to 1
    Valid:
        parts.grain_mm 0.05..60; parts.void_fraction 0.3..0.6;
        hard round grains at calibration 1, soft and fibrous
        parts near 0.6 (derived from one published mix)
    Source:
        modified linear packing model, Yu, Zou and Standish 1996, Ind. Eng. Chem. Res. 35:3730 (constants);
        unequal voids from memory, limits checked
    Example:
        >>> bark_and_sand = [{"volume_l": 10, "grain_mm": 10, "void_fraction": 0.45},
        ...     {"volume_l": 10, "grain_mm": 0.5, "void_fraction": 0.40}]
        >>> round(blended_volume_l(bark_and_sand), 3)
        15.864
    """
    _check_grains(parts)
    within(0, 1, calibration=calibration)
    poured = [part["volume_l"] for part in parts]
    weights = packing_weights([part["grain_mm"] for part in parts], [part["void_fraction"] for part in parts])
    candidates = (sum(w * a for w, a in zip(row, poured, strict=True)) for row in weights)
    # Grains that are not there cannot set the volume.
    packed = max((v for v, litres in zip(candidates, poured, strict=True) if litres > 0), default=0.0)
    return (1 - calibration) * sum(poured) + calibration * packed


def blended_density_kg_l(parts: Sequence[DensePart], calibration: float = 1.0) -> float:
    """Dry bulk density of a mix: mass stays, volume shrinks.

    Formula:
        density = sum A_i density_i / V, V the blended volume
    Args:
        parts: ingredients, each with its poured volume A [L], dry density [kg/L], grain size [mm] and voids
        calibration: share of the predicted shrinkage that happens [-]
    Returns:
        dry bulk density [kg/L]
    Raises:
        Impossible: as for the blended volume, a density not above zero, nothing poured
    Valid:
        parts.density_kg_l 0.01..2; parts.grain_mm 0.05..60; parts.void_fraction 0.3..0.6
    Source:
        conservation of mass; volume by Yu, Zou and Standish 1996
    Example:
        >>> round(blended_density_kg_l([
        ...     {"volume_l": 10, "density_kg_l": 0.18, "grain_mm": 10, "void_fraction": 0.45},
        ...     {"volume_l": 10, "density_kg_l": 1.5, "grain_mm": 0.5, "void_fraction": 0.40}]), 3)
        1.059
    """
    _check_grains(parts)
    for index, part in enumerate(parts):
        positive(**{f"parts.{index}.density_kg_l": part["density_kg_l"]})
    mass_kg = sum(part["volume_l"] * part["density_kg_l"] for part in parts)
    volume_l = blended_volume_l(parts, calibration)
    if volume_l <= 0:
        raise Impossible("parts", "must hold more than nothing")
    return mass_kg / volume_l


def carbon_nitrogen_ratio(parts: Sequence[WeighedPart]) -> float:
    """Carbon to nitrogen of a mix by mass; not the mean of the ratios.

    Formula:
        C:N = sum Q_i C_i (100 - M_i) / sum Q_i N_i (100 - M_i)
    Args:
        parts: ingredients, each with its wet mass Q [kg], carbon C and nitrogen N of the dry mass [%] and
        moisture M [%]
    Returns:
        ratio by mass [-]
    Raises:
        Impossible: no parts or more than 200,
        a negative mass, a share outside 0 to 100 %, no nitrogen in all of them
    Valid:
        parts.carbon_pct 1..65; parts.nitrogen_pct 0.03..15; parts.moisture_pct 0..90;
        all carbon counts, although wood
        and charcoal give theirs up slowly
    Source:
        Cornell composting equation (ratio of a mix by wet mass)
    Example:
        >>> round(carbon_nitrogen_ratio([
        ...     {"wet_kg": 10, "carbon_pct": 45, "nitrogen_pct": 2.4, "moisture_pct": 77},
        ...     {"wet_kg": 6.8, "carbon_pct": 50, "nitrogen_pct": 0.75, "moisture_pct": 35}]), 2)
        36.73
    """
    _some(parts)
    carbon = nitrogen = 0.0
    for index, part in enumerate(parts):
        dry_kg = _dry_kg(part, f"parts.{index}.")
        carbon += dry_kg * part["carbon_pct"]
        nitrogen += dry_kg * part["nitrogen_pct"]
    if nitrogen <= 0:
        raise Impossible("parts", "hold no nitrogen, so there is no ratio")
    return carbon / nitrogen


def second_part_kg_for_ratio(first: WeighedPart, second: Composition, ratio: float) -> float:
    """Wet mass of a second ingredient that brings a first one to a wanted carbon to nitrogen ratio.

    Formula:
        Q2 = Q1 N1 (R - C1/N1) (100 - M1) / [N2 (C2/N2 - R) (100 - M2)]
    Args:
        first: what is there: wet mass Q1 [kg], carbon C1 and nitrogen N1 of the dry mass [%], moisture M1 [%]
        second: what is added: carbon C2 and nitrogen N2 of the dry mass [%], moisture M2 [%]
        ratio: wanted carbon to nitrogen R [-]
    Returns:
        wet mass [kg]
    Raises:
        Impossible: a ratio that does not lie between those of the two, a share outside 0 to 100 %
    Valid:
        ratio 5..200
    Source:
        Cornell composting equation, solved for the second ingredient
    Example:
        >>> round(second_part_kg_for_ratio(
        ...     {"wet_kg": 10, "carbon_pct": 45, "nitrogen_pct": 2.4, "moisture_pct": 77},
        ...     {"carbon_pct": 50, "nitrogen_pct": 0.75, "moisture_pct": 35}, 30), 3)
        3.474
    """
    positive(ratio=ratio)
    short = _dry_kg(first, "first.") * (ratio * first["nitrogen_pct"] - first["carbon_pct"])
    spare = _dry_kg({**second, "wet_kg": 1.0}, "second.") * (
        second["carbon_pct"] - ratio * second["nitrogen_pct"]
    )
    if short == 0:
        return 0.0
    if short * spare <= 0:
        raise Impossible("ratio", "must lie between the ratios of the two ingredients")
    return short / spare


def second_part_kg_for_moisture(
    first_kg: float, first_moisture_pct: float, second_moisture_pct: float, goal_pct: float
) -> float:
    """Wet mass of a second ingredient that brings a first one to a wanted moisture.

    Formula:
        Q2 = Q1 (goal - M1) / (M2 - goal)
    Args:
        first_kg: wet mass Q1 of what is there [kg]
        first_moisture_pct: its moisture M1, of the wet mass [%]
        second_moisture_pct: moisture M2 of what is added, of the wet mass [%]
        goal_pct: wanted moisture [%]
    Returns:
        wet mass [kg]
    Raises:
        Impossible: a negative mass, a share outside 0 to 100 %, a goal not between the two moistures
    Valid:
        goal_pct 5..85
    Source:
        conservation of water; Cornell composting equation
    Example:
        >>> round(second_part_kg_for_moisture(10, 77, 35, 60), 1)
        6.8
    """
    not_negative(first_kg=first_kg)
    within(
        0,
        100,
        first_moisture_pct=first_moisture_pct,
        second_moisture_pct=second_moisture_pct,
        goal_pct=goal_pct,
    )
    short, spare = goal_pct - first_moisture_pct, second_moisture_pct - goal_pct
    if short == 0:
        return 0.0
    if short * spare <= 0:
        raise Impossible("goal_pct", "must lie between the moistures of the two ingredients")
    return first_kg * short / spare


def moisture_to_add_l(wet_kg: float, moisture_pct: float, goal_pct: float) -> float:
    """Water that brings an ingredient or a mix to a wanted moisture; 0 where it is moist enough.

    Formula:
        water = Q (goal - M) / (100 - goal), never below zero; 1 kg of water as 1 L
    Args:
        wet_kg: wet mass Q [kg]
        moisture_pct: its moisture M, of the wet mass [%]
        goal_pct: wanted moisture, of the wet mass [%]
    Returns:
        water [L]
    Raises:
        Impossible: a negative mass, a share outside 0 to 100 %, a goal of pure water
    Valid:
        goal_pct 5..85
    Source:
        conservation of water
    Example:
        >>> round(moisture_to_add_l(10, 20, 50), 2)
        6.0
    """
    not_negative(wet_kg=wet_kg)
    within(0, 100, moisture_pct=moisture_pct, goal_pct=goal_pct)
    if goal_pct == 100:
        raise Impossible("goal_pct", "must be below 100 %")
    return max(0.0, wet_kg * (goal_pct - moisture_pct) / (100 - goal_pct))


def ph_range(parts: Sequence[AcidPart]) -> list[float]:
    """Range in which the pH of a mix lies: between the most acid and the most alkaline ingredient.

    Formula:
        [least ph_lo, greatest ph_hi] of the parts that are there
    Args:
        parts: ingredients, each with its poured volume [L] and the range of its pH
    Returns:
        lowest and highest [pH]
    Raises:
        Impossible: no parts or more than 200,
        a negative volume, a pH outside 0 to 14, a range turned round
    Valid:
        ingredients without lime or fertiliser; buffering decides where in the range: measure the mix
    Source:
        common practice, no source: a mix lies between its ingredients
    Example:
        >>> ph_range([{"volume_l": 3, "ph_lo": 3.0, "ph_hi": 4.5},
        ...     {"volume_l": 1, "ph_lo": 6.5, "ph_hi": 7.8}])
        [3.0, 7.8]
    """
    return _hull([(part["volume_l"], part["ph_lo"], part["ph_hi"]) for part in parts], "ph", MOST_PH)


def ec_range(parts: Sequence[SaltPart]) -> list[float]:
    """Range in which the electrical conductivity of a mix lies.

    Formula:
        [least ec_lo, greatest ec_hi] of the parts that are there
    Args:
        parts: ingredients, each with its poured volume [L] and the range of its conductivity
    Returns:
        lowest and highest [mS/cm]
    Raises:
        Impossible: no parts or more than 200,
        a negative volume, a conductivity outside 0 to 50, a range turned round
    Valid:
        all measured in the same kind of extract; measure the mix
    Source:
        common practice, no source: a mix lies between its ingredients
    Example:
        >>> ec_range([{"volume_l": 3, "ec_lo": 0.3, "ec_hi": 2.9},
        ...     {"volume_l": 1, "ec_lo": 2.8, "ec_hi": 2.8}])
        [0.3, 2.9]
    """
    return _hull([(part["volume_l"], part["ec_lo"], part["ec_hi"]) for part in parts], "ec", MOST_EC_MS_CM)


def _hull(ranges: Sequence[tuple[float, float, float]], key: str, most: float) -> list[float]:
    _some(ranges)
    for index, (volume_l, low, high) in enumerate(ranges):
        not_negative(**{f"parts.{index}.volume_l": volume_l})
        within(0, most, **{f"parts.{index}.{key}_lo": low, f"parts.{index}.{key}_hi": high})
        if low > high:
            raise Impossible(f"parts.{index}.{key}_hi", f"must not be below {key}_lo")
    there = [(low, high) for volume_l, low, high in ranges if volume_l > 0]
    if not there:
        raise Impossible("parts", "must hold more than nothing")
    return [min(low for low, _ in there), max(high for _, high in there)]


def _some(parts: Sequence[object]) -> None:
    if not parts:
        raise Impossible("parts", "must hold at least one part")
    if len(parts) > MOST_PARTS:
        raise Impossible("parts", f"must hold at most {MOST_PARTS} parts")


def _check_grains(parts: Sequence[GrainPart]) -> None:
    _some(parts)
    for index, part in enumerate(parts):
        not_negative(**{f"parts.{index}.volume_l": part["volume_l"]})
        positive(**{f"parts.{index}.grain_mm": part["grain_mm"]})
        within(0, 1, **{f"parts.{index}.void_fraction": part["void_fraction"]})


def _dry_kg(part: WeighedPart, path: str) -> float:
    not_negative(**{f"{path}wet_kg": part["wet_kg"]})
    shares = {f"{path}{key}": part[key] for key in ("carbon_pct", "nitrogen_pct", "moisture_pct")}
    within(0, 100, **shares)
    return part["wet_kg"] * (100 - part["moisture_pct"]) / 100
