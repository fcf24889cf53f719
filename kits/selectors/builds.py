"""A spec as it is drawn and described: its build and its scene."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from kits.drawings import staging
from kits.drawings.scene import Scene
from kits.planning.build import draft_build
from kits.planning.requirements import owned_figures
from kits.planning.spec import read_spec
from kits.selectors.facts import facts
from kits.selectors.shelf import shelf
from kits.terms.build import Build
from kits.terms.needs import Figures


@dataclass(frozen=True, slots=True)
class _Line:
    role: str
    item: str
    quantity: int


def build_of(spec: Mapping[str, Any]) -> Build:
    """The build of a spec by today's facts; items that have left the catalogue do not matter. Two queries."""
    known, shelves = facts(), shelf()
    read = read_spec(spec, facts=known, knows_item=lambda _: True)
    owned, _ = owned_figures(read, shelves)
    return draft_build(read, facts=known, owned=owned).build


def scene_of(plan: Mapping[str, Any], build: Build) -> Scene:
    """What is drawn of a plan in the shape of the published interface, with its own lines. One query."""
    shelves = shelf()

    def figures(role: str, item: str) -> Figures:
        offer = shelves.offer(role, item)
        return {} if offer is None else offer.figures

    return staging.scene(build, _lines(plan["lines"]), figures=figures)


def _lines(lines: Sequence[Mapping[str, Any]]) -> list[_Line]:
    return [_Line(line["role"], line["item"], line["quantity"]) for line in lines]
