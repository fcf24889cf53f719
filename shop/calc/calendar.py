"""The upkeep of a kit as a calendar file (RFC 5545) for the customer's own calendar.

What comes in the same rhythm is one all-day event with a rule, its tasks listed in it: many calendar apps do
not show to-dos, and every one shows events. The file is the same each time it is made from the same quote
version, until the kit is handed over: from then on it counts from that day.
"""

from collections.abc import Iterable, Sequence
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
    is_handed_over: bool = False  # whether it begins on the day that the customer got the kit


def calendar(kit: KitCalendar) -> bytes:
    """A calendar with one repeating all-day event for each rhythm in which a kit has tasks.

    Formula: the first time is begins + every_days; from there FREQ=DAILY;INTERVAL=every_days without end.
    What belongs to a month begins on its next first day, from there FREQ=YEARLY.
    Args: kit: what it is for; every_days [d], >= 1; begins: the day that the kit was handed
            over, before that the day that the quote version was written.
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
    rhythms: dict[tuple[int, int], list[Upkeep]] = {}
    for task in kit.upkeep:
        if task.every_days < 1:
            raise ValueError(f"every_days must be at least 1, not {task.every_days}.")
        rhythms.setdefault((task.month, 0 if task.month else task.every_days), []).append(task)
    for tasks in rhythms.values():
        yield _event(kit, tasks)


def _event(kit: KitCalendar, tasks: Sequence[Upkeep]) -> Event:
    """One rhythm; its name stays from version to version, whichever tasks it has."""
    month, every_days = tasks[0].month, tasks[0].every_days
    first = _first_of(month, kit.begins) if month else kit.begins + timedelta(days=every_days)
    event = Event()
    event.add("uid", f"{kit.number}-{f'month-{month}' if month else f'every-{every_days}-days'}@{DOMAIN}")
    event.add("dtstamp", datetime.combine(kit.begins, time(), tzinfo=UTC))
    event.add("dtstart", first)
    event.add("dtend", first + timedelta(days=1))
    yearly, by_days = {"freq": "yearly"}, {"freq": "daily", "interval": every_days}
    event.add("rrule", yearly if month else by_days)
    event.add("sequence", kit.version - 1 + kit.is_handed_over)
    event.add("summary", _summary(tasks))
    event.add("description", _description(kit, tasks))
    event.add("transp", "TRANSPARENT")
    event.add("categories", ["Enclosure upkeep"])
    return event


def _summary(tasks: Sequence[Upkeep]) -> str:
    """The task itself, or the rhythm of several that its description lists."""
    if len(tasks) == 1:
        return tasks[0].what
    every_days = tasks[0].every_days
    rhythm = "daily" if every_days == 1 else f"every {every_days} days"
    return f"Upkeep {'of the month' if tasks[0].month else rhythm}: {len(tasks)} tasks"


def _description(kit: KitCalendar, tasks: Sequence[Upkeep]) -> str:
    listed = [f"- {task.what}" for task in tasks] if len(tasks) > 1 else []
    since = "the day it was handed over" if kit.is_handed_over else "the day of the quote"
    told = f"{kit.title}. Kit {kit.number}, {kit.shop}. Counted from {since}, {kit.begins}."
    return "\n".join([*listed, f"{told} Common practice: go by what you see."])


def _first_of(month: int, begins: date) -> date:
    """The first day of the month on or after the beginning."""
    this_year = date(begins.year, month, 1)
    return this_year if this_year >= begins else date(begins.year + 1, month, 1)
