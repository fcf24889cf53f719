"""Upkeep of the finished enclosure, the most frequent first."""

from collections.abc import Mapping

from kits.planning.registry import ROLES
from kits.terms.build import Build
from kits.terms.needs import Figures
from kits.terms.plan import Reminder


def calendar(build: Build, filled: Mapping[str, Figures]) -> tuple[Reminder, ...]:
    """Reminders of every role that an item of the kit or of the customer fills."""
    found = [r for role, figures in filled.items() for r in ROLES[role].reminders(build, figures)]
    return tuple(sorted(dict.fromkeys(found), key=lambda reminder: (reminder.every_days, reminder.role)))
