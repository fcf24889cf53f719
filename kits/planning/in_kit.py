"""How well an item does its job beside the others of its kit, where one of them changes what it does."""

from collections.abc import Mapping
from typing import cast

from kits.planning.choices import Choice
from kits.planning.ties import Role
from kits.terms.needs import Figures, Fit, Need


def fit_in_kit(need: Need, choice: Choice, roles: Mapping[str, Role], filled: Mapping[str, Figures]) -> Fit:
    """The fit as it is told: with the figures of the kit's own partner, not of the one it was measured in.

    `filled` are figures of what fills each role. The choice itself rests on `choice.fit`, whose ties see to
    it that every partner that may be chosen keeps the bands.
    """
    beside = getattr(roles[need.role], "fit_beside", None)
    partner = filled.get(_partner(roles[need.role]))
    if beside is None or partner is None or not choice.fit.passes:
        return choice.fit
    return cast(Fit, beside(need, choice.group.figures, partner))


def partners(roles: Mapping[str, Role]) -> dict[str, str]:
    """The roles whose figures change with what fills another one, each with that one."""
    return {code: partner for code, module in roles.items() if (partner := _partner(module))}


def _partner(role: Role) -> str:
    """The role that a role module names as the one that changes what its items do; empty for most."""
    return str(getattr(role, "BESIDE", ""))
