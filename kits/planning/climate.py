"""The climate that suits every animal of a build: where their published bands overlap."""

from collections.abc import Sequence

from kits.terms.build import Climate, Room
from kits.terms.facts import Subject
from kits.terms.plan import Caution

Band = tuple[float | None, float | None]
# What it is called, the keys of its bounds, its unit.
DEADLY_K = 8.0  # so far above what an animal stands nobody may sell it a home; common sense, no source
BANDS = {
    "day": ("day air", "day_air_lo_c", "day_air_hi_c", " C"),
    "night": ("night air", "night_lo_c", "night_hi_c", " C"),
    "bask": ("basking surface", "bask_surface_lo_c", "bask_surface_hi_c", " C"),
    "humidity": ("humidity", "rh_lo_pct", "rh_hi_pct", " %"),
    "uv": ("UV zone", "uv_zone_lo", "uv_zone_hi", ""),
}


def shared_climate(animals: Sequence[Subject]) -> tuple[Climate, tuple[Caution, ...]]:
    """The overlap of all bands; where two do not overlap the first animal's stands, with a stop.

    Formula:
        low = largest lower bound, high = smallest upper bound
    Args:
        animals: the species, the first one first
    Returns:
        Climate and a stop for every band that is empty
    Raises:
        nothing
    Valid:
        published bands of the species; a missing bound is left open
    Source:
        each figure names its own
    Example:
        >>> shared_climate(())[0] == Climate()
        True
    """
    found = {band: _overlap(animals, band) for band in BANDS}
    day, night, bask, humidity, uv = (found[band][0] for band in ("day", "night", "bask", "humidity", "uv"))
    climate = Climate(*day, *night, *bask, *humidity, *(None if zone is None else int(zone) for zone in uv))
    return climate, tuple(caution for _, caution in found.values() if caution is not None)


def _overlap(animals: Sequence[Subject], band: str) -> tuple[Band, Caution | None]:
    name, low_key, high_key, unit = BANDS[band]
    bands = [(a, a.number(low_key), a.number(high_key)) for a in animals]
    lows = [(low, a) for a, low, _ in bands if low is not None]
    highs = [(high, a) for a, _, high in bands if high is not None]
    low, warm = max(lows, key=lambda pair: pair[0], default=(None, None))
    high, cool = min(highs, key=lambda pair: pair[0], default=(None, None))
    if low is None or high is None or low <= high or warm is None or cool is None:
        return (low, high), None
    text = (
        f"No {name} suits all: {warm.name} wants at least {low:g}{unit}, {cool.name} at most {high:g}{unit}. "
        "They cannot share an enclosure."
    )
    first = next((a_low, a_high) for _, a_low, a_high in bands if a_low is not None or a_high is not None)
    return first, Caution("stop", "animals", text)


def room_cautions(climate: Climate, room: Room) -> tuple[Caution, ...]:
    """Where the room itself is too warm, for nothing in a kit cools, or its night and day look swapped."""
    found = []
    if room.night_temperature_c > room.temperature_c:
        text = (
            f"The room is given as {room.night_temperature_c:g} C at night and {room.temperature_c:g} C by "
            "day, so warmer at night: see that the two are not swapped."
        )
        found.append(Caution("warning", "room", text))
    if climate.day_hi_c is not None and room.warmest_c > climate.day_hi_c:
        when = "by day" if room.warmest_day_c is None else "on its warmest day"
        found.append(_too_warm(when, room.warmest_c, climate.day_hi_c))
    if climate.night_hi_c is not None and room.night_temperature_c > climate.night_hi_c:
        found.append(_too_warm("by night", room.night_temperature_c, climate.night_hi_c))
    return tuple(found)


def _too_warm(when: str, room_c: float, most_c: float) -> Caution:
    text = f"The room is {room_c:g} C {when}, the animals stand at most {most_c:g} C: nothing in a kit cools."
    level = "stop" if room_c > most_c + DEADLY_K else "warning"
    return Caution(level, "room", text)
