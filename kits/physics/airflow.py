"""How woven mesh holds back the air that a warm box and its room exchange.

The models are good to a factor of two at best: no tracer measurement of a planted box has been found. Show
every flow with its band, and let a measured one win.
"""

import math
from collections.abc import Sequence
from typing import Literal, NamedTuple, NotRequired, TypedDict

from inventory.calc.checks import not_negative, positive
from inventory.calc.errors import Impossible
from kits.physics.checks import ZERO_K, celsius, share
from kits.physics.heat import GRAVITY_M_S2, SECONDS_AN_HOUR, opening_exchange_m3_s
from kits.physics.ultraviolet import mesh_open_fraction

__all__ = [
    "exchange_band_m3_s",
    "lid_factor",
    "mesh_exchange_m3_s",
    "open_share_for_air_changes",
    "screen_loss",
    "two_opening_exchange_m3_s",
]

Law = Literal["brundrett", "bailey"]

# Constants of the three terms in 1 / Re, 1 / log10(Re + 1.25) and log10 Re.
LAWS = {"brundrett": (7.0, 0.9, 0.05), "bailey": (18.0, 0.75, 0.055)}
AIR_M2_S = 1.55e-5
DISCHARGE = 0.61
OPENING_LOSS = 1 / DISCHARGE**2
# Half of a lid lets air out while the other half lets it in.
HALVES = 2
MODEL_FACTOR = 2.0
# Where mesh rules, flow goes with D^5 / area, which grows with a side only up to four times the other.
LONGEST = 4.0
LN_10 = math.log(10)
BISECTIONS = 50


class Opening(TypedDict):
    """A hole in an upright wall or a lid, with the mesh in front of it."""

    area_m2: float
    open_fraction: NotRequired[float]
    wire_mm: NotRequired[float]


class _Branch(NamedTuple):
    """One resistance that the whole flow passes: its loss is weight x (opening + mesh x law(Re))."""

    weight: float
    reynolds_per_m3_s: float
    mesh: float
    law: Law


def screen_loss(reynolds: float, open_fraction: float, law: Law = "brundrett") -> float:
    """Pressure loss of a woven screen, in velocity heads of the air in front of it.

    Formula:
        K = (a / Re + b / log10(Re + 1.25) + c x log10 Re) x (1 - open^2) / open^2;
        a, b, c are 7, 0.9, 0.05 (brundrett) or 18, 0.75, 0.055 (bailey)
    Args:
        reynolds: Reynolds number of the wire, with the speed in front of the screen [-]
        open_fraction: share of the screen that is open [-]
        law: brundrett or bailey
    Returns:
        loss factor [-]
    Raises:
        Impossible: a Reynolds number not above zero, an open fraction outside 0 to 1 or 0, another law
    Valid:
        reynolds 0.1..200; open_fraction 0.25..0.85; round wires in a square weave
    Source:
        Brundrett 1993, J. Fluids Eng. 115, and Bailey et al. 2003, Biosyst. Eng., forms from memory; checked
        against the discharge coefficients of Lopez et al. 2016, Sensors 16(5):690
    Example:
        >>> round(screen_loss(20, 0.660848), 4), round(screen_loss(20, 0.660848, "bailey"), 4)
        (1.4099, 1.9819)
    """
    positive(reynolds=reynolds, open_fraction=open_fraction)
    share(open_fraction=open_fraction)
    return _loss(reynolds, _known(law)) * _closed(open_fraction)


def mesh_exchange_m3_s(
    width_m: float,
    length_m: float,
    opening_mm: float,
    wire_mm: float,
    density_ratio: float,
    open_share: float = 1.0,
    law: Law = "brundrett",
) -> float:
    """Air that a mesh lid lets in and out, of which one strip may be left open and the rest covered.

    Formula:
        Q = Q_open x sqrt(K0 / (K0 + K)), K0 = 1 / 0.61^2, K the screen's loss at the speed 2 Q / area;
        Q_open of the strip (open_share x width) x length without mesh
    Args:
        width_m: side of the lid that the cover shortens [m]
        length_m: other side of the lid, along the strip [m]
        opening_mm: clear opening between the wires [mm]
        wire_mm: thickness of the wire, 0 for no mesh [mm]
        density_ratio: difference of the densities of room and enclosure over their mean [-]
        open_share: share of the lid left open [-]
        law: brundrett or bailey
    Returns:
        flow, out and in alike [m3/s]
    Raises:
        Impossible: a side or opening not above zero, a negative wire or density ratio, a share outside 0 to 1
    Valid:
        wire_mm 0.1..1; opening_mm 0.3..10; density_ratio 0..0.1; open_share * width_m / length_m 0.33..3;
        half to double the figure, see exchange_band_m3_s; of longer lids and narrower strips the hydraulic
        diameter tells too little, by more than half where the mesh rules
    Source:
        exchange of horizontal openings (Epstein 1988, from memory) with the loss of the screen in series,
        as greenhouses are calculated
    Example:
        >>> flow = mesh_exchange_m3_s(0.45, 0.45, 1.2136, 0.2794, 10 / 300)
        >>> round(flow * 3600 / 0.1215, 1)
        24.4
    """
    share(open_share=open_share)
    mesh = _closed(mesh_open_fraction(opening_mm, wire_mm))
    positive(width_m=width_m, length_m=length_m)
    not_negative(density_ratio=density_ratio)
    if open_share == 0:
        return 0.0
    unmeshed = opening_exchange_m3_s(open_share * width_m, length_m, density_ratio)
    speed = HALVES / (open_share * width_m * length_m)
    branch = _Branch(1.0, _reynolds(speed, wire_mm), mesh, _known(law))
    return _flow_m3_s(OPENING_LOSS * unmeshed**2, [branch])


