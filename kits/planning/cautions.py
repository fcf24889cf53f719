"""What a person must know before building this kit: ratings, circuit, weight, animals and the law."""

import math
from collections.abc import Iterator
from dataclasses import replace

from kits.effects import sunlight
from kits.effects.ageing import kept
from kits.effects.places import Spot, basking_spot
from kits.physics.power import continuous_limit_w
from kits.physics.weight import kg_m2_from_psf
from kits.planning.effect_figures import siphon_days, uv_limits
from kits.planning.failing import failing_controls
from kits.planning.kit import Kit
from kits.planning.lines import EXTRA
from kits.planning.masses import installed_kg, load_kg_m2
from kits.planning.registry import ROLES
from kits.planning.warm_days import WARM_ROLES, warm_days
from kits.terms.conditions import lit_loads, mains, wants_uvb, wet
from kits.terms.facts import Subject
from kits.terms.plan import Caution
from kits.terms.reading import positive
from kits.terms.rounding import KEPT, figure, rounded, uv_index
from kits.terms.suitability import from_memory

FLOOR_PSF = 40.0
HEATERS = ("basking_lamp", "night_heat")
SOON_DAYS = 7.0
FAR_TOO_MUCH = 2.0  # times the most of the animals' zone: eyes and skin burn; common sense, no source
HEAVY_KG = 20.0
WORKING_DAY_MIN = 480.0
NEAR_LIMIT = 0.75
# What carries what: role that draws current, role that is rated for it, words for both.
RATED = (
    ("basking_lamp", "lamp_holder"),
    ("uvb_lamp", "uvb_fixture"),
    ("basking_lamp", "dimmer"),
)
SALMONELLA = (
    "Healthy-looking reptiles and amphibians can carry Salmonella: wash hands with soap and water after "
    "touching the animal, its food, water or enclosure; keep all of it out of kitchens and wash its dishes "
    "apart from kitchen things; not recommended where a child under 5, an older adult or someone with weak "
    "immunity lives."
)
ESTIMATES = (
    "The figures of this plan are estimates for planning: check them with instruments in the "
    "finished enclosure "
    "before an animal moves in. Makers' instructions, local codes, a licensed electrician and a "
    "veterinarian come first."
)
LIVE = (
    "Live plants and animals travel only on days without frost or heat on the way, and are unpacked on "
    "arrival; moving some of them between states needs a permit: check locally."
)


def cautions(kit: Kit) -> tuple[Caution, ...]:
    """All cautions that the kit itself gives rise to."""
    tellers = (
        *(_ratings, _circuit, _weight, _roles, _sunlight, _uv_limits, _added_lamps),
        *(warm_days, failing_controls, _standing_water, _animals),
        _general,
    )
    return tuple(caution for tell in tellers for caution in tell(kit))


def _added_lamps(kit: Kit) -> Iterator[Caution]:
    """Lamps and heaters that were added by hand: nothing of this plan is worked out with them."""
    for line in kit.lines:
        roles = [role for role in WARM_ROLES if line.role == EXTRA and kit.shelf.offer(role, line.item)]
        if roles:
            text = (
                f"{line.name} was added by hand: its heat and light are not in the figures, maps and stops "
                "of this plan. Measure temperature and UV index before an animal moves in."
            )
            yield Caution("warning", roles[0], text)
        if any(role in HEATERS for role in roles) and not _has_thermostat(kit):
            text = f"{line.name} was added by hand, and no thermostat with it: no heater may run without one."
            yield Caution("stop", "thermostat", text)


def _has_thermostat(kit: Kit) -> bool:
    """One that is part of the kit, the customer's own, or added by hand."""
    added = any(line.role == EXTRA and kit.shelf.offer("thermostat", line.item) for line in kit.lines)
    return added or kit.filled("thermostat") is not None


def _sunlight(kit: Kit) -> Iterator[Caution]:
    """What lamp and fixture do together, where things named or owned miss the animals' bands."""
    lamp, fixture = kit.at_work("uvb_lamp"), kit.filled("uvb_fixture")
    read = sunlight.reading(lamp) if lamp and wants_uvb(kit.build) else None
    spot = basking_spot(kit.build)
    if read is None or spot.open_fraction <= 0:
        return
    read = replace(read, index=read.index * sunlight.reflector_share(fixture or {}))
    found = sunlight.reached(spot, read, kept=kept(lamp or {}).share)
    asked = sunlight.wanted(kit.build)
    if asked.least <= found.worn and found.highest <= asked.most:
        yield from _more_than_on_average(spot, read, found.back, asked)
        return
    text = (
        f"Lamp and fixture of this kit give a UV index of {uv_index(found.back)} at the back, "
        f"{uv_index(found.highest)} at the highest reach new, about {uv_index(found.worn)} at the back when "
        f"the lamp is replaced (estimate): wanted are at least {asked.least:g} and at most {asked.most:g}."
    )
    yield Caution("stop" if found.highest > FAR_TOO_MUCH * asked.most else "warning", "uvb_lamp", text)


