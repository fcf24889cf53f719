"""Tables that run over pages: cells wrap, and the head stands on every page again."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from inventory.documents import glyphs
from inventory.documents.flow import BODY, Flow
from inventory.documents.pen import INK, Align, Pen, Style, styled

PAD = 5.0


@dataclass(frozen=True, slots=True)
class Column:
    """A column; its width in points beside text of the usual size, or 0 to share what is left."""

    title: str
    width: float = 0.0
    align: Align = "left"
    bold: bool = False
    small: bool = False
    callout: bool = False  # a number in a circle, as in the drawings


Row = Sequence[str]


@dataclass(frozen=True, slots=True)
class Table:
    """The columns of a table and how it looks."""

    columns: tuple[Column, ...]
    row_gap: float = 1.4


def draw(flow: Flow, table: Table, rows: Sequence[Row]) -> None:
    """Every row, with the head above the first one of each column or page."""
    widths = _widths(flow, table)
    _head(flow, table, widths)
    for row in rows:
        cells = _wrapped(flow, table, widths, row)
        height = _height(flow, table, cells)
        if flow.need(height):
            _head(flow, table, widths)
        _row(flow, table, widths, cells)
        flow.y -= height
        flow.rule(flow.y)


def height(flow: Flow, table: Table, rows: Sequence[Row]) -> float:
    """How high the table is when it is not broken."""
    widths = _widths(flow, table)
    rest = sum(_height(flow, table, _wrapped(flow, table, widths, row)) for row in rows)
    return _head_height(flow) + rest


def _wrapped(flow: Flow, table: Table, widths: list[float], row: Row) -> list[list[str]]:
    found = []
    for cell, column, width in zip(row, table.columns, widths, strict=True):
        style = _style(flow, column)
        found.append(glyphs.wrapped(cell, within=width - PAD, size=style.size, font=style.font))
    return found


def _height(flow: Flow, table: Table, cells: list[list[str]]) -> float:
    return max(len(lines) for lines in cells) * flow.body.leading + table.row_gap


def _head_height(flow: Flow) -> float:
    return flow.small.leading + 5.0


def _head(flow: Flow, table: Table, widths: list[float]) -> None:
    x = flow.left
    for column, width in zip(table.columns, widths, strict=True):
        style = replace(flow.small, align=column.align)
        flow.text(_at(x, width, column.align), flow.y - style.size - 1, column.title, style)
        x += width
    flow.y -= _head_height(flow)
    flow.rule(flow.y, width=0.6, strong=True)


def _row(flow: Flow, table: Table, widths: list[float], cells: list[list[str]]) -> None:
    x, base = flow.left, flow.y - flow.type_pt - table.row_gap / 2 + 0.6
    for column, width, lines in zip(table.columns, widths, cells, strict=True):
        if column.callout:
            _callout(flow, x + 7.5, base, lines[0])
        else:
            for number, line in enumerate(lines):
                y = base - number * flow.body.leading
                flow.text(_at(x, width, column.align), y, line, _style(flow, column))
        x += width


def _callout(flow: Flow, x: float, base: float, number: str) -> None:
    small = Style(5.6 if len(number) < 3 else 4.4, align="centre")

    def circle(pen: Pen) -> None:
        pen.canvas.setStrokeColor(INK)
        pen.canvas.setLineWidth(0.6)
        pen.canvas.circle(x, base + 2.6, 4.7, stroke=1, fill=0)
        pen.text(x, base + 2.6 - small.size * 0.36, number, small)

    flow.draw(circle)


def _style(flow: Flow, column: Column) -> Style:
    size = flow.small.size if column.small else flow.type_pt
    return styled(size, bold=column.bold, align=column.align)


def _at(x: float, width: float, align: Align) -> float:
    return {"left": x, "right": x + width - PAD, "centre": x + (width - PAD) / 2}[align]


def _widths(flow: Flow, table: Table) -> list[float]:
    fixed = [column.width * flow.type_pt / BODY.size for column in table.columns]
    open_columns = fixed.count(0.0)
    share = (flow.width - sum(fixed)) / open_columns if open_columns else 0.0
    return [width or share for width in fixed]
