"""The pictures of light, heat and the day of a kit, each with what it says in words."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from inventory.calc.errors import Impossible
from kits.documents import amounts
from kits.documents.content import Picture
from kits.drawings.day_curve import day_curve
from kits.drawings.day_picture import DayPicture
from kits.drawings.field_map import Field, field_map
from kits.drawings.fields import Lamp, Mark
from kits.drawings.light_profile import PlantClass, light_profile
from kits.drawings.scene import Scene
from kits.effects import maps, season, sunlight, warmth
from kits.effects.maps import Equipment
from kits.effects.places import basking_spot, highest_perch
from kits.effects.whole_day import COLDEST_C, WARMEST_C, WholeDay, whole_day
from kits.physics.day_curve import BandCheck
from kits.physics.grids import Section
from kits.physics.light import daily_light_integral
from kits.terms.build import Build
from kits.terms.rounding import rounded

INDICES = (0.1, 0.25, 0.5, 1.0, 2.0, 3.0, 4.5, 7.0)
LARGER_PT = 240.0  # height of a map where a sheet has room
STEP_K, STEPS = 5.0, 8
# Ends of the plant table's classes [umol/m2/s]; common practice by class.
CLASSES = (("low", 20.0, 60.0), ("medium", 40.0, 100.0), ("bright", 80.0, 200.0), ("high", 150.0, 400.0))
FORTNIGHT = 14
ESTIMATE = "An estimate for planning: measure it in the finished enclosure."
LEAST_L = 0.01  # of water that has gathered; less is said to be nothing
LEAST_SHARE = 0.02  # of a day or night; less is within what the model can tell
REPEATS = "A day that repeats itself: the days before it, until it does, are left out."
SHIFTS = "The box is still warming or cooling from day to day: read this day as a trend."
EQUINOX = "It is drawn with twelve hours of light, as at the equinoxes."
OPEN_C, OPEN_PCT = (COLDEST_C, WARMEST_C), (0.0, 100.0)
HELPS = {
    ("temperature", True): "air it, or shorten the lamps",
    ("temperature", False): "warm the room, or cover more",
    ("humidity", True): "leave more mesh open, or water less",
    ("humidity", False): "cover more, or mist more",
}
LAMPS = {"uvb_lamp": "UVB lamp", "plant_light": "plant light", "basking_lamp": "basking lamp"}


@dataclass(frozen=True, slots=True)
class Sight:
    """What is looked at: the build, its drawing, what stands in each role, and how large it is drawn."""

    build: Build
    scene: Scene
    equipment: Equipment
    width_pt: float = 250.0
    height_pt: float = 150.0  # so low that three pictures and some text share a page


def pictured(key: str, sight: Sight) -> Picture | None:
    """One picture by its key; None where the kit has nothing of the kind."""
    return ON_SCREEN[key](sight)


def all_pictured(sight: Sight) -> tuple[Picture, ...]:
    """Every picture that the kit has something for; besides the day, what many of its kind come to."""
    found = {key: picture for key in PICTURES if (picture := pictured(key, sight)) is not None}
    if "day" in found and sight.build.layer_l("substrate") > 0:
        found["day"] = replace(found["day"], aside=_after_many_days(sight))
    return tuple(found.values())


def _uv(sight: Sight) -> Picture | None:
    section = maps.uv_map(sight.build, sight.equipment)
    if section is None:
        return None
    asked, spot = sunlight.wanted(sight.build), basking_spot(sight.build)
    perch = highest_perch(sight.build)
    reach = (perch.back_mm, min(spot.reaches_mm, float(section.up_mm[-1])), "highest reach")
    shines = "spot" if sunlight.lit_length_m(sight.equipment["uvb_lamp"][0]) is None else "tube"
    field = _field(
        section, "UV index", wanted=(asked.least, asked.average[1]), limit=asked.most, levels=INDICES,
        marks=(_back(sight.build), reach), lamp=(shines, perch.back_mm, spot.lamp_mm),
    )  # fmt: skip
    said = (
        f"Wanted on the back {asked.least:g} to {asked.average[1]:g}, at most {asked.most:g} "
        "within reach. Drawn for a new lamp, without the shade of leaves and wood."
    )
    return _mapped("Where the UV reaches", sight, field, said)


def _warmth(sight: Sight) -> Picture | None:
    section, place = maps.warmth_map(sight.build, sight.equipment), warmth.basking_place(sight.build)
    if section is None or place is None:
        return None
    first = STEP_K * (int(place.air_c // STEP_K) + 1)
    levels = tuple(first + STEP_K * step for step in range(STEPS))
    field = _field(
        section, "surface", unit="C", wanted=(place.low_c, place.high_c), levels=levels,
        marks=(_back(sight.build),), lamp=("spot", highest_perch(sight.build).back_mm, place.spot.lamp_mm),
    )  # fmt: skip
    wanted = amounts.temperature(place.low_c, place.high_c, sight.build.units)
    said = f"A dry, thin surface with the lamp set for the perch; wanted there {wanted}."
    return _mapped("Where the basking lamp warms", sight, field, said)


def _mapped(title: str, sight: Sight, field: Field, said: str) -> Picture:
    """A map with what it says, and how it is drawn where there is more room."""
    draw = partial(field_map, sight.scene, field, width=sight.width_pt)
    return Picture(title, draw(height=sight.height_pt), (said,), partial(draw, height=LARGER_PT))


def _back(build: Build) -> Mark:
    return highest_perch(build).back_mm, basking_spot(build).lies_mm, "back"


def _field(  # noqa: PLR0913 - a field with everything that is drawn on it
    section: Section,
    name: str,
    *,
    wanted: tuple[float, float],
    levels: tuple[float, ...],
    marks: tuple[Mark, ...],
    unit: str = "",
    limit: float | None = None,
    lamp: Lamp | None = None,
) -> Field:
    return Field(
        along_mm=tuple(section.along_mm.tolist()),
        up_mm=tuple(section.up_mm.tolist()),
        values=tuple(map(tuple, section.values.tolist())),
        name=name,
        unit=unit,
        levels=levels,
        wanted=wanted,
        limit=limit,
        marks=marks,
        lamp=lamp,
    )


def _light(sight: Sight) -> Picture | None:
    profile = maps.light_profile(sight.build, sight.equipment)
    if profile is None:
        return None
    hours = season.shortest_h(sight.build)
    classes = [
        PlantClass(name, daily_light_integral(low, hours), daily_light_integral(high, hours))
        for name, low, high in CLASSES
    ]
    drawing = light_profile(
        sight.scene, profile, classes, hours=hours, width=sight.width_pt, height=sight.height_pt
    )
    middle, edge = (rounded(lit[0], 1) for lit in (profile.middle, profile.edge))
    said = (
        f"The ground gets {middle} mol/m² a day in the middle and {edge} at the edge, with the lamps on "
        f"for {hours:g} hours."
    )
    return Picture("What light the plants get", drawing, (said,))


def _days(sight: Sight, days: int = 1) -> WholeDay | None:
    """So many days; None where the lamps would bring the box to the heat of boiling water."""
    try:
        return whole_day(sight.build, sight.equipment, days=days)
    except Impossible:
        return None


def _day(sight: Sight) -> Picture | None:
    day = _days(sight)
    if day is None:
        return None
    drawing = day_curve(_day_picture(day, sight.build.units), width=sight.width_pt, height=sight.height_pt)
    said = (REPEATS if day.settled else SHIFTS, *_told(day, sight.build.units))
    if sight.build.latitude_deg is not None:
        said = (*said, EQUINOX)
    return Picture("A day in the enclosure", drawing, said)


def _fortnight(sight: Sight) -> Picture | None:
    """Many days like the one that is drawn: what becomes of the water in soil and drainage."""
    day, units = _days(sight, FORTNIGHT), sight.build.units
    if day is None:
        return None
    drawing = day_curve(_day_picture(day, units), width=sight.width_pt, height=sight.height_pt)
    return Picture("A fortnight of such days", drawing, (_water_left(day, units), *_told(day, units)))


def _after_many_days(sight: Sight) -> str:
    """What becomes of the water, for paper, which has no room for the drawing of many days."""
    day = _days(sight, FORTNIGHT)
    return "" if day is None else _water_left(day, sight.build.units)


def _water_left(day: WholeDay, units: str) -> str:
    curve = day.curve
    first, last = (amounts.water(litres, units) for litres in curve.soil_water_l[[0, -1]])
    gathered = curve.reservoir_l[-1]
    below = amounts.water(gathered, units) if gathered >= LEAST_L else "nothing"
    share = curve.soil_water_l[-1] / day.soil_holds_l
    return (
        f"In {FORTNIGHT} days the water in the soil goes from {first} to {last}, {share:.0%} of what it can "
        f"hold, with {below} gathered below it."
    )


def _day_picture(day: WholeDay, units: str) -> DayPicture:
    curve, bands = day.curve, day.bands
    return DayPicture(
        minutes=curve.minutes.tolist(),
        air_c=curve.air_c.tolist(),
        soil_c=curve.soil_c.tolist(),
        humidity_pct=curve.humidity_pct.tolist(),
        heater_duty=curve.heater_duty.tolist(),
        day_c=_closed(bands.day_c, OPEN_C),
        night_c=_closed(bands.night_c, OPEN_C),
        humidity_band=_closed(bands.day_pct, OPEN_PCT),
        day_hours=(bands.day_from_h, bands.day_until_h),
        lamp_hours=[(LAMPS[role], begins, ends) for role, begins, ends in day.lamp_hours],
        mist_hours=day.mist_hours,
        units=units,
    )


def _closed(band: tuple[float, float], ends: tuple[float, float]) -> tuple[float, float] | None:
    """A band with two ends that mean something; one that is open is not drawn."""
    return None if band[0] <= ends[0] or band[1] >= ends[1] else band


def _told(day: WholeDay, units: str) -> Iterator[str]:
    """How temperature and humidity lie against the bands that are wanted, and what helps."""
    missed: dict[tuple[str, bool], list[BandCheck]] = {}
    for check in day.checks:
        if check.worst is not None and max(check.share_above, check.share_below) >= LEAST_SHARE:
            way = (check.figure, check.share_above >= check.share_below)
            missed.setdefault(way, []).append(check)
    return (_outside(figure, checks, units, too_high=high) for (figure, high), checks in missed.items())


def _outside(figure: str, checks: Sequence[BandCheck], units: str, *, too_high: bool) -> str:
    """One sentence for all parts of the day that miss their band the same way."""
    shares = [(check.share_above if too_high else check.share_below, check.part) for check in checks]
    when = " and ".join(f"{share:.0%} of the {part}" for share, part in shares)
    worst = max(c.highest for c in checks) if too_high else min(c.lowest for c in checks)
    warm = figure == "temperature"
    farthest = amounts.temperature(worst, worst, units) if warm else f"{rounded(worst)} %"
    way, end = ("above", "up") if too_high else ("below", "down")
    what, advice = "Air" if warm else "Humidity", HELPS[figure, too_high]
    return f"{what} {way} its band for {when}, {end} to {farthest}: {advice}."


PICTURES: dict[str, Callable[[Sight], Picture | None]] = {
    "uv": _uv,
    "warmth": _warmth,
    "light": _light,
    "day": _day,
}
# A sheet has no room for the drawing of many days: it tells what they come to.
ON_SCREEN = PICTURES | {"fortnight": _fortnight}
