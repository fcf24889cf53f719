"""From spec to build: every gap filled from facts, each assumption told."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from kits.effects import season
from kits.physics.walls import wall
from kits.planning.climate import room_cautions, shared_climate
from kits.planning.layers import lay
from kits.planning.minimum_sizes import minimum_size, shortfalls
from kits.planning.spec import BuildSpec
from kits.planning.spec_air import CLOSED
from kits.planning.spec_air import USUAL_OPEN as USUAL_SLOT
from kits.planning.spec_terms import Enclosure
from kits.roles import plant
from kits.terms.build import Box, Build, Occupant, Perch, Vent
from kits.terms.company import company_cautions, sale_stops
from kits.terms.facts import Facts, Subject, in_words
from kits.terms.needs import Figures
from kits.terms.plan import Caution
from kits.terms.rounding import rounded

# What a measured box is taken to be where its owner did not say; common practice, no source.
USUAL_WALL = "glass"
USUAL_TOP = "mesh"
CLOSED_TOP = "solid"  # what a top that is said to be open nowhere is taken for
USUAL_OPEN = {"mesh": 0.66, "glass": 0.0, "solid": 0.04, "open": 1.0}
USUAL_SILL_SHARE = 0.28
PERCH_SHARE = {"arboreal": 0.6}  # of the air above the ground
LOW_PERCH_SHARE = 0.15


@dataclass(frozen=True, slots=True)
class Draft:
    """A build with what has to be said about it."""

    build: Build
    cautions: tuple[Caution, ...]
    perches_given: bool


def draft_build(spec: BuildSpec, *, facts: Facts, owned: Mapping[str, Figures]) -> Draft:
    """The build that a spec describes."""
    box, box_cautions = _box(spec.enclosure, facts)
    occupants = tuple(Occupant(facts.animals[a.species], a.count, a.stage, a.sex) for a in spec.animals)
    species = tuple({o.subject.code: o.subject for o in occupants}.values())
    style, style_cautions = _style(spec.style, species, facts)
    climate, climate_cautions = shared_climate(species)
    layers, layer_cautions = lay(spec.depths_mm, box, style, occupants)
    build = Build(
        box=box,
        room=spec.room,
        style=style,
        occupants=occupants,
        climate=climate,
        layers=layers,
        perches=spec.perches,
        planting=spec.planting or style.text("planting") or "none",
        units=spec.units,
        owned=owned,
        without=spec.without,
        plants=facts.plants,
        cleanup=facts.cleanup,
        media=facts.media,
        mixes=facts.mixes,
        latitude_deg=spec.latitude_deg,
    )
    build, plant_cautions = _plantable(_perched(build), asked=bool(spec.planting))
    cautions = (
        *climate_cautions, *sale_stops(occupants), *company_cautions(occupants), *_predators(occupants),
        *_sizes(occupants, box), *room_cautions(climate, spec.room), *_room_note(spec), *_dark_months(build),
        *style_cautions,
        *box_cautions, *layer_cautions, *plant_cautions, *_perch_cautions(build, given=bool(spec.perches)),
    )  # fmt: skip
    return Draft(build, cautions, bool(spec.perches))


def _box(enclosure: Enclosure, facts: Facts) -> tuple[Box, tuple[Caution, ...]]:
    if enclosure.measured:
        return _measured(enclosure)
    subject = facts.enclosures[enclosure.size]
    sides = {side: subject.number(f"{side}_mm") or 0.0 for side in ("width", "depth", "height", "sill")}
    box = Box(
        width_mm=sides["width"],
        depth_mm=sides["depth"],
        height_mm=sides["height"],
        sill_mm=sides["sill"],
        wall_material=subject.text("wall_material") or USUAL_WALL,
        wall_thickness_mm=subject.number("wall_thickness_mm") or wall(USUAL_WALL).usual_mm,
        top_kind=subject.text("top_kind") or USUAL_TOP,
        top_open_fraction=subject.number("top_open_fraction") or 0.0,
        size_code=enclosure.size,
        covered_share=enclosure.covered_share,
        air_changes_h=enclosure.air_changes_h or subject.number("air_changes_h"),
        front_vent=enclosure.front_vent or _known_vent(subject),
    )
    text = f"Inside figures of {subject.name} are {subject.credit('width_mm')}."
    return box, (Caution("note", "enclosure", text),)


def _known_vent(size: Subject) -> Vent | None:
    """The slot of a size where its height is among the figures: no table has any, a shop measures it."""
    height = size.number("front_vent_height_mm")
    if not height or size.text("top_kind") in CLOSED:
        return None
    width = size.number("front_vent_width_mm") or size.number("width_mm") or 0.0
    return Vent(width, height, size.number("front_vent_open_fraction") or USUAL_SLOT)


def _measured(enclosure: Enclosure) -> tuple[Box, tuple[Caution, ...]]:
    assumed: list[str] = []
    sill = enclosure.sill_mm
    if sill is None:
        sill = round(USUAL_SILL_SHARE * enclosure.height_mm)
        assumed.append(f"a sill of {sill:g} mm")
    material = enclosure.wall_material or USUAL_WALL
    thickness = enclosure.wall_thickness_mm or wall(material).usual_mm
    if enclosure.wall_material is None or enclosure.wall_thickness_mm is None:
        assumed.append(f"walls of {thickness:g} mm {material}")
    open_fraction = enclosure.top_open_fraction
    top = enclosure.top_kind or (CLOSED_TOP if open_fraction == 0 else USUAL_TOP)
    if enclosure.top_kind is None or open_fraction is None:
        open_fraction = USUAL_OPEN[top] if open_fraction is None else open_fraction
        assumed.append(f"a {top} top that is {open_fraction:.0%} open")
    box = Box(
        enclosure.width_mm,
        enclosure.depth_mm,
        enclosure.height_mm,
        sill,
        material,
        thickness,
        top,
        open_fraction,
        covered_share=enclosure.covered_share,
        air_changes_h=enclosure.air_changes_h,
        front_vent=enclosure.front_vent,
    )
    own = Caution(
        "note", "enclosure", "The measured enclosure is the customer's own and not part of the kit."
    )
    if not assumed:
        return box, (own, *_shut(box))
    text = f"Not given and taken to be {', '.join(assumed)}: measure and plan again where that is wrong."
    return box, (own, Caution("warning", "enclosure", text), *_shut(box))


def _shut(box: Box) -> tuple[Caution, ...]:
    """A mesh or an open top that is said to let nothing through."""
    if box.top_kind not in ("mesh", "open") or box.top_open_fraction > 0:
        return ()
    text = (
        f"The top is given as {box.top_kind} with an open_fraction of 0, so that neither light nor air comes "
        "through: give how much of it is open, or a solid or glass top."
    )
    return (Caution("warning", "enclosure", text),)


def _style(asked: str, species: tuple[Subject, ...], facts: Facts) -> tuple[Subject, tuple[Caution, ...]]:
    wanted = {animal.code: animal.text("substrate_style") for animal in species}
    code = asked or next((style for style in wanted.values() if style in facts.styles), "")
    style = facts.styles[code or next(iter(facts.styles))]
    cautions = tuple(
        Caution(
            "warning",
            "style",
            f"The style is {style.code}; {animal.english_name or animal.name} is kept on "
            f"{wanted[animal.code]} ({animal.credit('substrate_style')}).",
        )
        for animal in species
        if wanted[animal.code] and wanted[animal.code] != style.code
    )
    return style, cautions


def _predators(occupants: tuple[Occupant, ...]) -> tuple[Caution, ...]:
    """Animals that eat their company."""
    total = sum(occupant.count for occupant in occupants)
    subjects = {o.subject.code: o.subject for o in occupants}.values()
    return tuple(
        Caution(
            "stop", "animals", f"{s.name} must live alone: {s.text('group_rule')}, {s.credit('group_rule')}."
        )
        for s in subjects
        if total > 1 and "eats other" in s.text("group_rule")
    )


def _sizes(occupants: tuple[Occupant, ...], box: Box) -> tuple[Caution, ...]:
    """Measures of the box below a published minimum, by the adult length whatever the stage."""
    counts: dict[str, int] = {}
    subjects = {o.subject.code: o.subject for o in occupants}
    for occupant in occupants:
        counts[occupant.subject.code] = counts.get(occupant.subject.code, 0) + occupant.count
    return tuple(caution for code, count in counts.items() for caution in _size(subjects[code], count, box))


def _size(subject: Subject, count: int, box: Box) -> tuple[Caution, ...]:
    name = subject.english_name or subject.name
    minimum = minimum_size(subject, count)
    if minimum is None:
        return (Caution("note", "enclosure", f"No published minimum size is known here for {name}."),)
    short = ", ".join(one.phrase for one in shortfalls(minimum, box))
    source = in_words(minimum.source, minimum.mark)
    told = (
        f"{name[:1].upper()}{name[1:]}: the inside is below a published minimum: {short}. Source: {source}."
    )
    found = (Caution("warning", "enclosure", told),) if short else ()
    limits = [Caution("note", "enclosure", f"{name}: {limit}") for limit in minimum.limits]
    return (*found, *limits)


def _room_note(spec: BuildSpec) -> tuple[Caution, ...]:
    if spec.room_given:
        return ()
    room = spec.room
    text = (
        f"The room is taken to be {room.temperature_c:g} C by day, {room.night_temperature_c:g} C "
        "at night and "
        f"{room.relative_humidity_pct:g} % humid where the spec does not say."
    )
    return (Caution("note", "room", text),)


def _dark_months(build: Build) -> tuple[Caution, ...]:
    """Days so short belong to a rest in the cold, which keeps or kills by species."""
    darkest = season.shortest_h(build)
    if darkest >= season.SHORT_H or not build.occupants:
        return ()
    month = season.MONTHS[season.month_of(build, darkest)]
    text = (
        f"In {month} the lamps are on for only {darkest:g} h: days so short go with a winter rest, which not "
        "every animal takes and a young or thin one may not survive. Ask a vet, or name a lower latitude."
    )
    return (Caution("warning", "animals", text),)


def _perched(build: Build) -> Build:
    """The build with a default perch when there are animals and none was given."""
    if build.perches or not build.occupants:
        return build
    ground = sum(build.surface_mm()) / 2
    share = max(PERCH_SHARE.get(o.subject.text("habit"), LOW_PERCH_SHARE) for o in build.occupants)
    height = ground + share * (build.box.height_mm - ground)
    return replace(build, perches=(Perch(round(height), round(build.box.depth_mm / 2)),))


def _plantable(build: Build, *, asked: bool) -> tuple[Build, tuple[Caution, ...]]:
    """No plants where nobody asked for them and none that is known here suits."""
    if asked or build.planting == "none" or plant.judged(build)[0]:
        return build, ()
    text = f"No plant known here suits this {build.style.code} build, so none is planned."
    return replace(build, planting="none"), (Caution("note", "planting", text),)


def _perch_cautions(build: Build, *, given: bool) -> tuple[Caution, ...]:
    front, back = build.surface_mm()
    found = []
    for perch in build.perches if given else ():
        ground = front + (back - front) * min(1.0, perch.back_mm / build.box.depth_mm)
        if perch.height_mm < ground:
            text = (
                f"A perch at {perch.height_mm:g} mm lies below the ground there, which is "
                f"{rounded(ground)} mm high: nothing can sit there. Set it higher or lay less soil."
            )
            found.append(Caution("stop", "perches_mm", text))
    return tuple(found)
