"""The pipeline: spec -> build -> requirements -> selection -> plan."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from kits.drawings.staging import scene
from kits.planning.build import Draft, draft_build
from kits.planning.calendar import calendar
from kits.planning.cautions import cautions
from kits.planning.figures import published, work_out
from kits.planning.kit import Kit
from kits.planning.lines import plan_lines, unmet_roles
from kits.planning.registry import ROLES
from kits.planning.requirements import Requirements, left_out, owned_figures, requirements, unfit_things
from kits.planning.selection import Selection, select
from kits.planning.shelf import Shelf
from kits.planning.spec import BuildSpec
from kits.planning.stock import ReadFree, Stock
from kits.planning.totals import totals
from kits.terms.build import Build
from kits.terms.facts import Facts, Subject
from kits.terms.needs import Figures, Need, Offer, Pick
from kits.terms.plan import Caution, Plan, Terms
from kits.terms.reading import positive


@dataclass(frozen=True, slots=True)
class _Job:
    spec: BuildSpec
    shelf: Shelf
    read_free: ReadFree  # remembers what it has read, so that all passes see the same stock


def plan(spec: BuildSpec, *, facts: Facts, shelf: Shelf, read_free: ReadFree, terms: Terms) -> Plan:
    """The computed answer to a build spec: the same spec, facts, shelf and stock give the same plan."""
    job = _Job(spec, shelf, Stock(read_free))
    owned, owned_cautions = owned_figures(spec, shelf)
    draft = draft_build(spec, facts=facts, owned=owned)
    in_soil = requirements(draft.build, in_soil=True)
    first = _select(job, in_soil, draft.build, {})
    kept = _kept(first.picks, spec)
    build = replace(
        draft.build,
        displaced_l=_displaced_l(kept, in_soil, draft.build),
        planted=_planted(kept, draft.build),
    )
    rest = requirements(build, in_soil=False)
    second = _select(job, rest, build, first.taken)
    selections = (first, second)
    kit = Kit(
        build=build,
        wanted=_in_order(in_soil, rest),
        picks=_kept((*first.picks, *second.picks), spec),
        lines=plan_lines(
            selections,
            shelf=shelf,
            read_free=job.read_free,
            extra=[(thing.item, thing.quantity) for thing in spec.extra],
            left_out=spec.without_items,
        ),
        shelf=shelf,
        terms=terms,
    )
    return _answer(kit, job, draft, selections, owned_cautions)


def _select(job: _Job, wants: Requirements, build: Build, taken: Mapping[str, int]) -> Selection:
    return select(
        wants.needs,
        shelf=job.shelf,
        roles=ROLES,
        read_free=job.read_free,
        choose=job.spec.choose,
        fill=job.spec.fill,
        owned=build.owned,
        capacities={"top_depth_mm": build.box.depth_mm},
        taken=taken,
    )


def _displaced_l(picks: tuple[Pick, ...], wants: Requirements, build: Build) -> float:
    """Soil that need not be bought because hardscape stands in it; never more than there is."""
    bought = sum(
        (positive(offer.figures, "buried_l") or 0.0) * pieces
        for pick in picks
        for offer, pieces in pick.offers
    )
    owned = sum(positive(build.owned.get(role, {}), "buried_l") or 0.0 for role in wants.wanted)
    return min(bought + owned, build.layer_l("substrate"))


def _kept(picks: tuple[Pick, ...], spec: BuildSpec) -> tuple[Pick, ...]:
    """The picks without the items that are not wanted; what else was picked stays as it is."""
    if not spec.without_items:
        return picks
    return tuple(
        replace(pick, offers=tuple(pair for pair in pick.offers if _wanted(spec, pick, pair[0])))
        for pick in picks
    )


def _wanted(spec: BuildSpec, pick: Pick, offer: Offer) -> bool:
    return (pick.need.role, offer.ware.item) not in spec.without_items


def _planted(picks: tuple[Pick, ...], build: Build) -> tuple[Subject, ...]:
    """The species among what was picked."""
    codes = {str(offer.figures.get("species")) for pick in picks for offer, _ in pick.offers}
    return tuple(subject for code, subject in build.plants.items() if code in codes)


def _in_order(*wants: Requirements) -> dict[str, tuple[Need, ...]]:
    return {role: some.wanted[role] for role in ROLES for some in wants if role in some.wanted}


def _answer(
    kit: Kit, job: _Job, draft: Draft, selections: tuple[Selection, ...], owned_cautions: tuple[Caution, ...]
) -> Plan:
    found = (
        *work_out(kit, perches_given=draft.perches_given),
        *(note for selection in selections for note in selection.notes),
    )
    told = (
        *(Caution("stop", c.role, c.text) for selection in selections for c in selection.conflicts),
        *draft.cautions, *owned_cautions, *unfit_things(kit.wanted, kit.build), *_chosen_in_spite(kit),
        *left_out(kit.wanted, kit.build), *_items_left_out(job), *cautions(kit),
    )  # fmt: skip
    return Plan(
        spec=job.spec.data,
        lines=tuple(kit.lines),
        unmet=unmet_roles(selections),
        figures=published(found),
        workings=found,
        cautions=_by_level(told),
        totals=totals(kit.lines, kit.terms),
        calendar=calendar(kit.build, _filled(kit)),
        scene=scene(kit.build, kit.lines, figures=kit.figures_of).as_json(),
    )


def _chosen_in_spite(kit: Kit) -> tuple[Caution, ...]:
    """Items that the spec names although they do not do the job."""
    refused = [pick for pick in kit.picks if pick.offers and pick.refusal]
    return tuple(
        Caution(
            "warning", pick.need.role, f"{pick.offers[0][0].ware.name} was chosen by name: {pick.refusal}"
        )
        for pick in refused
    )


def _items_left_out(job: _Job) -> tuple[Caution, ...]:
    """A note for each single item that the customer does not want."""
    return tuple(
        Caution("note", role, f"Left out as asked: {job.shelf.ware(item).name}.")
        for role, item in sorted(job.spec.without_items)
    )


def _filled(kit: Kit) -> dict[str, Figures]:
    return {role: figures for role in kit.wanted if (figures := kit.filled(role)) is not None}


def _by_level(told: tuple[Caution, ...]) -> tuple[Caution, ...]:
    """Each caution once, the gravest first."""
    order = {"stop": 0, "warning": 1, "note": 2}
    return tuple(sorted(dict.fromkeys(told), key=lambda caution: order[caution.level]))