def lid_factor(
    width_m: float,
    length_m: float,
    opening_mm: float,
    wire_mm: float,
    density_ratio: float,
    open_share: float = 1.0,
    law: Law = "brundrett",
) -> float:
    """What the mesh of a lid leaves of the exchange that the same opening had without it.

    Formula:
        f = sqrt(K0 / (K0 + K)), as in mesh_exchange_m3_s
    Args:
        width_m: side of the lid that the cover shortens [m]
        length_m: other side of the lid [m]
        opening_mm: clear opening between the wires [mm]
        wire_mm: thickness of the wire [mm]
        density_ratio: difference of the densities over their mean [-]
        open_share: share of the lid left open [-]
        law: brundrett or bailey
    Returns:
        factor, 0 to 1 [-]
    Raises:
        Impossible: as mesh_exchange_m3_s; a share or density ratio of 0, where nothing flows
    Valid:
        wire_mm 0.1..1; opening_mm 0.3..10; density_ratio 0..0.1; open_share * width_m / length_m 0.33..3;
        good to a factor of two
    Source:
        as mesh_exchange_m3_s
    Example:
        >>> round(lid_factor(0.45, 0.45, 1.2136, 0.2794, 10 / 300), 3)
        0.193
    """
    positive(density_ratio=density_ratio, open_share=open_share)
    through = mesh_exchange_m3_s(width_m, length_m, opening_mm, wire_mm, density_ratio, open_share, law)
    return through / opening_exchange_m3_s(open_share * width_m, length_m, density_ratio)


def open_share_for_air_changes(
    width_m: float,
    length_m: float,
    opening_mm: float,
    wire_mm: float,
    density_ratio: float,
    volume_m3: float,
    air_changes_h: float,
) -> float:
    """Share of a mesh lid to leave open for so many air changes; 1 when the whole lid gives no more.

    Formula:
        the share at which mesh_exchange_m3_s x 3600 / volume = air_changes
    Args:
        width_m: side of the lid that the cover shortens [m]
        length_m: other side of the lid [m]
        opening_mm: clear opening between the wires [mm]
        wire_mm: thickness of the wire [mm]
        density_ratio: difference of the densities over their mean [-]
        volume_m3: volume of air in the enclosure [m3]
        air_changes_h: air changes wanted of the lid, without draughts through joints [1/h]
    Returns:
        share left open, one strip along length_m [-]
    Raises:
        Impossible: as mesh_exchange_m3_s; a volume not above zero, negative air changes, a width beyond 4
            lengths, where the model knows no single share: cover along the other side
    Valid:
        wire_mm 0.1..1; opening_mm 0.3..10; density_ratio 0..0.1; width_m / length_m 0.33..3; good to a
        factor of two; strips narrower than a third of their length breathe more than told: watch the glass
        and the hygrometer
    Source:
        as mesh_exchange_m3_s
    Example:
        >>> round(open_share_for_air_changes(0.45, 0.45, 1.2136, 0.2794, 5 / 300, 0.1215, 5), 2)
        0.58
    """
    positive(width_m=width_m, length_m=length_m, volume_m3=volume_m3)
    not_negative(air_changes_h=air_changes_h)
    if width_m > LONGEST * length_m:
        raise Impossible("width_m", f"must not exceed {LONGEST:g} x length_m")
    wanted = air_changes_h * volume_m3 / SECONDS_AN_HOUR
    whole = mesh_exchange_m3_s(width_m, length_m, opening_mm, wire_mm, density_ratio)
    if wanted == 0 or whole <= wanted:
        return 0.0 if wanted == 0 else 1.0
    mesh = _closed(mesh_open_fraction(opening_mm, wire_mm))
    # With the flow given, what drives it and what holds it back are known for every share.
    low, high = 0.0, 1.0
    for _ in range(BISECTIONS):
        middle = (low + high) / 2
        drive = OPENING_LOSS * opening_exchange_m3_s(middle * width_m, length_m, density_ratio) ** 2
        reynolds = wanted * _reynolds(HALVES / (middle * width_m * length_m), wire_mm)
        held = wanted**2 * (OPENING_LOSS + (mesh * _loss(reynolds, "brundrett") if mesh else 0.0))
        low, high = (middle, high) if held > drive else (low, middle)
    return (low + high) / 2


