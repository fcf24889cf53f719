"""Upkeep of the finished enclosure, the most frequent first."""

from collections.abc import Iterator, Mapping

from kits.effects import season
from kits.planning.registry import ROLES
from kits.terms.build import Build
from kits.terms.conditions import lit_loads
from kits.terms.needs import Figures
from kits.terms.plan import Reminder

YEAR_DAYS = 365


def calendar(build: Build, filled: Mapping[str, Figures]) -> tuple[Reminder, ...]:
    """Reminders of every role that an item of the kit or of the customer fills."""
    found = [r for role, figures in filled.items() for r in ROLES[role].reminders(build, figures)]
    upkeep = sorted(dict.fromkeys(found), key=lambda reminder: (reminder.every_days, reminder.role))
    return (*upkeep, *_seasons(build, filled))


def _seasons(build: Build, filled: Mapping[str, Figures]) -> Iterator[Reminder]:
    """Where the lamps follow the seasons: each month in which the timer is set to other hours."""
    lamps = [role for role in ("timer", *lit_loads(build)) if role in filled]
    if not lamps or build.latitude_deg is None:
        return
    for month, hours in season.changes(build):
        what = f"{season.MONTHS[month - 1]}: let the lamps be on for {hours:g} h a day"
        yield Reminder(what, YEAR_DAYS, lamps[0], month)
