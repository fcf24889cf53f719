"""When a hold ends and until when a quote is good, in the shop's own time zone."""

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo


def closing_after(now: datetime, *, days: int, closing: time, zone: str) -> datetime:
    """Closing time `days` shop days after `now`; the next day where that would be past already.

    >>> from datetime import UTC
    >>> now = datetime(2026, 11, 25, 16, tzinfo=UTC)
    >>> closing_after(now, days=3, closing=time(18), zone="America/Chicago")
    datetime.datetime(2026, 11, 28, 18, 0, tzinfo=zoneinfo.ZoneInfo(key='America/Chicago'))
    """
    local = now.astimezone(ZoneInfo(zone))
    moment = datetime.combine(local.date() + timedelta(days=days), closing, tzinfo=local.tzinfo)
    return moment if moment > now else moment + timedelta(days=1)


def shop_day(now: datetime, *, zone: str) -> date:
    """The date that the shop's calendar shows.

    >>> from datetime import UTC
    >>> shop_day(datetime(2026, 11, 26, 3, tzinfo=UTC), zone="America/Chicago")
    datetime.date(2026, 11, 25)
    """
    return now.astimezone(ZoneInfo(zone)).date()