def two_opening_exchange_m3_s(
    lower: Opening, upper: Opening, height_m: float, inside_c: float, room_c: float, law: Law = "brundrett"
) -> float:
    """Air that rises through a warm box from a low opening to a high one, each with or without mesh.

    Formula:
        2 x 9.81 x height x dT / T = Q^2 x sum of (1 / 0.61^2 + K) / area^2, T the mean in kelvin;
        the other way round when the box is the colder
    Args:
        lower: area_m2, and for a mesh its open_fraction and wire_mm
        upper: area_m2, and for a mesh its open_fraction and wire_mm
        height_m: height between the middles of the openings [m]
        inside_c: temperature in the enclosure [C]
        room_c: temperature of the room [C]
        law: brundrett or bailey
    Returns:
        flow [m3/s]
    Raises:
        Impossible: an area not above zero, an open fraction outside 0 to 1 or 0, a mesh without its wire
    Valid:
        height_m 0.1..3; still room; good to a factor of two
    Source:
        stack flow, CIBSE AM10 (from memory), discharge 0.61; screens as screen_loss
    Example:
        >>> opening = {"area_m2": 0.01}
        >>> round(two_opening_exchange_m3_s(opening, opening, 0.5, 26.35, 21.35), 7)
        0.0017529
    """
    positive(height_m=height_m)
    celsius(inside_c=inside_c, room_c=room_c)
    branches = [_branch(opening, name, law) for name, opening in (("lower", lower), ("upper", upper))]
    mean_k = (inside_c + room_c) / 2 + ZERO_K
    return _flow_m3_s(2 * GRAVITY_M_S2 * height_m * abs(inside_c - room_c) / mean_k, branches)


def exchange_band_m3_s(exchange_m3_s: float) -> dict[str, float]:
    """Between which flows the true one lies when a model of mesh gives this one.

    Formula:
        half and double
    Args:
        exchange_m3_s: flow by a model [m3/s]
    Returns:
        low and high [m3/s]
    Raises:
        Impossible: a negative flow
    Valid:
        flows through mesh by the models of this room
    Source:
        the two laws of screens differ by as much; mouse cages (Reeb et al. 1997, CTLAS 36(1):74) agree with
        the model within it
    Example:
        >>> exchange_band_m3_s(0.0008)
        {'low': 0.0004, 'high': 0.0016}
    """
    not_negative(exchange_m3_s=exchange_m3_s)
    return {"low": exchange_m3_s / MODEL_FACTOR, "high": exchange_m3_s * MODEL_FACTOR}


def _known(law: Law) -> Law:
    if law not in LAWS:
        raise Impossible("law", f"must be one of {', '.join(LAWS)}")
    return law


def _closed(open_fraction: float) -> float:
    return (1 - open_fraction**2) / open_fraction**2


def _reynolds(speed_m_s: float, wire_mm: float) -> float:
    return speed_m_s * wire_mm / 1000 / AIR_M2_S


def _branch(opening: Opening, name: str, law: Law) -> _Branch:
    area, open_fraction = opening["area_m2"], opening.get("open_fraction", 1.0)
    wire_mm = opening.get("wire_mm", 0.0)
    positive(**{f"{name}.area_m2": area, f"{name}.open_fraction": open_fraction})
    share(**{f"{name}.open_fraction": open_fraction})
    not_negative(**{f"{name}.wire_mm": wire_mm})
    if open_fraction < 1 and wire_mm == 0:
        raise Impossible(f"{name}.wire_mm", "must be above zero for a mesh")
    return _Branch(area**-2, _reynolds(1 / area, wire_mm), _closed(open_fraction), _known(law))


def _loss(reynolds: float, law: Law) -> float:
    a, b, c = LAWS[law]
    return a / reynolds + b / math.log10(reynolds + 1.25) + c * math.log10(reynolds)


def _loss_slope(reynolds: float, law: Law) -> float:
    """Change of the loss for each unit of ln Re."""
    a, b, c = LAWS[law]
    logged = math.log10(reynolds + 1.25)
    return -a / reynolds - b * reynolds / ((reynolds + 1.25) * LN_10 * logged**2) + c / LN_10


def _flow_m3_s(drive: float, branches: Sequence[_Branch]) -> float:
    """The flow Q at which Q^2 x losses = drive.

    No law falls faster than 1 / Re, so the logarithm of Q^2 x losses rises with ln Q at a slope between 1 and
    2: one root, and Newton's steps in ln Q close in on it from any start.
    """
    unmeshed = sum(branch.weight for branch in branches) * OPENING_LOSS
    if drive <= 0:
        return 0.0
    flow = math.sqrt(drive / unmeshed)
    meshed = [branch for branch in branches if branch.mesh > 0]
    while meshed:
        loss, slope = unmeshed, 0.0
        for weight, reynolds_per_m3_s, mesh, law in meshed:
            reynolds = flow * reynolds_per_m3_s
            loss += weight * mesh * _loss(reynolds, law)
            slope += weight * mesh * _loss_slope(reynolds, law)
        # Logarithms one by one: the square of a very small flow is no number any more.
        step = (2 * math.log(flow) + math.log(loss) - math.log(drive)) / (2 + slope / loss)
        flow *= math.exp(-step)
        if not abs(step) > 1e-9:
            break
    return flow
