"""The upkeep of a kit as a calendar file (RFC 5545) for the customer's own calendar.

Each reminder is an all-day event with a rule: many calendar apps do not show to-dos, and every one shows
events. The file is the same each time it is made from the same quote version.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

from icalendar import Calendar, Event

PRODUCT = "-//Kitwright//Upkeep//EN"
DOMAIN = "kitwright.invalid"  # RFC 2606: a name that nobody can own


@dataclass(frozen=True, slots=True)
class Upkeep:
    """One task and how often."""

    what: str
    every_days: int
    role: str
    month: int = 0  # 1 to 12: on the first of this month each year


@dataclass(frozen=True, slots=True)
class KitCalendar:
    """Whose calendar it is and from when it counts."""

    number: str
    version: int
    title: str
    shop: str
    begins: date
    upkeep: tuple[Upkeep, ...]


def calendar(kit: KitCalendar) -> bytes:
    """A calendar with one repeating all-day event for each task of a kit.

    Formula: the first time is begins + every_days; from there FREQ=DAILY;INTERVAL=every_days without end.
    What belongs to a month begins on its next first day, from there FREQ=YEARLY.
    Args: kit: what it is for; every_days [d], >= 1; begins: the day that the quote version was written.
    Returns: bytes of an iCalendar file: UTF-8, lines ended by CRLF and folded at 75 octets.
    Raises: ValueError on an interval below one day.
    Valid: any number of tasks; DTSTAMP is the first moment of `begins`: the same kit gives the same file.
    Source: RFC 5545, sections 3.1 (folding), 3.6.1 (VEVENT), 3.8.4.7 (UID), 3.8.5.3 (RRULE)
    Example:
        >>> kit = KitCalendar("1042K", 1, "Kit", "Shop", date(2026, 12, 1), (Upkeep("Wash", 90, "dish"),))
        >>> b"RRULE:FREQ=DAILY;INTERVAL=90" in calendar(kit)
        True
    """
    file = Calendar()
    file.add("prodid", PRODUCT)
    file.add("version", "2.0")
    file.add("calscale", "GREGORIAN")
    file.add("method", "PUBLISH")
    file.add("x-wr-calname", f"{kit.title}, upkeep")
    for event in _events(kit):
        file.add_component(event)
    return bytes(file.to_ical())


def _events(kit: KitCalendar) -> Iterable[Event]:
    seen: dict[str, int] = {}
    for task in kit.upkeep:
        if task.every_days < 1:
            raise ValueError(f"every_days must be at least 1, not {task.every_days}.")
        name = f"{task.role}-{_slug(task.what)}"
        seen[name] = seen.get(name, 0) + 1
        yield _event(kit, task, name if seen[name] == 1 else f"{name}-{seen[name]}")


def _event(kit: KitCalendar, task: Upkeep, name: str) -> Event:
    first = _first_of(task.month, kit.begins) if task.month else kit.begins + timedelta(days=task.every_days)
    event = Event()
    event.add("uid", f"{kit.number}-{name}@{DOMAIN}")
    event.add("dtstamp", datetime.combine(kit.begins, time(), tzinfo=UTC))
    event.add("dtstart", first)
    event.add("dtend", first + timedelta(days=1))
    yearly, by_days = {"freq": "yearly"}, {"freq": "daily", "interval": task.every_days}
    event.add("rrule", yearly if task.month else by_days)
    event.add("sequence", kit.version - 1)
    event.add("summary", task.what)
    event.add(
        "description", f"{kit.title}. Kit {kit.number}, {kit.shop}. Common practice: go by what you see."
    )
    event.add("transp", "TRANSPARENT")
    event.add("categories", ["Enclosure upkeep"])
    return event


def _first_of(month: int, begins: date) -> date:
    """The first day of the month on or after the beginning."""
    this_year = date(begins.year, month, 1)
    return this_year if this_year >= begins else date(begins.year + 1, month, 1)


def _slug(text: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:60]
