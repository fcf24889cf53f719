"""Every role, found by looking into the folder of roles: a new role is one new file."""

from collections.abc import Mapping
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType
from typing import Protocol, cast

from kits import roles
from kits.terms.build import Build
from kits.terms.needs import Coupling, Figures, Fit, Need
from kits.terms.plan import Caution, Reminder


class Role(Protocol):
    """What each module in kits/roles provides."""

    CODE: str
    ORDER: int  # place in the parts list
    IN_SOIL: bool  # chosen first, because what it buries need not be filled with substrate

    @staticmethod
    def needs(build: Build) -> tuple[Need, ...]:
        """What this build needs of the role."""

    @staticmethod
    def fit(need: Need, figures: Figures) -> Fit:
        """Whether an item with these figures does the job."""

    @staticmethod
    def coupling(figures: Figures) -> Coupling:
        """What the item asks of others, offers to others and takes of shared room."""

    @staticmethod
    def cautions(build: Build, figures: Figures | None) -> tuple[Caution, ...]:
        """What must be said about the chosen or owned item; None when there is none."""

    @staticmethod
    def reminders(build: Build, figures: Figures) -> tuple[Reminder, ...]:
        """Upkeep that the item brings."""


def _found() -> dict[str, Role]:
    modules = [import_module(f"{roles.__name__}.{entry.name}") for entry in iter_modules(roles.__path__)]
    by_order = sorted((cast(Role, module) for module in modules), key=lambda role: role.ORDER)
    return {role.CODE: role for role in by_order}


ROLES: Mapping[str, Role] = MappingProxyType(_found())
NO_COUPLING = Coupling()


def coupling_of(role: str, figures: Figures) -> Coupling:
    """The item's coupling; a role that depends on nothing says nothing."""
    coupling = getattr(ROLES[role], "coupling", None)
    return NO_COUPLING if coupling is None else cast(Coupling, coupling(figures))
