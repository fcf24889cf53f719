"""Reader of how long the lamps are to be on."""

from kits.planning.spec_terms import Reading

POINTER = "/lighting"
FARTHEST_DEG = 65.0  # north or south: beyond it a month has days or nights without end


def read_latitude(reading: Reading) -> float | None:
    """The latitude whose seasons the lamps follow; None where they are on for the same hours all year."""
    if "lighting" not in reading.given:
        return None
    faults, pointer = reading.faults, f"{POINTER}/season"
    given = faults.mapping(reading.given["lighting"], POINTER, ("season",))
    if "season" not in given:
        return None
    season = faults.mapping(given["season"], pointer, ("latitude_deg",))
    if "latitude_deg" not in season:
        if isinstance(given["season"], dict):
            faults.add(f"{pointer}/latitude_deg", "must be given.")
        return None
    return faults.number(season["latitude_deg"], f"{pointer}/latitude_deg", -FARTHEST_DEG, FARTHEST_DEG)
