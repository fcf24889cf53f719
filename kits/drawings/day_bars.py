"""Rows below the curves of a day: when lamps are on, when it is misted, how hard the heater works."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reportlab.graphics.shapes import Shape

from kits.drawings.axes import Panel
from kits.drawings.day_picture import HOURS, DayPicture
from kits.drawings.labels import Point
from kits.drawings.patterns import Area, filled, thinned
from kits.drawings.pen import CAP_SHARE, FINE, HAIR, TEXT_SIZE, Marked, Pen

BAR, BAR_PITCH = 9.0, 14.0
DROP = 3.0


@dataclass(frozen=True, slots=True)
class Row:
    """One row with its name: spells that something is on, moments, or a duty from 0 to 1 by hour."""

    name: str
    spells: tuple[tuple[float, float], ...] = ()
    moments: tuple[float, ...] = ()
    duty: tuple[tuple[float, float], ...] = ()


def rows_of(day: DayPicture) -> tuple[Row, ...]:
    """Lamps, mister and heater, in this order, as far as there are any."""
    lamps = [Row(name, spells=tuple(day.daily(begins, ends))) for name, begins, ends in day.lamp_hours]
    days = range(round(day.until_h / HOURS))
    moments = tuple(HOURS * number + hour % HOURS for number in days for hour in day.mist_hours)
    mist = [Row("mist", moments=moments)] if moments else []
    heat = []
    if any(day.heater_duty):
        heat = [Row("heater", duty=tuple(zip(day.hours, day.heater_duty, strict=True)))]
    return (*lamps, *mist, *heat)


def draw_rows(pen: Pen, rows: Sequence[Row], panel: Panel, top: float) -> Iterator[Shape]:
    """The rows from a height downwards, on the hours of a panel."""
    for number, row in enumerate(rows):
        low = top - BAR_PITCH * number - BAR
        middle = low + BAR / 2
        yield pen.text((panel.left - 5, middle - TEXT_SIZE * CAP_SHARE / 2), row.name, anchor="end")
        yield pen.line((panel.left, low), (panel.right, low), ink="hair", width=HAIR)
        shapes = [
            *_spells(pen, row, panel, low),
            *_moments(pen, row, panel, low),
            *_duty(pen, row, panel, low),
        ]
        if shapes:
            yield Marked(*shapes, marks={"class": f"row {row.name}"})


def _spells(pen: Pen, row: Row, panel: Panel, low: float) -> Iterator[Shape]:
    """A bar with stripes for the time that a lamp is on."""
    for begins, ends in row.spells:
        left, right = panel.x(begins), panel.x(ends)
        yield pen.rect((left, low), (right - left, BAR), fill="lamp", ink="")
        yield from filled(pen, "uprights", Area(left, low, right, low + BAR))
        yield pen.rect((left, low), (right - left, BAR), width=FINE)


def _moments(pen: Pen, row: Row, panel: Panel, low: float) -> Iterator[Shape]:
    """A drop for each time that it is misted."""
    for hour in row.moments:
        x = panel.x(hour)
        x = min(max(x, panel.left + DROP), panel.right - DROP)
        path = pen.path(fill="accent", ink="ink", width=HAIR)
        path.moveTo(x, low + BAR)
        path.curveTo(x + 0.4, low + BAR * 0.7, x + DROP, low + BAR * 0.55, x + DROP, low + DROP)
        path.curveTo(x + DROP, low - 0.3, x - DROP, low - 0.3, x - DROP, low + DROP)
        path.curveTo(x - DROP, low + BAR * 0.55, x - 0.4, low + BAR * 0.7, x, low + BAR)
        path.closePath()
        yield path


def _duty(pen: Pen, row: Row, panel: Panel, low: float) -> Iterator[Shape]:
    """The duty as an area from nothing at the line up to the height of a bar."""
    if not row.duty:
        return
    upper: list[Point] = [
        (panel.x(hour), low + BAR * min(1.0, max(0.0, share)))
        for hour, share in row.duty
        if panel.across.low <= hour <= panel.across.high
    ]
    if len(upper) > 1:
        outline = [(upper[0][0], low), *thinned(upper, 0.2), (upper[-1][0], low)]
        yield pen.polygon(outline, fill="stone_edge", ink="")
