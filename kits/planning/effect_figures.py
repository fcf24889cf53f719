"""The figures of light, heat, water and air: what reaches the animals and the roots in this kit."""

from collections.abc import Iterator

from kits.effects import ageing, airing, brightness, moisture, season, soil, sunlight, warmth
from kits.effects.places import basking_spot
from kits.physics import drainage, heat, light, retention, ultraviolet, uv_lamps
from kits.planning.air_figures import exchanged, in_the_air
from kits.planning.kit import Kit
from kits.planning.worked import ESTIMATE, Step, tidy, worked
from kits.terms.build import Build
from kits.terms.conditions import SETTLE, humid, wants_uvb
from kits.terms.needs import Figures
from kits.terms.plan import Working
from kits.terms.reading import positive

USUAL_GRAIN_MM = 8.0  # of expanded clay, where the item does not say; estimate


def effects(kit: Kit) -> Iterator[Working]:
    """Every figure of light, heat, water and air that applies to this kit."""
    yield from _uv(kit)
    yield from _seasons(kit.build)
    yield from _plant_light(kit)
    yield from _heat(kit)
    yield from _basking(kit)
    yield from _water(kit)
    yield from in_the_air(kit)


def _uv(kit: Kit) -> Iterator[Working]:
    lit = _uv_light(kit)
    if lit is None:
        return
    (read, share), spot = lit, basking_spot(kit.build)
    how = "by the class of the lamp" if read.estimated else "one reading"
    off = f"new; {read.unsure:.0%} either way, {how}"
    asked = sunlight.wanted(kit.build)
    average = " to ".join(f"{end:g}" for end in asked.average)
    for figure, distance, wanted in (
        ("uvi_at_basking", spot.distance_m, f"wanted {average} on average, at least {asked.least:g} here"),
        ("uvi_maximum_reachable", spot.nearest_m, f"wanted at most {asked.most:g}"),
    ):
        function, inputs = sunlight.index_inputs(read, distance, share)
        yield worked(figure, function, inputs, f"{ESTIMATE}; {off}; {wanted}")
    safe = f"the reading taken {read.unsure:.0%} higher, to the safe side; {ESTIMATE}"
    yield _worn(kit, read, share)
    for figure, (limit, given) in _uv_limits(kit, read, share).items():
        yield worked(figure, limit, given, safe)


def _worn(kit: Kit, read: sunlight.Reading, share: float) -> Working:
    """The UV index at the back when the lamp is replaced."""
    lamp, spot = kit.at_work("uvb_lamp") or {}, basking_spot(kit.build)
    left = ageing.kept(lamp)
    function, inputs = sunlight.index_inputs(read, spot.distance_m, share * left.share)
    between = " to ".join(
        f"{sunlight.index_at(read, spot.distance_m, share * part):.2g}" for part in (left.least, left.most)
    )
    note = f"{ageing.how(left)}: {between}; {ESTIMATE}"
    return worked("uvi_at_replacement", function, inputs, note, before=[ageing.kept_inputs(lamp)])


def _uv_light(kit: Kit) -> tuple[sunlight.Reading, float] | None:
    """The reading of the kit's lamp and what mesh and fixture leave of it; None where none is known."""
    lamp = kit.at_work("uvb_lamp")
    read = sunlight.reading(lamp) if lamp and wants_uvb(kit.build) else None
    if read is None:
        return None
    fixture = kit.filled("uvb_fixture") or {}
    return read, basking_spot(kit.build).open_fraction * sunlight.reflector_share(fixture)


def uv_limits(kit: Kit) -> dict[str, float]:
    """The nearest an animal may come to the lamp [m] and how long a keeper may stay [min], where known."""
    lit = _uv_light(kit)
    steps = {} if lit is None else _uv_limits(kit, *lit)
    return {figure: function(**inputs) for figure, (function, inputs) in steps.items()}


def _uv_limits(kit: Kit, read: sunlight.Reading, share: float) -> dict[str, Step]:
    """How near an animal may come, and how long bare eyes and skin may stay where it reaches the highest.

    By the upper end of the lamp's reading; empty where no light comes through.
    """
    highest, spot = sunlight.upper(read), basking_spot(kit.build)
    reached = sunlight.index_at(highest, spot.nearest_m, share)
    if share <= 0 or reached <= 0:
        return {}
    nearest = sunlight.closest_inputs(highest, sunlight.wanted(kit.build).most, share)
    return {
        "uvi_closest_safe_m": (uv_lamps.closest_distance_m, nearest),
        "keeper_limit_min": (ultraviolet.keeper_limit_min, {"uv_index": reached}),
    }


