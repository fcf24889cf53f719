"""Lengths, areas and volumes of layers inside a box."""

from inventory.calc.errors import Impossible

__all__ = ["clipped_layer_l", "footprint_m2", "layer_l", "overhang_mm", "poured_l", "sheets_to_cover"]

LITRES_PER_M3 = 1000.0
OVERHANG_MM = 60.0


def layer_l(width_m: float, depth_m: float, front_m: float, back_m: float) -> float:
    """Volume of one soil layer whose depth rises evenly from front to back.

    Formula:
        V = 1000 x width x depth x (front + back) / 2
    Args:
        width_m: inside width [m]
        depth_m: inside depth from front to back [m]
        front_m: depth of the layer at the front [m]
        back_m: depth of the layer at the back [m]
    Returns:
        volume [L]
    Raises:
        Impossible: width or depth not above zero, a negative layer depth
    Valid:
        any box with upright walls and a layer that stays below its rim
    Source:
        volume of a prism with a trapezoid as its base, school geometry
    Example:
        >>> round(layer_l(0.443, 0.443, 0.060, 0.110), 2)
        16.68
    """
    _positive(width_m=width_m, depth_m=depth_m)
    _not_negative(front_m=front_m, back_m=back_m)
    return LITRES_PER_M3 * width_m * depth_m * (front_m + back_m) / 2


def clipped_layer_l(width_m: float, depth_m: float, front_m: float, back_m: float, height_m: float) -> float:
    """Volume of a sloped layer of which nothing stands above a level rim.

    Formula:
        V = 1000 x width x integral over the depth of min(surface, height)
    Args:
        width_m: inside width [m]
        depth_m: inside depth from front to back [m]
        front_m: height of the surface at the front [m]
        back_m: height of the surface at the back [m]
        height_m: height of the rim [m]
    Returns:
        volume [L]
    Raises:
        Impossible: a side or the rim not above zero, a negative layer depth
    Valid:
        any box with upright walls
    Source:
        integral of a straight line cut off at a level, school geometry
    Example:
        >>> round(clipped_layer_l(1.0, 1.0, 0.0, 0.2, 0.1), 6)
        75.0
    """
    _positive(width_m=width_m, depth_m=depth_m, height_m=height_m)
    _not_negative(front_m=front_m, back_m=back_m)
    low, high = sorted((front_m, back_m))
    whole = layer_l(width_m, depth_m, front_m, back_m)
    if high <= height_m:
        return whole
    if low >= height_m:
        return LITRES_PER_M3 * width_m * depth_m * height_m
    share_above = (high - height_m) / (high - low)
    return whole - LITRES_PER_M3 * width_m * depth_m * share_above * (high - height_m) / 2


def poured_l(settled_l: float, settle: float, displaced_l: float = 0.0) -> float:
    """Litres to pour for a layer that settles and in which things stand.

    Formula:
        poured = max(0, layer - displaced) x (1 + settle)
    Args:
        settled_l: volume of the layer in place [L]
        settle: extra litres for each litre in place, 0.125 for most soils [-]
        displaced_l: volume of what stands in the layer, such as stones and roots [L]
    Returns:
        volume [L]
    Raises:
        Impossible: a negative volume or settling
    Valid:
        settle 0..0.5; a layer poured at once, before anything decays
    Source:
        arithmetic; settling is a planning value: bark rises 18 % in density in a deep core (Owen and Altland
        2008), 10 to 15 % for coir and peat mixes, 30 to 50 % for loose litter are common practice, no source
    Example:
        >>> round(poured_l(16.6812, 0.125, 0.15), 4)
        18.5976
    """
    _not_negative(settled_l=settled_l, settle=settle, displaced_l=displaced_l)
    return max(0.0, settled_l - displaced_l) * (1 + settle)


def footprint_m2(width_m: float, depth_m: float) -> float:
    """Inside floor area of a box.

    Formula:
        A = width x depth
    Args:
        width_m: inside width [m]
        depth_m: inside depth [m]
    Returns:
        area [m2]
    Raises:
        Impossible: a side not above zero
    Valid:
        any box with a rectangular floor
    Source:
        area of a rectangle, school geometry
    Example:
        >>> round(footprint_m2(0.443, 0.443), 6)
        0.196249
    """
    _positive(width_m=width_m, depth_m=depth_m)
    return width_m * depth_m


def sheets_to_cover(
    width_mm: float, depth_mm: float, sheet_width_mm: float, sheet_depth_mm: float, overlap_mm: float = 30.0
) -> int:
    """Number of equal sheets that cover a floor, laid in rows with an overlap, the better way round.

    Formula:
        n = rows(width) x rows(depth), rows(s) = 1 if s <= sheet, else ceil((s - overlap) / (sheet - overlap))
    Args:
        width_mm: inside width of the floor [mm]
        depth_mm: inside depth of the floor [mm]
        sheet_width_mm: width of one sheet [mm]
        sheet_depth_mm: depth of one sheet [mm]
        overlap_mm: overlap where two sheets meet [mm]
    Returns:
        number [sheets]
    Raises:
        Impossible: a side not above zero, a negative overlap, or a sheet not wider than the overlap
    Valid:
        any rectangular floor; sheets are not cut and pieced together
    Source:
        counting rows; the 30 mm overlap is common practice, no source
    Example:
        >>> sheets_to_cover(443, 443, 450, 900)
        1
        >>> sheets_to_cover(890, 443, 450, 450)
        3
    """
    _positive(width_mm=width_mm, depth_mm=depth_mm, sheet_width_mm=sheet_width_mm)
    _positive(sheet_depth_mm=sheet_depth_mm)
    _not_negative(overlap_mm=overlap_mm)
    ways = (
        _rows(width_mm, sheet_width_mm, overlap_mm) * _rows(depth_mm, sheet_depth_mm, overlap_mm),
        _rows(width_mm, sheet_depth_mm, overlap_mm) * _rows(depth_mm, sheet_width_mm, overlap_mm),
    )
    return min(ways)


def overhang_mm(length_mm: float, span_mm: float) -> float:
    """How far a bar that lies centred across a span stands out at each end; negative when it is too short.

    Formula:
        overhang = (length - span) / 2
    Args:
        length_mm: length of the bar [mm]
        span_mm: distance between the two supports [mm]
    Returns:
        overhang [mm]
    Raises:
        Impossible: a length not above zero
    Valid:
        a straight bar laid centred on two rims
    Source:
        school geometry
    Example:
        >>> overhang_mm(549, 450)
        49.5
    """
    _positive(length_mm=length_mm, span_mm=span_mm)
    return (length_mm - span_mm) / 2


def _rows(side_mm: float, sheet_mm: float, overlap_mm: float) -> int:
    if sheet_mm >= side_mm:
        return 1
    if sheet_mm <= overlap_mm:
        raise Impossible("overlap_mm", "must be smaller than each side of the sheet")
    return int(-((side_mm - overlap_mm) // -(sheet_mm - overlap_mm)))


def _positive(**lengths: float) -> None:
    for name, value in lengths.items():
        if not value > 0:
            raise Impossible(name, "must be above zero")


def _not_negative(**lengths: float) -> None:
    for name, value in lengths.items():
        if not value >= 0:
            raise Impossible(name, "must not be negative")
