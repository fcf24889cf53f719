"""Readers of what a build is: the box, its animals, the room, depths and perches."""

from collections.abc import Mapping

from kits.physics import walls
from kits.planning.faults import shown
from kits.planning.spec_air import read_vent
from kits.planning.spec_terms import Animal, Enclosure, Reading
from kits.terms.build import Perch, Room

TOPS = ("mesh", "glass", "solid", "open")
STAGES = ("young", "adult")
SEXES = ("male", "female", "unknown")
SMALLEST_SIDE_MM, LARGEST_SIDE_MM = 50, 5000
DEPTHS = ("drainage", "substrate_front", "substrate_back", "litter")
THINNEST_MM = 1
# Thinner walls are a slip of the keys, as millimetres given in metres; common sense, no source.
LEAST_WALL_MM = {"glass": 2.0, "mesh": 0.1}
USUAL_LEAST_WALL_MM = 0.5
MOST_COVERED = 0.9  # of a mesh top: the rest is for air and lamps
MOST_AIR_CHANGES_H = 500  # more than any lid lets through
USUAL_ROOM = Room(21.0, 18.0, 45.0)
NIGHT_DROP_C = 3.0
WARMEST = "warmest_day_c"


def read_enclosure(reading: Reading) -> Enclosure | None:
    """The catalogue size or the measured box."""
    if "enclosure" not in reading.given:
        reading.faults.add("/enclosure", "must be given.")
        return None
    keys = ("size", "interior_mm", "sill_mm", "wall", "top", "covered_share", "air_changes_h", "front_vent")
    given = reading.faults.mapping(reading.given["enclosure"], "/enclosure", keys)
    if "size" in given:
        return _sized(reading, given)
    if "interior_mm" not in given:
        reading.faults.add("/enclosure", "must have a size or interior_mm.")
        return None
    return _measured(reading, given)


def _sized(reading: Reading, given: Mapping[str, object]) -> Enclosure | None:
    for key in ("interior_mm", "sill_mm", "wall", "top"):
        if key in given:
            reading.faults.add(f"/enclosure/{key}", "may not stand beside size: give one or the other.")
    sizes = reading.facts.enclosures
    size = reading.faults.word(given["size"], "/enclosure/size", sizes, "an enclosure size")
    if size is None:
        return None
    subject = sizes[size]
    width, depth, height = (subject.number(f"{side}_mm") or 0.0 for side in ("width", "depth", "height"))
    if min(width, depth, height) <= 0:
        reading.faults.add("/enclosure/size", "has no inside figures here: give interior_mm.")
        return None
    covered = _covered(reading, given, subject.text("top_kind") or "mesh")
    vent = read_vent(reading, given, width, height, subject.text("top_kind") or "mesh")
    return Enclosure(
        size,
        width,
        depth,
        height,
        covered_share=covered,
        air_changes_h=_air_changes(reading, given),
        front_vent=vent,
    )


def _measured(reading: Reading, given: Mapping[str, object]) -> Enclosure | None:
    faults, pointer = reading.faults, "/enclosure/interior_mm"
    sides = ("width", "depth", "height")
    inside = faults.mapping(given["interior_mm"], pointer, sides)
    for side in sides:
        if side not in inside and isinstance(given["interior_mm"], Mapping):
            faults.add(f"{pointer}/{side}", "must be given.")
    read = {
        side: faults.number(inside[side], f"{pointer}/{side}", SMALLEST_SIDE_MM, LARGEST_SIDE_MM)
        for side in sides
        if side in inside
    }
    width, depth, height = (read.get(side) for side in sides)
    material, thickness = _wall(reading, given)
    kind, open_fraction = _top(reading, given)
    sill = _sill(reading, given, height or LARGEST_SIDE_MM)
    covered = _covered(reading, given, kind or "mesh")
    if width is None or depth is None or height is None:
        return None
    changes = _air_changes(reading, given)
    vent = read_vent(reading, given, width, height, kind or "mesh")
    return Enclosure(
        "", width, depth, height, sill, material, thickness, kind, open_fraction, covered, changes, vent
    )


