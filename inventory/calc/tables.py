"""Tables in files: CSV and XLSX read within limits, written so that no spreadsheet runs a cell."""

import csv
import hashlib
import io
import json
import zipfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from inventory.calc.errors import Impossible

MOST_BYTES = 20_000_000
MOST_UNPACKED_BYTES = 200_000_000
MOST_ROWS = 60_000
MOST_COLUMNS = 200
LONGEST_CELL = 2000
# A spreadsheet may run a cell that begins with one of these, the full-width twins included.
RISKY = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
DELIMITERS = ",;\t"

Row = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Table:
    """One sheet: its column names and its rows, each with the number that a spreadsheet shows beside it."""

    name: str
    columns: tuple[str, ...]
    rows: tuple[tuple[int, Row], ...]

    def digest(self) -> str:
        """The same for the same content, however the file was packed."""
        content = [self.columns, [[number, dict(row)] for number, row in self.rows]]
        return hashlib.sha256(json.dumps(content, sort_keys=True).encode()).hexdigest()


def defused(text: str) -> str:
    """The text with an apostrophe before it when a spreadsheet could run it; `fused` takes it away again.

    >>> defused("=1+1"), defused("'tis"), defused("moss")
    ("'=1+1", "''tis", 'moss')
    """
    return f"'{text}" if text.startswith((*RISKY, "'")) else text


def fused(text: str) -> str:
    """The text that `defused` was given; any other text unchanged.

    >>> fused("'=1+1"), fused("'s-Hertogenbosch")
    ('=1+1', "'s-Hertogenbosch")
    """
    return text[1:] if text.startswith("'") and text[1:].startswith((*RISKY, "'")) else text


def read(content: bytes, *, name: str) -> tuple[Table, ...]:
    """The sheets of a CSV or XLSX file that hold anything. Raises Impossible naming the file and why."""
    if len(content) > MOST_BYTES:
        raise Impossible("file", f"{name} is larger than {MOST_BYTES // 10**6} MB.")
    is_workbook = content.startswith(b"PK\x03\x04")
    sheets = _sheets_of_workbook(content, name) if is_workbook else [("", _rows_of_csv(content, name))]
    tables = [_table(sheet, rows) for sheet, rows in sheets]
    found = tuple(table for table in tables if table is not None)
    if not found:
        raise Impossible("file", f"{name} holds no rows.")
    return found


def as_csv(columns: Sequence[str], rows: Iterable[Mapping[str, Any]]) -> bytes:
    """A CSV file, UTF-8 with a mark that spreadsheets look for."""
    out = io.StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([_cell(row.get(column)) for column in columns] for row in rows)
    return out.getvalue().encode("utf-8-sig")


def as_xlsx(sheets: Mapping[str, tuple[Sequence[str], Iterable[Mapping[str, Any]]]]) -> bytes:
    """An XLSX file with one sheet for each name."""
    from openpyxl import Workbook

    book = Workbook(write_only=True)
    for name, (columns, rows) in sheets.items():
        sheet = book.create_sheet(name)
        sheet.append(list(columns))
        for row in rows:
            sheet.append([_cell(row.get(column)) for column in columns])
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def _cell(value: Any) -> Any:
    """Numbers stay numbers, truth is yes or no, and text is defused."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None or isinstance(value, int | float):
        return value
    if isinstance(value, Decimal):
        return f"{value:f}"
    return value.isoformat() if isinstance(value, date) else defused(str(value))


def _table(name: str, rows: Iterator[Sequence[Any]]) -> Table | None:
    header = next(rows, None)
    if header is None or not any(_text(cell) for cell in header):
        return None
    columns = [_text(cell).lower().replace(" ", "_") for cell in header]
    while columns and not columns[-1]:
        columns.pop()
    _check_columns(columns)
    return Table(name=name, columns=tuple(columns), rows=tuple(_numbered(columns, rows)))


def _check_columns(columns: Sequence[str]) -> None:
    if len(columns) > MOST_COLUMNS:
        raise Impossible("file", f"has more than {MOST_COLUMNS} columns.")
    for number, column in enumerate(columns, start=1):
        if not column:
            raise Impossible("file", f"column {number} has no name in the first row.")
        if columns.index(column) != number - 1:
            raise Impossible("file", f"column {column} stands twice in the first row.")


def _numbered(columns: Sequence[str], rows: Iterator[Sequence[Any]]) -> Iterator[tuple[int, Row]]:
    for number, cells in enumerate(rows, start=2):
        texts = [_text(cell) for cell in cells]
        if not any(texts):
            continue
        if number > MOST_ROWS + 1:
            raise Impossible("file", f"has more than {MOST_ROWS} rows.")
        if any(texts[len(columns) :]):
            raise Impossible("file", f"row {number} has more cells than the first row has column names.")
        for column, text in zip(columns, texts, strict=False):
            if len(text) > LONGEST_CELL:
                raise Impossible("file", f"row {number}, {column} is longer than {LONGEST_CELL} characters.")
        padded = [*texts, *([""] * (len(columns) - len(texts)))]
        yield number, dict(zip(columns, padded[: len(columns)], strict=True))


def _text(cell: Any) -> str:
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if isinstance(cell, float):
        return f"{cell:.15g}"
    if isinstance(cell, datetime):
        return cell.date().isoformat()
    return fused(str(cell)).strip()


def _rows_of_csv(content: bytes, name: str) -> Iterator[Sequence[str]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Impossible("file", f"{name} is neither an XLSX workbook nor text in UTF-8.") from None
    if "\0" in text:
        raise Impossible("file", f"{name} holds zero bytes, so it is no text table.")
    header = text.partition("\n")[0]
    delimiter = max(DELIMITERS, key=header.count)
    try:
        yield from csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    except csv.Error as error:
        raise Impossible("file", f"{name} cannot be read as CSV: {error}.") from None


def _sheets_of_workbook(content: bytes, name: str) -> list[tuple[str, Iterator[Sequence[Any]]]]:
    from openpyxl import load_workbook

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as packed:
            if sum(part.file_size for part in packed.infolist()) > MOST_UNPACKED_BYTES:
                raise Impossible("file", f"{name} unpacks to more than {MOST_UNPACKED_BYTES // 10**6} MB.")
        book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
    except (zipfile.BadZipFile, KeyError, ValueError, OSError) as error:
        if isinstance(error, Impossible):
            raise
        raise Impossible("file", f"{name} is not an XLSX workbook that can be read.") from error
    return [(sheet.title.lower(), iter(sheet.iter_rows(values_only=True))) for sheet in book.worksheets]
