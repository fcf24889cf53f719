"""The figures of the air by day: how often it changes, what misting it wants, how dry plants have it."""

from collections.abc import Iterator, Mapping

from kits.effects import airing, moisture
from kits.physics import air
from kits.planning.kit import Kit
from kits.planning.worked import ESTIMATE, worked
from kits.terms.build import Build
from kits.terms.conditions import humidity_pct, volume_l, wants_plant_light
from kits.terms.plan import Working
from kits.terms.rounding import rounded


def in_the_air(kit: Kit) -> Iterator[Working]:
    """Every figure of the air that applies to this kit."""
    yield _changes(kit.build)
    yield from _misting(kit)
    yield from _dryness(kit)


def _changes(build: Build) -> Working:
    """Air changes by day with the cover on that the plan lays."""
    inside_c, room_c = airing.warm_air_c(build), build.room.temperature_c
    changes = airing.air_changes_h(build, inside_c, room_c)
    band = airing.band_h(build, inside_c, room_c)
    note = f"by day; {exchanged(build, inside_c, room_c)}"
    if band is None:
        known = "measured" if build.box.air_changes_h is not None else "estimate; measure it"
        told = "as measured, less what a cover holds back" if known == "measured" else "taken by kind of box"
        return Working("air_changes_h", told, {}, changes, "1/h", known, note=note)
    volume_m3, steps = volume_l(build) / 1000, airing.exchange_inputs(build, inside_c, room_c)
    inputs = {
        "exchange_m3_s": sum(function(**given) for function, given in steps),
        "volume_m3": volume_m3,
        "draughts_h": air.ROOM_DRAUGHTS_H,
    }
    return worked("air_changes_h", air.air_changes_h, inputs, note, before=steps)


def exchanged(build: Build, inside_c: float, room_c: float) -> str:
    """How far the air changes can be trusted."""
    if build.box.air_changes_h is not None:
        return "air changes as measured"
    band = airing.band_h(build, inside_c, room_c)
    if band is None:
        return "air changes are a flat estimate; a measured figure wins"
    return (
        f"{_model(build)} is good to a factor of two: {rounded(band[0], 1)} to {rounded(band[1], 1)} air "
        "changes an hour; a measured figure wins"
    )


def _model(build: Build) -> str:
    return "the lid's model" if build.box.front_vent is None else "the model of front slot and lid"


def _misting(kit: Kit) -> Iterator[Working]:
    inputs = moisture.misting_inputs(kit.build) if "mister" in kit.wanted else None
    if inputs is not None:
        runs_off = f"what evaporates; about {moisture.DRAINS_SHARE:.0%} of what is sprayed runs off"
        note = f"{runs_off}; {_between(kit.build, inputs)}; {ESTIMATE}"
        before = airing.exchange_inputs(kit.build, inputs["inside_c"], inputs["room_c"])
        yield worked("misting_l_day", air.misting_l_day, inputs, note, before=before)


def _between(build: Build, inputs: Mapping[str, float]) -> str:
    """The litres a day between which the true ones lie, by how far the model of the air may be off."""
    band = airing.band_h(build, inputs["inside_c"], inputs["room_c"])
    if band is None:
        return exchanged(build, inputs["inside_c"], inputs["room_c"])
    low, high = (air.misting_l_day(**{**inputs, "air_changes_h": changes}) for changes in band)
    litres = f"{rounded(low, 2)} to {rounded(high, 2)} L"
    return f"{litres} by {_model(build)}, good to a factor of two; a measured exchange wins"


def _dryness(kit: Kit) -> Iterator[Working]:
    """The vapour pressure deficit at the plants by day, at the driest that the plan lets the air become."""
    build = kit.build
    if not wants_plant_light(build):
        return
    low, high = humidity_pct(build)
    room_pct, celsius = min(airing.room_air_inside_pct(build), 100.0), airing.warm_air_c(build)
    misted = kit.filled("mister") is not None and low is not None and low > room_pct
    pct = low if misted and low is not None else room_pct
    note = (
        "the room's air, warmed to that of the box" if not misted else "the least humidity that misting holds"
    )
    if misted and high is not None and high > pct:
        dampest = air.vapour_pressure_deficit_pa(celsius, high)
        note = f"{note}; {rounded(dampest)} Pa at {high:g} %"
    inputs = {"temperature_c": celsius, "relative_humidity_pct": pct}
    told = f"{note}; leaves as warm as the air; {ESTIMATE}"
    yield worked("vapour_pressure_deficit_pa", air.vapour_pressure_deficit_pa, inputs, told)