def _uv_limits(kit: Kit) -> Iterator[Caution]:
    """How near an animal may come to the lit lamp, and how long a person may work below it."""
    limits, spot = uv_limits(kit), basking_spot(kit.build)
    if "uvi_closest_safe_m" in limits:
        yield _too_near(kit, math.ceil(100 * round(limits["uvi_closest_safe_m"], KEPT)) * 10, spot)
    minutes = limits.get("keeper_limit_min", WORKING_DAY_MIN)
    if minutes < WORKING_DAY_MIN:
        text = (
            "Bare eyes and skin as near to the lit UVB lamp as the animal gets have all that people may take "
            f"in a day (ICNIRP 2004) after about {max(1, math.floor(minutes))} minutes (estimate)."
        )
        yield Caution("note", "uvb_lamp", text)


def _too_near(kit: Kit, closest_mm: int, spot: Spot) -> Caution:
    """The one distance nearer than which is too much, and its height where that lies in the box."""
    most = sunlight.wanted(kit.build).most
    nearer = f"Nearer than {closest_mm} mm to the lit UVB lamp the UV index passes {most:g}, the most for"
    height_mm = math.floor((spot.lamp_mm - closest_mm) / 10) * 10
    if height_mm >= kit.build.box.height_mm or not kit.build.occupants:
        text = f"{nearer} these animals (estimate, to the safe side): let nothing lead one so near."
        return Caution("note", "uvb_lamp", text)
    text = (
        f"{nearer} these animals (estimate, to the safe side). Straight below it that is all above "
        f"{height_mm} mm: let nothing lead an animal up there, or hang the lamp higher."
    )
    return Caution("warning", "uvb_lamp", text)


def _more_than_on_average(
    spot: Spot, read: sunlight.Reading, back: float, asked: sunlight.Wanted
) -> Iterator[Caution]:
    """More at the back than a zone wants on average: right for a sunbeam, too much for a whole day in it."""
    average = asked.average[1]
    if asked.sunbeam or back <= average:
        return
    lower_mm = spot.lies_mm - sunlight.height_of_index_mm(spot, read, average)
    text = (
        f"The UV index of {uv_index(back)} at the back (estimate) is above the {average:g} that these "
        "animals want on average: let leaves or cork shade most places, or set the perch "
        f"{rounded(lower_mm)} mm lower."
    )
    yield Caution("note", "uvb_lamp", text)


def _standing_water(kit: Kit) -> Iterator[Caution]:
    """Misting that fills the drainage within days."""
    days = siphon_days(kit)
    if days is not None and days < SOON_DAYS:
        text = (
            "At the misting that this room asks for, the water below the soil reaches the most that may "
            f"stand there after {figure('siphon_days', days)} days (estimate): siphon it before, or cover "
            "more of the mesh."
        )
        yield Caution("warning", "siphon_days", text)


def _ratings(kit: Kit) -> Iterator[Caution]:
    """A lamp above the rated watts of what carries it is never a matter of opinion."""
    for load, carrier in RATED:
        watts = _watts(kit, load)
        limit = positive(kit.filled(carrier) or {}, "max_watts")
        if watts is not None and limit is not None and watts > limit:
            text = (
                f"The {_named(load)} of {watts:g} W is above the {limit:g} W that the "
                f"{_named(carrier)} is rated for."
            )
            yield Caution("stop", carrier, text)
        elif watts is not None and limit is None and carrier in kit.build.owned:
            text = (
                f"Read the label of the customer's {_named(carrier)}: the {_named(load)} draws {watts:g} W."
            )
            yield Caution("warning", carrier, text)
    yield from _shared_ratings(kit)


def _watts(kit: Kit, role: str) -> float | None:
    return positive(kit.filled(role) or {}, "watts")


