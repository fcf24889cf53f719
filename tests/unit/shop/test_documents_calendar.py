"""The upkeep calendar: RFC 5545 as other programs read it."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from dateutil.rrule import rrulestr
from icalendar import Calendar

from shop.calc.calendar import KitCalendar, Upkeep, calendar

BEGINS = date(2026, 9, 2)
TASKS = (
    Upkeep("Wash the dish, then rinse; dry \\ it", 1, "water_dish"),
    Upkeep("Measure the UV index or replace the UVB lamp " * 3, 90, "uvb_lamp"),
    Upkeep("Trim the plants 🌿", 30, "plant"),
    Upkeep("Trim the plants 🌱", 30, "plant"),
)
KIT = KitCalendar("1042K", 3, "Crested gecko, humid forest", "Saltmoss Vivaria", BEGINS, TASKS)


def events(kit=KIT):
    return Calendar.from_ical(calendar(kit)).walk("VEVENT")


def test_lines_end_in_crlf_and_none_is_longer_than_75_octets():
    """RFC 5545, section 3.1."""
    raw = calendar(KIT)
    assert raw.endswith(b"END:VCALENDAR\r\n")
    assert raw.count(b"\n") == raw.count(b"\r\n")
    assert max(len(line) for line in raw.split(b"\r\n")) <= 75


def test_every_rhythm_is_an_all_day_event_with_what_the_standard_requires():
    """RFC 5545, section 3.6.1: UID and DTSTAMP; DTEND of an all-day event is the day after."""
    for event, every_days in zip(events(), (1, 90, 30), strict=True):
        assert (event.decoded("dtend") - event.decoded("dtstart")).days == 1
        assert event.decoded("dtstamp").isoformat() == "2026-09-02T00:00:00+00:00"
        assert event["rrule"]["INTERVAL"] == [every_days]
        assert "COUNT" not in event["rrule"]


def test_tasks_of_one_rhythm_are_one_series_that_lists_them():
    daily, _, monthly = events()
    assert str(daily["summary"]) == TASKS[0].what
    assert str(monthly["summary"]) == "Upkeep every 30 days: 2 tasks"
    assert str(monthly["description"]).splitlines()[:2] == [f"- {task.what}" for task in TASKS[2:]]


def test_it_says_whether_it_counts_from_the_quote_or_from_the_day_it_was_handed_over():
    assert "Counted from the day of the quote, 2026-09-02." in str(events()[0]["description"])
    (event, *_) = events(replace(KIT, begins=date(2026, 9, 9), is_handed_over=True))
    assert "Counted from the day it was handed over, 2026-09-09." in str(event["description"])
    assert (event.decoded("dtstart"), event["sequence"]) == (date(2026, 9, 10), 3)


def test_uids_differ_within_a_kit_and_stay_from_version_to_version():
    """RFC 5545, section 3.8.4.7; SEQUENCE counts the versions, section 3.8.7.4."""
    first = [str(event["uid"]) for event in events()]
    later = KitCalendar("1042K", 4, KIT.title, KIT.shop, date(2026, 10, 1), TASKS)
    assert len(set(first)) == len(first)
    assert first == [str(event["uid"]) for event in events(later)]
    assert {event["sequence"] for event in events(later)} == {3}


def test_every_90_days_from_the_first_of_december_falls_on_the_published_days():
    """Days of FREQ=DAILY;INTERVAL=90;COUNT=5 from 2026-12-01 by RFC 5545, worked out with dateutil."""
    event = events()[1]
    start = event.decoded("dtstart")
    assert start == date(2026, 12, 1)
    rule = event["rrule"].to_ical().decode() + ";COUNT=5"
    days = rrulestr(rule, dtstart=datetime(2026, 12, 1, tzinfo=UTC))
    expected = ["2026-12-01", "2027-03-01", "2027-05-30", "2027-08-28", "2027-11-26"]
    assert [day.date().isoformat() for day in days] == expected


def test_the_same_kit_gives_the_same_file():
    assert calendar(KIT) == calendar(KIT)


def test_an_interval_below_a_day_is_refused():
    with pytest.raises(ValueError, match="every_days must be at least 1, not 0"):
        calendar(KitCalendar("1A", 1, "Kit", "Shop", BEGINS, (Upkeep("Wash", 0, "x"),)))


def test_what_belongs_to_a_month_comes_on_its_first_day_every_year():
    """RFC 5545, section 3.3.10: FREQ=YEARLY from DTSTART; the kit begins on the second of September."""
    tasks = (Upkeep("January", 365, "timer", 1), Upkeep("September", 365, "timer", 9))
    kit = KitCalendar("1042K", 1, KIT.title, KIT.shop, BEGINS, tasks)
    assert [event.decoded("dtstart") for event in events(kit)] == [date(2027, 1, 1), date(2027, 9, 1)]
    assert {event["rrule"].to_ical() for event in events(kit)} == {b"FREQ=YEARLY"}
