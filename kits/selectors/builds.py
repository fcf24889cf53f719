"""A spec as it is drawn and described: its build and its scene."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from kits.drawings import scene as scenes
from kits.drawings import staging
from kits.drawings.scene import Scene
from kits.planning.build import draft_build
from kits.planning.requirements import owned_figures
from kits.planning.spec import read_spec
from kits.selectors.facts import facts
from kits.selectors.shelf import shelf
from kits.terms.build import Build
from kits.terms.needs import Figures
from kits.terms.plan import FREE, PlanLine


def planned_build(spec: Mapping[str, Any], plan: Mapping[str, Any]) -> Build:
    """The build of a spec as its plan leaves it: without what nothing could be found for. Two queries.

    A mesh that no cover lies on lets all the air through, whatever the spec wishes.
    """
    return replace(build_of(spec), unmet=frozenset(unmet["role"] for unmet in plan["unmet"]))


def build_of(spec: Mapping[str, Any]) -> Build:
    """The build of a spec by today's facts; items that have left the catalogue do not matter. Two queries."""
    known, shelves = facts(), shelf()
    read = read_spec(spec, facts=known, knows_item=lambda _: True)
    owned, _ = owned_figures(read, shelves)
    return draft_build(read, facts=known, owned=owned).build


def scene_of(plan: Mapping[str, Any], build: Build) -> Scene:
    """What is drawn of a plan in the shape of the published interface.

    A plan that was stored before plans held their scene is staged anew; one query.
    """
    if stored := plan.get("scene"):
        return scenes.from_json(stored)
    shelves = shelf()

    def figures(line: PlanLine) -> Figures:
        offer = shelves.offer(line.role, line.item)
        return {} if offer is None else offer.figures

    return staging.scene(build, [_line(line) for line in plan["lines"]], figures=figures)


def _line(line: Mapping[str, Any]) -> PlanLine:
    """A stored line with what a drawing asks of it; its money and stock are of no importance."""
    return PlanLine(
        role=line["role"], item=line["item"], name=line["name"], quantity=line["quantity"], unit=line["unit"],
        each_cents=0, total_cents=0, status=FREE, free=0, missing=0,
    )  # fmt: skip