def _shared_ratings(kit: Kit) -> Iterator[Caution]:
    """Timers, thermostats and residual current devices carry several things at once."""
    everything = sum(watts for _, watts in kit.loads())
    lit = sum(watts for role, watts in kit.loads() if role in lit_loads(kit.build))
    heat = sum(watts for role, watts in kit.loads() if role in HEATERS)
    carriers = (("timer", lit), ("thermostat", heat), ("residual_current_device", everything))
    for carrier, watts in carriers:
        limit = kit.rated_w(carrier)
        if limit is not None and watts > limit:
            text = f"{watts:g} W hang on the {_named(carrier)}, which is rated for {limit:g} W."
            yield Caution("stop", carrier, text)


def _circuit(kit: Kit) -> Iterator[Caution]:
    watts = sum(watts for _, watts in kit.loads())
    limit = continuous_limit_w(kit.terms.breaker_a, kit.terms.volts)
    text = (
        f"{watts:g} W of the {limit:g} W that a {kit.terms.breaker_a:g} A circuit of "
        f"{kit.terms.volts:g} V may carry "
        "for hours (NEC 2023 210.19(A)(1), 80 %)"
    )
    if watts > limit:
        yield Caution(
            "stop", "power_w", f"The kit draws {text}: ask a licensed electrician for another circuit."
        )
    elif watts > NEAR_LIMIT * limit:
        yield Caution(
            "warning", "power_w", f"The kit draws {text}: nothing else large may run on that circuit."
        )
    if mains(kit.build) and not wet(kit.build):
        drip = (
            "Let every cord hang in a drip loop below its outlet, and keep water and spilled "
            "dishes away from plugs."
        )
        yield Caution("warning", "power_w", drip)


def _weight(kit: Kit) -> Iterator[Caution]:
    """What the floor carries, and how the box is moved."""
    mass, load, floor = installed_kg(kit), load_kg_m2(kit), kg_m2_from_psf(FLOOR_PSF)
    each_m2 = f"{figure('floor_load_kg_m2', load)} kg on each square metre that it stands on (its outside)"
    weighs = f"The enclosure weighs about {figure('installed_kg', mass)} kg filled, {each_m2}"
    if load > 2 * floor:
        text = (
            f"{weighs}, more than twice the {rounded(floor)} kg/m2 that floors are usually built for: "
            "ask an engineer."
        )
        yield Caution("warning", "installed_kg", text)
    notes = []
    if floor < load <= 2 * floor:
        notes.append(
            f"{weighs}. That is above the {rounded(floor)} kg/m2 for a whole room (IRC R301.5, 40 psf), "
            "which is normal for one box on its own; several side by side or mid-span: ask an engineer."
        )
    if kit.build.box.wall_material == "glass" or mass > HEAVY_KG:
        notes.append(
            "Place the enclosure before filling it, lift it with two people, never by its frame, with gloves "
            "on glass."
        )
    if notes:
        yield Caution("note", "installed_kg", " ".join(notes))


def _roles(kit: Kit) -> Iterator[Caution]:
    """What each role says about the item that fills it."""
    for role in kit.wanted:
        yield from ROLES[role].cautions(kit.build, kit.filled(role))


def _animals(kit: Kit) -> Iterator[Caution]:
    occupants = kit.build.occupants
    subjects = {occupant.subject.code: occupant.subject for occupant in occupants}
    for code, subject in subjects.items():
        yield from _animal(code, subject)
    if any(occupant.stage == "young" for occupant in occupants):
        yield Caution(
            "note", "animals", "Sizes are worked out for grown animals, also where young ones move in."
        )
    if occupants:
        yield Caution("warning", "animals", SALMONELLA)


def _animal(code: str, subject: Subject) -> Iterator[Caution]:
    """What the law and our own knowledge ask of one species, in one note."""
    said = []
    if legal := _legal(subject):
        ending = "" if legal.endswith("check locally") else "; check locally"
        said.append(f"{legal}{ending}.")
    if weak := from_memory(subject):
        listed, verb = ", ".join(weak), "rest" if len(weak) > 1 or weak[0].endswith("s") else "rests"
        said.append(f"{listed[:1].upper()}{listed[1:]} {verb} on memory; ask a vet before relying on that.")
    if said:
        yield Caution("note", code, f"{subject.name}: {' '.join(said)}")


def _legal(subject: Subject) -> str:
    """Hazards and law; hygiene is told once for all animals."""
    told = subject.text("hazards_legal").replace("(M)", "(from memory)").rstrip(". ").split("; ")
    return "; ".join(part for part in told if part != "Salmonella hygiene")


def _general(kit: Kit) -> Iterator[Caution]:
    if any(kit.ware(line).live for line in kit.lines):
        yield Caution("note", "live", LIVE)
    yield Caution("note", "figures", ESTIMATES)


def _named(role: str) -> str:
    return role.replace("_", " ")