def _plant_light(kit: Kit) -> Iterator[Working]:
    lamps, build = tuple(kit.pieces("plant_light")), kit.build
    for height, share in brightness.HEIGHTS.items():
        reached = [brightness.at_level(build, figures, share) for figures in lamps]
        ppfd = sum(one.mean for one in reached if one)
        if ppfd > 0 and brightness.lies_below(build, share):
            note = f"mean of the middle and the edge; {ESTIMATE}"
            steps = [brightness.middle_inputs(build, figures, share) for figures in lamps]
            before = [step for step in steps if step]
            for when, hours in _lit_hours(build).items():
                inputs = {"ppfd": ppfd, "hours": hours}
                yield worked(f"dli_{height}{when}", light.daily_light_integral, inputs, note, before=before)


def _lit_hours(build: Build) -> dict[str, float]:
    """The hours of the day that a plant's light is told for, and of the longest day where there is one."""
    short, long = season.shortest_h(build), season.longest_h(build)
    return {"": short} if build.latitude_deg is None else {"": short, "_longest": long}


def _seasons(build: Build) -> Iterator[Working]:
    """Hours of light by month, and the days that are shortest and longest among them."""
    if build.latitude_deg is None:
        return
    lit, latitude = season.hours(build), build.latitude_deg
    told = "day length in the middle of each month, to a quarter of an hour"
    source = "sunrise equation; sun by the low-precision formula of the Astronomical Almanac, from memory"
    note = "the other half of the year for the other sign of the latitude"
    inputs = {"latitude_deg": latitude}
    yield Working("lit_hours_by_month", told, inputs, list(lit), "h", source, note=note)
    for which, hours in (("shortest", min(lit)), ("longest", max(lit))):
        day = season.middles()[season.month_of(build, hours)]
        asked = {"latitude_deg": latitude, "longitude_deg": 0.0, "date": day.isoformat()}
        yield worked(f"day_length_{which}_h", light.day_length_h, asked, f"a timer does {hours:g} h")


def _heat(kit: Kit) -> Iterator[Working]:
    build = kit.build
    night_c, room_c = build.climate.night_lo_c, build.room.night_temperature_c
    inside_c = airing.warm_air_c(build) if night_c is None else max(night_c, room_c)
    changes = airing.air_changes_h(build, inside_c, room_c)
    before: list[Step] = [*airing.exchange_inputs(build, inside_c, room_c)]
    losing = warmth.loss_inputs(build, changes)
    note = f"{exchanged(build, inside_c, room_c)}; {ESTIMATE}"
    yield worked("heat_loss_w_k", heat.enclosure_loss_w_k, losing, note, before=before)
    if night_c is not None and warmth.night_gap_k(build) > 0:
        inputs = {
            "loss_w_k": warmth.loss_w_k(build, changes),
            "target_c": night_c,
            "room_c": room_c,
            "margin": warmth.MARGIN,
        }
        note = f"at the room's worst night; {ESTIMATE}"
        before.append((heat.enclosure_loss_w_k, losing))
        yield worked("heat_needed_w", heat.heater_power_w, inputs, note, before=before)


def _basking(kit: Kit) -> Iterator[Working]:
    found = lit_place(kit)
    if found is None:
        return
    lamp, place, full = found
    share = warmth.set_share(place, full)
    inputs = {"irradiance_w_m2": full.irradiance_w_m2 * share, "air_c": place.air_c}
    at = f"the lamp at {share:.0%} of its power"
    wanted = f"wanted {place.low_c:g} to {place.high_c:g} C"
    note = f"{at}; a dry, thin surface, wet soil and stone stay cooler; {wanted}; {ESTIMATE}"
    beam = warmth.beam_inputs(lamp, positive(lamp, "watts") or 0.0, place.spot.distance_m)
    before = [(heat.beam_irradiance_w_m2, beam)]
    yield worked("basking_surface_c", heat.basking_surface_c, inputs, note, before=before)


def lit_place(kit: Kit) -> tuple[Figures, warmth.Place, warmth.Beam] | None:
    """The kit's lamp, where animals bask and what the lamp does there."""
    lamp, place = kit.at_work("basking_lamp"), warmth.basking_place(kit.build)
    full = warmth.beam(place, lamp) if lamp and place and "basking_lamp" in kit.wanted else None
    return None if lamp is None or full is None or place is None else (lamp, place, full)