def _covered(reading: Reading, given: Mapping[str, object], top: str) -> float | None:
    """The share of a mesh top that is covered, where the customer says so."""
    pointer = "/enclosure/covered_share"
    if "covered_share" not in given:
        return None
    if top != "mesh":
        reading.faults.add(pointer, f"is for a mesh top; this one is {top}.")
        return None
    return reading.faults.number(given["covered_share"], pointer, 0, MOST_COVERED)


def _air_changes(reading: Reading, given: Mapping[str, object]) -> float | None:
    if "air_changes_h" not in given:
        return None
    return reading.faults.number(
        given["air_changes_h"], "/enclosure/air_changes_h", 0, MOST_AIR_CHANGES_H, above=True
    )


def _sill(reading: Reading, given: Mapping[str, object], height_mm: float) -> float | None:
    if "sill_mm" not in given:
        return None
    sill = reading.faults.number(given["sill_mm"], "/enclosure/sill_mm", 0, height_mm)
    if sill is not None and sill >= height_mm:
        told = f"must be below the inside height of {height_mm:g} mm: above it there would be no opening."
        reading.faults.add("/enclosure/sill_mm", told)
    return sill


def _wall(reading: Reading, given: Mapping[str, object]) -> tuple[str | None, float | None]:
    if "wall" not in given:
        return None, None
    faults, pointer = reading.faults, "/enclosure/wall"
    wall = faults.mapping(given["wall"], pointer, ("material", "thickness_mm"))
    material = thickness = None
    if "material" in wall:
        material = faults.word(wall["material"], f"{pointer}/material", walls.MATERIALS, "a wall material")
    if "thickness_mm" in wall:
        thickness = faults.number(wall["thickness_mm"], f"{pointer}/thickness_mm", 0, 100, above=True)
    least = LEAST_WALL_MM.get(material or "", USUAL_LEAST_WALL_MM)
    if thickness is not None and thickness < least:
        stuff = material or "any material known here"
        told = f"must be at least {least:g} mm for a wall of {stuff} that stands, not {shown(thickness)}."
        faults.add(f"{pointer}/thickness_mm", told)
    return material, thickness


def _top(reading: Reading, given: Mapping[str, object]) -> tuple[str | None, float | None]:
    if "top" not in given:
        return None, None
    faults, pointer = reading.faults, "/enclosure/top"
    top = faults.mapping(given["top"], pointer, ("kind", "open_fraction"))
    kind = open_fraction = None
    if "kind" in top:
        kind = faults.word(top["kind"], f"{pointer}/kind", TOPS, "a kind of top")
    if "open_fraction" in top:
        open_fraction = faults.number(top["open_fraction"], f"{pointer}/open_fraction", 0, 1)
    return kind, open_fraction


def read_animals(reading: Reading) -> tuple[Animal, ...]:
    """The animals, each species, stage and sex once."""
    if "animals" not in reading.given:
        return ()
    animals: list[Animal] = []
    for pointer, entry in reading.faults.listing(reading.given["animals"], "/animals", 20):
        animal = _animal(reading, pointer, entry)
        if animal is None:
            continue
        if any(_same(animal, other) for other in animals):
            reading.faults.add(pointer, "repeats an entry above: give one entry with the whole count.")
        animals.append(animal)
    return tuple(animals)


def _same(animal: Animal, other: Animal) -> bool:
    return (animal.species, animal.stage, animal.sex) == (other.species, other.stage, other.sex)


def _animal(reading: Reading, pointer: str, entry: object) -> Animal | None:
    faults = reading.faults
    given = faults.mapping(entry, pointer, ("species", "count", "stage", "sex"))
    if not isinstance(entry, Mapping):
        return None
    if "species" not in given:
        faults.add(f"{pointer}/species", "must be given.")
        return None
    species = faults.word(given["species"], f"{pointer}/species", reading.facts.animals, "a species")
    count = faults.whole(given.get("count", 1), f"{pointer}/count", 1, 100)
    stage = faults.word(given.get("stage", "adult"), f"{pointer}/stage", STAGES, "a stage")
    sex = faults.word(given.get("sex", "unknown"), f"{pointer}/sex", SEXES, "a sex")
    if species is None or count is None or stage is None or sex is None:
        return None
    return Animal(species, count, stage, sex)


