"""The settings of the finished enclosure, each with its source."""

from collections.abc import Iterator, Mapping

from kits.documents import amounts
from kits.documents.content import Fact
from kits.effects import season
from kits.effects.moisture import DRAINS_SHARE
from kits.terms.build import Build
from kits.terms.conditions import humidity_pct
from kits.terms.rounding import uv_index

RUNS_OFF = f"estimate: about {DRAINS_SHARE:.0%} of it runs into the soil, measure the humidity"
PRACTICE = "common practice, no source"
TROPICAL = frozenset(("humid-forest", "seasonal-forest"))
MONTHLY = "from the first days of each month"
ZONES = "zones after Ferguson 2010; check with a UV index meter"
Numbers = Mapping[str, object]


def settings(build: Build, roles: frozenset[str], figures: Numbers) -> tuple[Fact, ...]:
    """What to set and what to hold; a figure that nobody has published is left out, never guessed."""
    climate, units = build.climate, build.units
    source = _source(build)
    low_pct, high_pct = humidity_pct(build)
    found = (
        Fact("Air by day", amounts.temperature(climate.day_lo_c, climate.day_hi_c, units), source),
        Fact("Air at night", amounts.temperature(climate.night_lo_c, climate.night_hi_c, units), source),
        Fact("Basking surface", amounts.temperature(climate.bask_lo_c, climate.bask_hi_c, units), source),
        Fact("Humidity", amounts.band(low_pct, high_pct, "% relative humidity"), source),
        Fact("UV zone", _zone(build) if "uvb_lamp" in roles else "", ZONES),
        *_computed(figures, units),
        *_light(build, roles),
    )  # fmt: skip
    return tuple(fact for fact in found if fact.value)


def _source(build: Build) -> str:
    names = ", ".join(dict.fromkeys(o.subject.english_name or o.subject.name for o in build.occupants))
    return f"for {names}; facts of this house" if names else f"for the style {build.style.code}"


def _zone(build: Build) -> str:
    low, high = build.climate.uv_zone_lo, build.climate.uv_zone_hi
    return "" if low is None and high is None else amounts.band(low, high, "").strip()


def _computed(figures: Numbers, units: str) -> tuple[Fact, ...]:
    estimate = "computed estimate, measure it"
    rows = []
    if (index := _number(figures, "uvi_at_basking")) is not None:
        worn = _number(figures, "uvi_at_replacement")
        later = "" if worn is None else f" new, {uv_index(worn)} worn"
        rows.append(Fact("UV index at the basking place", f"{uv_index(index)}{later}", estimate))
    if (surface := _number(figures, "basking_surface_c")) is not None:
        rows.append(Fact("Basking surface, computed", amounts.temperature(surface, surface, units), estimate))
    if (first := _number(figures, "first_watering_l")) is not None:
        rows.append(Fact("First watering", amounts.water(first, units), estimate))
    if (mist := _number(figures, "misting_l_day")) is not None:
        rows.append(Fact("Sprayed a day", amounts.water(mist / (1 - DRAINS_SHARE), units), RUNS_OFF))
    if (reservoir := _number(figures, "reservoir_l")) is not None:
        rows.append(Fact("Water that the drainage may hold", amounts.water(reservoir, units), estimate))
    return tuple(rows)


def _light(build: Build, roles: frozenset[str]) -> tuple[Fact, ...]:
    if not roles & {"uvb_lamp", "plant_light", "basking_lamp"}:
        return ()
    if build.latitude_deg is not None:
        return _seasons(build, build.latitude_deg, roles)
    hours = "12 h on, 12 h dark" if build.style.code in TROPICAL else "14 h on in summer, 10 h in winter"
    rows = [Fact("Light", hours, PRACTICE)]
    if "basking_lamp" in roles:
        rows.append(Fact("Basking lamp", "10 h in the middle of the day", PRACTICE))
    return tuple(rows)


def _seasons(build: Build, latitude_deg: float, roles: frozenset[str]) -> tuple[Fact, ...]:
    """The hours of light of every month, and between which they lie."""
    lit = season.hours(build)
    side = "N" if latitude_deg >= 0 else "S"
    place = f"day length at {abs(latitude_deg):g} deg {side}"
    rows = [
        Fact("Light", f"{min(lit):g} to {max(lit):g} h on", place),
        *(Fact(f"Hours of light, {months}", by_month, MONTHLY) for months, by_month in _quarters(lit)),
    ]
    if "basking_lamp" in roles:
        rows.append(Fact("Basking lamp", "2 h less, in the middle of the day", PRACTICE))
    return tuple(rows)


def _quarters(lit: tuple[float, ...]) -> Iterator[tuple[str, str]]:
    """The months by threes, so that each row is one line of a column."""
    for first in range(0, len(lit), 3):
        months = season.MONTHS[first], season.MONTHS[first + 2]
        yield " to ".join(months), ", ".join(f"{hours:g}" for hours in lit[first : first + 3])


def _number(figures: Numbers, name: str) -> float | None:
    value = figures.get(name)
    return float(value) if isinstance(value, int | float) else None