def running_shares(kit: Kit) -> dict[str, float]:
    """The share of their rated power at which lamps and heaters run; left out where none is worked out."""
    shares = {}
    if (found := lit_place(kit)) is not None:
        _, place, full = found
        shares["basking_lamp"] = warmth.set_share(place, full)
    watts = sum(watts for role, watts in kit.loads() if role == "night_heat")
    gap, night_c = warmth.night_gap_k(kit.build), kit.build.climate.night_lo_c
    if watts > 0 and night_c is not None and gap > 0:
        room_c = kit.build.room.night_temperature_c
        loss = warmth.loss_w_k(kit.build, airing.air_changes_h(kit.build, night_c, room_c))
        shares["night_heat"] = heat.duty(loss, night_c, room_c, watts)
    return shares


def _water(kit: Kit) -> Iterator[Working]:
    yield from _reservoir(kit)
    yield from _soil(kit)


def _reservoir(kit: Kit) -> Iterator[Working]:
    layer, stones = kit.build.layers.get("drainage"), kit.filled("drainage")
    if layer is None or not stones or layer.litres <= 0:
        return
    area = kit.build.box.footprint_m2
    inputs = {
        "area_m2": area,
        "depth_m": layer.litres / 1000 / area,
        "void_fraction": positive(stones, "void_fraction") or 0.0,
        "grain_mm": positive(stones, "grain_mm") or USUAL_GRAIN_MM,
    }
    safe = worked("reservoir_l", drainage.safe_reservoir_l, inputs, f"not to the brim; {ESTIMATE}")
    yield safe
    sprayed = moisture.sprayed_l_day(kit.build) if "mister" in kit.wanted else 0.0
    if sprayed > 0 and isinstance(safe.value, float) and safe.value > 0:
        flows = {
            "safe_l": safe.value,
            "in_l_day": sprayed,
            "out_l_day": 0.0,
            "drained_share": moisture.DRAINS_SHARE,
        }
        note = f"as if nothing of it evaporated from below, so the earliest day; {ESTIMATE}"
        yield worked("siphon_days", drainage.days_to_siphoning, flows, note)


def siphon_days(kit: Kit) -> float | None:
    """Days of misting until the water below the soil stands as high as it may; None where it never does."""
    found = next((step.value for step in _reservoir(kit) if step.figure == "siphon_days"), None)
    return found if isinstance(found, float) else None


def _soil(kit: Kit) -> Iterator[Working]:
    earth = kit.filled("substrate")
    holds = soil.soil(kit.build, earth) if earth is not None else None
    lies = soil.bed(kit.build)
    if holds is None or lies is None:
        return
    where: dict[str, str | float] = {"front_mm": lies.front_mm, "back_mm": lies.back_mm}
    if holds.mix:
        where["mix"] = holds.mix
    formula = (
        "by the parts of the recipe at the built depth: water adds up, solids stay, the volume is blended"
    )
    never_soaked = not humid(kit.build) and kit.build.layer_l("drainage") <= 0
    dry = "if it were soaked and drained, which a dry box never is" if never_soaked else ""
    valid = holds.known and holds.fits
    for figure, kind, share in (
        ("container_capacity_pct", "water", holds.water),
        ("air_space_pct", "air", holds.air),
    ):
        asked = soil.band_words(kit.build, kind).removesuffix(f" {kind}")
        wanted = f"wanted {asked}" if asked else soil.common_air(kit.build) if kind == "air" else ""
        note = "; ".join(filter(None, (holds.note, dry, wanted, ESTIMATE)))
        yield Working(figure, formula, where, tidy(100 * share), "%", holds.source, valid=valid, note=note)
    if never_soaked:
        return
    inputs = {
        "layer_l": max(kit.build.layer_l("substrate") - kit.build.displaced_l, 0.01),
        "container_capacity": holds.water,
        "bagged_moisture": soil.BAGGED_MOISTURE,
        "settle": SETTLE["substrate"],
    }
    taken = f"taken to be {soil.BAGGED_MOISTURE:.0%} moist from the bag"
    note = f"{taken}; add it in parts until the drainage is moist; {ESTIMATE}"
    yield worked("first_watering_l", retention.first_watering_l, inputs, note)
