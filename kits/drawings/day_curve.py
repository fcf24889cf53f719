"""A day in the enclosure: temperatures and humidity against what is wanted, lamps, mist and heater below."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reportlab.graphics.shapes import Drawing, Shape

from kits.drawings import axes
from kits.drawings.axes import Panel, Span, plain, round_span, ticks
from kits.drawings.day_bars import BAR_PITCH, Row, draw_rows, rows_of
from kits.drawings.day_picture import HOURS, DayPicture
from kits.drawings.layout import MARGIN
from kits.drawings.legend import DASHED, DOTTED, SOLID, Entry, Stroke, draw_legend, haloed, height_of, line_of
from kits.drawings.patterns import Area, filled, thinned
from kits.drawings.pen import Marked, Pen
from kits.drawings.theme import PAPER, Theme

__all__ = ["DayPicture", "day_curve"]

HEAD, BETWEEN, AXIS = 15.0, 8.0, 16.0
LEAST_WIDTH, LEAST_PANELS = 240.0, 100.0
WARMTH_SHARE = 0.58  # of the height of both panels
LEAST_SPAN_K = 6.0
AIR_K = 0.5  # left free above and below
MANY_H = 96.0  # from here on lines stand so close that they are drawn finer, without a halo
TEMPERATURES = "temperature, °C"
HUMIDITY = "relative humidity, %"
CURVES = (("air", "air_c", SOLID), ("soil", "soil_c", DASHED), ("basking surface", "surface_c", DOTTED))
HOUR_STEPS = ((24.0, 3.0), (48.0, 6.0), (96.0, 12.0))


def day_curve(
    day: DayPicture, *, width: float = 480.0, height: float = 330.0, theme: Theme = PAPER
) -> Drawing:
    """Two panels over the hours, temperatures and humidity, with the wanted bands and rows of what is on.

    The bands are hatched by day and dotted by night; curves differ in their strokes. Several days are drawn
    side by side. US units add degrees Fahrenheit at the right. At least 240 points wide; it grows in height
    where the rows need it.
    """
    pen, sheet = Pen(theme), _lay_out(day, max(width, LEAST_WIDTH), height)
    drawing = Drawing(sheet.width, sheet.height)
    for shape in _contents(pen, day, sheet):
        drawing.add(shape)
    return drawing


@dataclass(frozen=True, slots=True)
class _Sheet:
    width: float
    height: float
    warmth: Panel
    damp: Panel
    step_c: float
    rows: tuple[Row, ...]
    key: tuple[Entry, ...]


def _lay_out(day: DayPicture, width: float, height: float) -> _Sheet:
    rows, key = rows_of(day), tuple(_key(day))
    names = max(axes.widest([row.name for row in rows]), 22.0)
    left = MARGIN + names + 7.0
    right = MARGIN + (24.0 if day.units == "us" else 8.0)
    below = MARGIN + height_of(key, width - 2 * MARGIN) + BAR_PITCH * len(rows) + AXIS + 4.0
    both = max(height - below - 2 * HEAD - BETWEEN - MARGIN, LEAST_PANELS)
    wide, hours = width - left - right, Span(0.0, day.until_h)
    up, step = round_span(_every_c(day), least=LEAST_SPAN_K, most=5)
    damp = Panel(left, below, wide, both * (1 - WARMTH_SHARE), hours, Span(0.0, 100.0))
    warmth = Panel(left, damp.high + BETWEEN + HEAD, wide, both * WARMTH_SHARE, hours, up)
    return _Sheet(width, warmth.high + HEAD + MARGIN, warmth, damp, step, rows, key)


def _every_c(day: DayPicture) -> list[float]:
    bands = [value for band in (day.day_c, day.night_c) if band for value in band]
    every = [*day.air_c, *day.soil_c, *day.surface_c, *bands]
    return [min(every) - AIR_K, max(every) + AIR_K]


def _key(day: DayPicture) -> Iterator[Entry]:
    for name, field, stroke in CURVES:
        if getattr(day, field):
            yield Entry(name, stroke=stroke)
    for when, band, pattern in (("day", day.day_c, "wanted"), ("night", day.night_c, "dots")):
        if band:
            yield Entry(f"wanted by {when} {_degrees(band, day.units)}", pattern=pattern)
    if day.humidity_band:
        low, high = day.humidity_band
        yield Entry(f"humidity wanted {low:.0f} to {high:.0f} %", pattern="levels")


def _degrees(band: tuple[float, float], units: str) -> str:
    celsius = f"{plain(round(band[0], 1))} to {plain(round(band[1], 1))} °C"
    return celsius if units != "us" else f"{celsius} ({_f(band[0]):.0f} to {_f(band[1]):.0f} °F)"


def _f(celsius: float) -> float:
    return celsius * 9 / 5 + 32


def _contents(pen: Pen, day: DayPicture, sheet: _Sheet) -> Iterator[Shape]:
    hours = ticks(sheet.damp.across, _hour_step(day.until_h))
    yield from _warmth(pen, day, sheet, hours)
    yield from _damp(pen, day, sheet.damp, hours)
    named = [(hour, words) for hour in hours if (words := _hour(hour, day.until_h))]
    yield from axes.words_below(pen, sheet.damp, named)
    top = sheet.damp.low - AXIS
    yield from draw_rows(pen, sheet.rows, sheet.damp, top)
    foot = top - BAR_PITCH * len(sheet.rows)
    yield from draw_legend(pen, sheet.key, (MARGIN, foot), sheet.width - 2 * MARGIN)


def _hour_step(until_h: float) -> float:
    return next((step for length, step in HOUR_STEPS if until_h <= length), HOURS)


def _hour(hour: float, until_h: float) -> str:
    """The hour of the day; over many days the number of the day that begins."""
    if until_h <= HOURS:
        return f"{hour:.0f}" if hour else "0 h"
    if _hour_step(until_h) < HOURS:
        return f"{hour % HOURS:.0f} h"
    if hour >= until_h:
        return ""
    return f"{hour / HOURS + 1:.0f}" if hour and until_h > 7 * HOURS else f"day {hour / HOURS + 1:.0f}"


def _warmth(pen: Pen, day: DayPicture, sheet: _Sheet, hours: Sequence[float]) -> Iterator[Shape]:
    panel, degrees = sheet.warmth, ticks(sheet.warmth.up, sheet.step_c)
    yield from axes.grid_of(pen, panel, hours, degrees)
    begins, ends = day.day_hours
    yield from _bands(pen, day, panel, day.night_c, (ends, begins), "dots")
    yield from _bands(pen, day, panel, day.day_c, (begins, ends), "wanted")
    for name, field, stroke in reversed(CURVES):
        yield from _curve(pen, day, panel, getattr(day, field), stroke, name)
    yield from axes.frame_of(pen, panel)
    yield from axes.words_left(pen, panel, [(value, plain(value)) for value in degrees])
    yield _heading(pen, panel, TEMPERATURES)
    if day.units == "us":
        yield from axes.words_right(pen, panel, [(value, f"{_f(value):.0f}") for value in degrees])
        yield pen.text((sheet.width - MARGIN, panel.high + 4.5), "°F", anchor="end", bold=True)


def _damp(pen: Pen, day: DayPicture, panel: Panel, hours: Sequence[float]) -> Iterator[Shape]:
    shares = (0.0, 25.0, 50.0, 75.0, 100.0) if panel.height > 44 else (0.0, 50.0, 100.0)
    yield from axes.grid_of(pen, panel, hours, shares)
    yield from _bands(pen, day, panel, day.humidity_band, (0.0, HOURS), "levels")
    yield from _curve(pen, day, panel, day.humidity_pct, SOLID, "humidity")
    yield from axes.frame_of(pen, panel)
    yield from axes.words_left(pen, panel, [(value, plain(value)) for value in shares])
    yield _heading(pen, panel, HUMIDITY)


def _heading(pen: Pen, panel: Panel, words: str) -> Shape:
    return pen.text((panel.left, panel.high + 4.5), words, bold=True)


def _bands(
    pen: Pen, day: DayPicture, panel: Panel, band: tuple[float, float] | None,
    hours: tuple[float, float], pattern: str,
) -> Iterator[Shape]:  # fmt: skip
    """A wanted band over the hours that it holds for."""
    if band is None:
        return
    low, high = panel.y(band[0]), panel.y(band[1])
    for begins, ends in day.daily(*hours):
        left, right = panel.x(begins), panel.x(ends)
        shapes = filled(pen, pattern, Area(left, low, right, high))
        edges = pen.strokes([[(left, y), (right, y)] for y in (low, high)], ink="hair", width=0.5)
        yield Marked(*shapes, edges, marks={"class": f"band {pattern}"})


def _curve(
    pen: Pen, day: DayPicture, panel: Panel, values: Sequence[float], stroke: Stroke, name: str
) -> Iterator[Shape]:  # fmt: skip
    points = [
        panel.at(hour, value)
        for hour, value in zip(day.hours, values, strict=bool(values))
        if hour <= panel.across.high
    ]
    if len(points) > 1:
        fine = Stroke(width=stroke.width / 2, dash=stroke.dash)
        many = day.until_h > MANY_H
        shapes = [line_of(pen, thinned(points), fine)] if many else haloed(pen, thinned(points), stroke)
        yield Marked(*shapes, marks={"class": f"curve {name}"})
