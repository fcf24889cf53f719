"""The plants, by light, climate, place and adult height."""

import functools
from collections.abc import Mapping
from types import MappingProxyType

from kits.terms.build import Build, Climate
from kits.terms.conditions import growing_climate, planted
from kits.terms.facts import Subject
from kits.terms.identity import Itself
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution, Reminder
from kits.terms.reading import text
from kits.terms.rounding import rounded
from kits.terms.suitability import plant_suits

CODE = "plant"
ORDER = 100
IN_SOIL = True
PER_M2 = {"sparse": 15.0, "moderate": 30.0, "dense": 50.0}  # common practice, no source
POSITIONS = ("back", "middle", "front")
PLACE = {"back": 0, "middle": 1, "mounted": 1, "front": 2}
MOST_PLANTS = 36
MOST_OF_A_KIND = 5
MOST_KINDS = 6  # slots of different species; more plants repeat them
CLIMBING = frozenset({"climber", "carpet"})  # kept short with scissors: the smallest adult height counts


def needs(build: Build) -> tuple[Need, ...]:
    """Slots of different species over back, middle and front, as many as the floor carries."""
    if not planted(build) or build.layer_l("substrate") <= 0:
        return ()
    suited, refused = judged(build)
    plants = min(number_of_plants(build), MOST_OF_A_KIND * max(1, len(suited)))
    kinds = min(plants, MOST_KINDS, max(1, len(suited)))
    return tuple(
        _need(build, slot, plants // kinds + (slot < plants % kinds), suited, refused)
        for slot in range(kinds)
    )


def number_of_plants(build: Build) -> int:
    """Plants that the floor carries at this planting level, at least one."""
    return min(MOST_PLANTS, max(1, round(PER_M2[build.planting] * build.box.footprint_m2)))


def _need(build: Build, slot: int, count: int, suited: Mapping[str, str], refused: Mapping[str, str]) -> Need:
    position = POSITIONS[slot % len(POSITIONS)]
    because = (f"{build.planting.capitalize()} planting: {count} at the {position} (common practice).",)
    wanted = {"position": position, "suited": suited, "refused": refused}
    return Need(
        CODE, slot=f"{slot + 1} {position}", count=count, wanted=wanted, because=because, distinct=True
    )


def judged(build: Build) -> tuple[Mapping[str, str], Mapping[str, str]]:
    """Species that suit with their place, and why the others do not."""
    front, back = build.surface_mm()
    air = build.box.height_mm - back, build.box.height_mm - front
    return _judged(Itself(build.plants), Itself(build.style), growing_climate(build), air)


@functools.lru_cache(maxsize=64)
def _judged(
    plants: Itself, style: Itself, climate: Climate, air_mm: tuple[float, float]
) -> tuple[Mapping[str, str], Mapping[str, str]]:
    """By the air above the ground at the back and in front; a build asks for it up to three times."""
    back, front = air_mm
    air = {"back": back, "front": front, "middle": (back + front) / 2}
    suited: dict[str, str] = {}
    refused: dict[str, str] = {}
    assert isinstance(plants.thing, Mapping)
    assert isinstance(style.thing, Subject)
    for code, plant in plants.thing.items():
        position = plant.text("position") or "middle"
        reasons = [
            *plant_suits(plant, climate, style.thing),
            *_too_tall(plant, air.get(position, air["back"])),
        ]
        if reasons:
            refused[code] = " ".join(reasons)
        else:
            suited[code] = position
    return MappingProxyType(suited), MappingProxyType(refused)


def _too_tall(plant: Subject, air_mm: float) -> list[str]:
    kept_short = plant.text("habit") in CLIMBING
    height = plant.number("height_lo_mm" if kept_short else "height_hi_mm")
    if height is None or height <= air_mm:
        return []
    return [f"{plant.name} grows to {height:g} mm; there are {rounded(air_mm)} mm of air above the ground."]


def fit(need: Need, figures: Figures) -> Fit:
    """A species that suits the build; its own place first."""
    species = text(figures, "species")
    suited, refused = need.wanted["suited"], need.wanted["refused"]
    assert isinstance(suited, Mapping)
    assert isinstance(refused, Mapping)
    if species not in suited:
        return _refused(
            str(refused.get(species) or f"Nothing is known of the species {species or '(none)'}.")
        )
    return _stands(str(suited[species]), str(need.wanted["position"]))


@functools.lru_cache(maxsize=1024)
def _refused(why: str) -> Fit:
    """Every slot of a build refuses the same species for the same reasons."""
    return Fit(refusal=why)


@functools.lru_cache(maxsize=32)
def _stands(position: str, wanted: str) -> Fit:
    if position == wanted:
        return Fit(because=(f"It suits style, climate and height and grows at the {position}.",))
    away = abs(PLACE.get(position, 1) - PLACE[wanted])
    because = (f"It suits style, climate and height; its place is {position}.",)
    return Fit(because=because, rank=max(1, away))


def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
    """Plants are judged by a list for cats."""
    if figures is None:
        return ()
    text_ = (
        "Plants are judged by a list made for cats; none made for reptiles was seen. Ask a vet "
        "before an animal "
        "that eats plants moves in, and wash off pesticides."
    )
    return (Caution("note", CODE, text_),) if build.occupants else ()


def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
    """Plants grow."""
    return (Reminder("Trim the plants and take out dead leaves", 30, CODE),)
