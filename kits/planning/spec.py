"""The build spec: what the customer said, checked in full before anything is worked out."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import Any

from inventory.errors import BadInput
from kits.planning.faults import Faults
from kits.planning.spec_choices import read_choose, read_extra, read_own, read_without
from kits.planning.spec_fields import (
    USUAL_ROOM,
    read_animals,
    read_depths,
    read_enclosure,
    read_perches,
    read_room,
)
from kits.planning.spec_light import read_latitude
from kits.planning.spec_terms import Animal, Enclosure, Extra, Owned, Reading
from kits.terms.build import Perch, Room
from kits.terms.facts import Facts

KEYS = (
    *("enclosure", "animals", "style", "room", "depths_mm", "perches_mm", "planting"),
    *("lighting", "own", "without", "choose", "extra", "fill", "units"),
)
PLANTING = ("none", "sparse", "moderate", "dense")
FILL = ("preferred", "free")
UNITS = ("us", "metric")


class BadSpec(BadInput):
    """The build spec cannot be used as it stands; every fault is named."""

    code = "bad_spec"


@dataclass(frozen=True, slots=True)
class BuildSpec:
    """A build spec that has passed every check; empty where the customer said nothing."""

    enclosure: Enclosure
    animals: tuple[Animal, ...] = ()
    style: str = ""
    room: Room = USUAL_ROOM
    room_given: bool = False
    depths_mm: Mapping[str, float] = field(default_factory=dict)
    perches: tuple[Perch, ...] = ()
    planting: str = ""
    own: tuple[Owned, ...] = ()
    without: frozenset[str] = frozenset()
    without_items: frozenset[tuple[str, str]] = frozenset()  # role and item: the rest of the role stays
    choose: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    extra: tuple[Extra, ...] = ()
    fill: str = "preferred"
    units: str = "us"
    latitude_deg: float | None = None
    data: Mapping[str, Any] = field(default_factory=dict)


def read_spec(data: object, *, facts: Facts, knows_item: Callable[[str], bool]) -> BuildSpec:
    """Turn JSON into a build spec, or raise BadSpec with a sentence for every fault."""
    faults = Faults()
    given = faults.mapping(data, "", KEYS)
    reading = Reading(given, faults, facts, knows_item)
    spec = _read(reading) if isinstance(data, Mapping) else None
    if spec is None or faults.found:
        raise BadSpec(faults.found)
    return spec


def _read(reading: Reading) -> BuildSpec | None:
    enclosure = read_enclosure(reading)
    animals = read_animals(reading)
    style = _word(reading, "style", reading.facts.styles, "a build style")
    _require_subject(reading)
    room, room_given = read_room(reading)
    depths = read_depths(reading, enclosure)
    perches = read_perches(reading, enclosure)
    own, without, choose = read_own(reading), read_without(reading), read_choose(reading)
    _refuse_contradictions(reading, own, without.roles, choose)
    extra = read_extra(reading)
    planting = _word(reading, "planting", PLANTING, "a planting level")
    fill = _word(reading, "fill", FILL, "a way to fill") or "preferred"
    units = _word(reading, "units", UNITS, "a system of units") or "us"
    latitude = read_latitude(reading)
    if enclosure is None:
        return None
    return BuildSpec(
        enclosure=enclosure, animals=animals, style=style, room=room, room_given=room_given,
        depths_mm=MappingProxyType(depths), perches=perches, planting=planting, own=own,
        without=without.roles, without_items=without.items, choose=MappingProxyType(choose), extra=extra,
        fill=fill, units=units, latitude_deg=latitude, data=reading.given,
    )  # fmt: skip


def _word(reading: Reading, key: str, known: Any, what: str) -> str:
    if key not in reading.given:
        return ""
    return reading.faults.word(reading.given[key], f"/{key}", tuple(known), what) or ""


def _require_subject(reading: Reading) -> None:
    if not reading.given.get("animals") and "style" not in reading.given:
        reading.faults.add("/animals", "or style must be given: a build needs an animal or a style.")


def _refuse_contradictions(
    reading: Reading, own: tuple[Owned, ...], without: frozenset[str], choose: Mapping[str, tuple[str, ...]]
) -> None:
    owned = {thing.role for thing in own}
    for role in sorted(owned & without):
        reading.faults.add("/without", f"names {role}, which own names too.")
    for role in sorted(set(choose) & (owned | without)):
        reading.faults.add(f"/choose/{role}", "chooses an item for a role that own or without takes away.")
