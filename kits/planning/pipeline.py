"""The pipeline: spec -> build -> requirements -> selection -> plan."""

from kits.drawings.staging import scene
from kits.planning.build import Draft, draft_build
from kits.planning.calendar import calendar
from kits.planning.caution_order import in_order
from kits.planning.cautions import cautions
from kits.planning.chosen import Chosen, Job, choose
from kits.planning.figures import published, work_out
from kits.planning.kit import Kit
from kits.planning.lines import plan_lines
from kits.planning.remedies import with_remedies
from kits.planning.requirements import left_out, owned_figures, unfit_things
from kits.planning.shelf import Shelf
from kits.planning.spec import BuildSpec
from kits.planning.stock import ReadFree, Stock
from kits.planning.totals import totals
from kits.terms.facts import Facts
from kits.terms.needs import Figures
from kits.terms.plan import Caution, Plan, Terms


def plan(spec: BuildSpec, *, facts: Facts, shelf: Shelf, read_free: ReadFree, terms: Terms) -> Plan:
    """The computed answer to a build spec: the same spec, facts, shelf and stock give the same plan."""
    job = Job(spec, facts, shelf, Stock(read_free))  # its memory shows all passes the same stock
    owned, owned_cautions = owned_figures(spec, shelf)
    draft = draft_build(spec, facts=facts, owned=owned)
    chosen = choose(job, draft)
    kit = Kit(
        build=chosen.build,
        wanted=chosen.wanted,
        picks=chosen.picks,
        lines=plan_lines(
            chosen.selections,
            shelf=shelf,
            read_free=job.read_free,
            extra=[(thing.item, thing.quantity) for thing in spec.extra],
            left_out=spec.without_items,
        ),
        shelf=shelf,
        terms=terms,
    )
    return _answer(kit, job, draft, chosen, owned_cautions)


def _answer(kit: Kit, job: Job, draft: Draft, chosen: Chosen, owned_cautions: tuple[Caution, ...]) -> Plan:
    found = (
        *work_out(kit, perches_given=draft.perches_given),
        *(note for selection in chosen.selections for note in selection.notes),
    )
    told = (
        *(Caution("stop", c.role, c.text) for selection in chosen.selections for c in selection.conflicts),
        *draft.cautions, *owned_cautions, *unfit_things(kit.wanted, kit.build), *_chosen_in_spite(kit),
        *left_out(kit.wanted, kit.build), *_items_left_out(job), *cautions(kit),
    )  # fmt: skip
    return Plan(
        spec=job.spec.data,
        lines=tuple(kit.lines),
        unmet=with_remedies(job, chosen),
        figures=published(found),
        workings=found,
        cautions=in_order(told),
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


def _items_left_out(job: Job) -> tuple[Caution, ...]:
    """A note for each single item that the customer does not want."""
    return tuple(
        Caution("note", role, f"Left out as asked: {job.shelf.ware(item).name}.")
        for role, item in sorted(job.spec.without_items)
    )


def _filled(kit: Kit) -> dict[str, Figures]:
    return {role: figures for role in kit.wanted if (figures := kit.filled(role)) is not None}
