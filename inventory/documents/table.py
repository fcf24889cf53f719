"""Tables that run over pages: cells wrap, and the head stands on every page again."""

from collections.abc import Sequence
from dataclasses import dataclass

from inventory.documents import glyphs
from inventory.documents.flow import BODY, SMALL, Flow
from inventory.documents.pen import INK, Align, Pen, Style

PAD = 5.0


@dataclass(frozen=True, slots=True)
class Column:
    """A column; its width in points, or 0 to share what is left."""

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
    style: Style = BODY
    row_gap: float = 1.4

    def head_height(self) -> float:
        """Height of the head line."""
        return SMALL.leading + 5.0


def draw(flow: Flow, table: Table, rows: Sequence[Row]) -> None:
    """Every row, with the head above the first one of each column or page."""
    widths = _widths(flow, table)
    _head(flow, table, widths)
    for row in rows:
        cells = _wrapped(table, widths, row)
        height = _height(table, cells)
        if flow.need(height):
            _head(flow, table, widths)
        _row(flow, table, widths, cells)
        flow.y -= height
        flow.rule(flow.y)


def height(flow: Flow, table: Table, rows: Sequence[Row]) -> float:
    """How high the table is when it is not broken."""
    widths = _widths(flow, table)
    return table.head_height() + sum(_height(table, _wrapped(table, widths, row)) for row in rows)


def _wrapped(table: Table, widths: list[float], row: Row) -> list[list[str]]:
    return [
        glyphs.wrapped(
            cell, within=width - PAD, size=_style(table, column).size, font=_style(table, column).font
        )
        for cell, column, width in zip(row, table.columns, widths, strict=True)
    ]


def _height(table: Table, cells: list[list[str]]) -> float:
    return max(len(lines) for lines in cells) * table.style.leading + table.row_gap


def _head(flow: Flow, table: Table, widths: list[float]) -> None:
    x = flow.left
    for column, width in zip(table.columns, widths, strict=True):
        style = Style(SMALL.size, ink=SMALL.ink, align=column.align)
        flow.text(_at(x, width, column.align), flow.y - SMALL.size - 1, column.title, style)
        x += width
    flow.y -= table.head_height()
    flow.rule(flow.y, width=0.6, strong=True)


def _row(flow: Flow, table: Table, widths: list[float], cells: list[list[str]]) -> None:
    x, base = flow.left, flow.y - table.style.size - table.row_gap / 2 + 0.6
    for column, width, lines in zip(table.columns, widths, cells, strict=True):
        if column.callout:
            _callout(flow, x + 7.5, base, lines[0])
        else:
            for number, line in enumerate(lines):
                y = base - number * table.style.leading
                flow.text(_at(x, width, column.align), y, line, _style(table, column))
        x += width


def _callout(flow: Flow, x: float, base: float, number: str) -> None:
    small = Style(5.6 if len(number) < 3 else 4.4, align="centre")

    def circle(pen: Pen) -> None:
        pen.canvas.setStrokeColor(INK)
        pen.canvas.setLineWidth(0.6)
        pen.canvas.circle(x, base + 2.6, 4.7, stroke=1, fill=0)
        pen.text(x, base + 2.6 - small.size * 0.36, number, small)

    flow.draw(circle)


def _style(table: Table, column: Column) -> Style:
    size = SMALL.size if column.small else table.style.size
    return Style(size, bold=column.bold, ink=table.style.ink, align=column.align)


def _at(x: float, width: float, align: Align) -> float:
    return {"left": x, "right": x + width - PAD, "centre": x + (width - PAD) / 2}[align]


def _widths(flow: Flow, table: Table) -> list[float]:
    fixed = sum(column.width for column in table.columns)
    open_columns = sum(1 for column in table.columns if not column.width)
    share = (flow.width - fixed) / open_columns if open_columns else 0.0
    return [column.width or share for column in table.columns]