def read_room(reading: Reading) -> tuple[Room, bool]:
    """The room, and whether the customer said anything about it."""
    if "room" not in reading.given:
        return USUAL_ROOM, False
    faults = reading.faults
    keys = ("temperature_c", "night_temperature_c", "relative_humidity_pct")
    given = faults.mapping(reading.given["room"], "/room", (*keys, WARMEST))
    limits = {"relative_humidity_pct": (0, 100)}
    read = {key: faults.number(given[key], f"/room/{key}", *limits.get(key, (-20, 45))) for key in given}
    day, night, humidity = (read.get(key) for key in keys)
    if day is None:
        day = USUAL_ROOM.temperature_c
    if night is None:
        night = max(-20.0, day - NIGHT_DROP_C)
    if humidity is None:
        humidity = USUAL_ROOM.relative_humidity_pct
    return Room(day, night, humidity, _warmest(reading, read, day)), all(key in given for key in keys)


def _warmest(reading: Reading, read: Mapping[str, float | None], day_c: float) -> float | None:
    """The room on its warmest day, which is no colder than its usual day."""
    warmest = read.get(WARMEST)
    if warmest is not None and warmest < day_c:
        told = f"must not be below the room's usual day of {day_c:g} C, not {shown(warmest)}."
        reading.faults.add(f"/room/{WARMEST}", told)
    return warmest


def read_depths(reading: Reading, enclosure: Enclosure | None) -> dict[str, float]:
    """The depths that the customer asked for; together they must leave room for air."""
    if "depths_mm" not in reading.given:
        return {}
    faults = reading.faults
    given = faults.mapping(reading.given["depths_mm"], "/depths_mm", DEPTHS)
    depths: dict[str, float] = {}
    for key, value in given.items():
        depth = faults.number(value, f"/depths_mm/{key}", 0, LARGEST_SIDE_MM)
        if depth is not None and 0 < depth < THINNEST_MM:
            faults.add(f"/depths_mm/{key}", f"must be 0 or at least {THINNEST_MM} mm, not {shown(depth)}.")
        elif depth is not None:
            depths[key] = depth
    if enclosure is not None:
        _refuse_overfull(reading, depths, enclosure.height_mm)
    return depths


def _refuse_overfull(reading: Reading, depths: Mapping[str, float], height_mm: float) -> None:
    flat = depths.get("drainage", 0.0) + depths.get("litter", 0.0)
    for end in ("substrate_front", "substrate_back"):
        total = flat + depths.get(end, 0.0)
        if total >= height_mm > 0:
            reading.faults.add(
                "/depths_mm",
                f"add up to {total:g} mm at the {end.removeprefix('substrate_')}, "
                f"which leaves no air in a box {height_mm:g} mm high.",
            )
            return


def read_perches(reading: Reading, enclosure: Enclosure | None) -> tuple[Perch, ...]:
    """The perches, each inside the box."""
    if "perches_mm" not in reading.given:
        return ()
    faults, perches = reading.faults, []
    tallest = (enclosure.height_mm if enclosure else 0) or LARGEST_SIDE_MM
    deepest = (enclosure.depth_mm if enclosure else 0) or LARGEST_SIDE_MM
    for pointer, entry in faults.listing(reading.given["perches_mm"], "/perches_mm", 50):
        given = faults.mapping(entry, pointer, ("height", "back"))
        if not isinstance(entry, Mapping):
            continue
        if "height" not in given:
            faults.add(f"{pointer}/height", "must be given.")
            continue
        height = faults.number(given["height"], f"{pointer}/height", 0, tallest, above=True)
        back = faults.number(given.get("back", deepest / 2), f"{pointer}/back", 0, deepest, above=True)
        if height is not None and back is not None:
            perches.append(Perch(height, back))
    return tuple(perches)
