"""Which roles a build needs filled, in the order of the parts list."""

import math
from collections.abc import Mapping
from dataclasses import dataclass

from kits.planning.choices import ROUNDING
from kits.planning.registry import ROLES
from kits.planning.shelf import Shelf
from kits.planning.spec import BuildSpec
from kits.terms.build import Build
from kits.terms.needs import Figures, Fit, Need
from kits.terms.plan import Caution

# Without these an animal suffers or a house burns: to leave one out has to be read.
NEEDED = frozenset(("night_heat", "thermostat", "uvb_lamp", "basking_lamp", "residual_current_device"))


@dataclass(frozen=True, slots=True)
class Requirements:
    """The needs to buy for, and the roles that the build wants whoever fills them."""

    needs: tuple[Need, ...]
    wanted: Mapping[str, tuple[Need, ...]]


def requirements(build: Build, *, in_soil: bool, after_lamps: bool = False) -> Requirements:
    """Needs of the roles that are (not) chosen first, or last; owned and unwanted roles are not bought."""
    wanted = {
        code: needs
        for code, role in ROLES.items()
        if (role.IN_SOIL, getattr(role, "AFTER_LAMPS", False)) == (in_soil, after_lamps)
        and (needs := role.needs(build))
    }
    bought = tuple(
        need
        for code, needs in wanted.items()
        if code not in build.owned and code not in build.without
        for need in needs
    )
    return Requirements(bought, wanted)


def owned_figures(spec: BuildSpec, shelf: Shelf) -> tuple[dict[str, Figures], tuple[Caution, ...]]:
    """What is known of the things that the customer has."""
    figures: dict[str, Figures] = {}
    cautions = []
    for thing in spec.own:
        offer = shelf.offer(thing.role, thing.item) if thing.item else None
        if thing.item and offer is None:
            text = f"{thing.item} is not listed as {_named(thing.role)}, so nothing of it could be checked."
            cautions.append(Caution("warning", thing.role, text))
        figures[thing.role] = offer.figures if offer else thing.figures
    return figures, tuple(cautions)


def left_out(wanted: Mapping[str, tuple[Need, ...]], build: Build) -> tuple[Caution, ...]:
    """A note for each role that the build needs and the customer does not want."""
    return tuple(
        Caution(
            "warning" if role in NEEDED else "note",
            role,
            f"Left out as asked: {_named(role)}. {' '.join(needs[0].because)}".strip(),
        )
        for role, needs in wanted.items()
        if role in build.without
    )


def unfit_things(wanted: Mapping[str, tuple[Need, ...]], build: Build) -> tuple[Caution, ...]:
    """A warning for each thing of the customer's whose figures do not do the job."""
    found = []
    for role, needs in wanted.items():
        figures = build.owned.get(role) or {}
        faults = [fault for need in needs if (fault := _fault(need, ROLES[role].fit(need, figures)))]
        if figures and faults:
            found.append(Caution("warning", role, f"The customer's own {_named(role)}: {faults[0]}"))
    return tuple(found)


def _fault(need: Need, fit: Fit) -> str:
    """Why one such thing does not do the job, or that it takes several of them; empty when it does."""
    if not fit.passes or need.by_volume or fit.each >= 1:
        return fit.refusal
    pieces = math.ceil(max(1, need.count) / fit.each - ROUNDING)
    return f"{' '.join(fit.because)} It takes {pieces} of them."


def _named(role: str) -> str:
    return role.replace("_", " ")
