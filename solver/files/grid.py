"""Tables of somebody else: the cells of a CSV file or a workbook as text, whatever they mean."""

from __future__ import annotations

import csv
import datetime
import io
import warnings
import zipfile
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from solver.errors import BadInput, Where
from solver.files.read import read_bytes
from solver.files.sheet import WORKBOOK, decode

_SEPARATORS = ";\t,|"
MOST_ROWS, _MOST_COLUMNS = 5000, 60
_LARGEST_UNPACKED = 50_000_000
"""Bytes that a workbook may come to: it is a packed archive, which can hold far more than it is."""


@dataclass(frozen=True)
class GridRow:
    """A line of a table (a row of a workbook), counted from 1, and its cells without blanks."""

    line: int
    cells: tuple[str, ...]


def read_grid(path: Path, most: int = MOST_ROWS) -> tuple[GridRow, ...]:
    """Every row of a table that says something; of a workbook, those of its first sheet that does.

    Raises:
        BadInput: it cannot be read, is neither CSV nor a workbook (.xlsx), is empty or has more
            than `most` rows, or its reader is not installed.
    """
    raw = read_bytes(path)
    lines = _workbook(raw, path, most) if raw.startswith(WORKBOOK) else _text(raw, path)
    rows = tuple(GridRow(line, tuple(cells[:_MOST_COLUMNS])) for line, cells in lines if any(cells))
    if not rows:
        raise BadInput("the table is empty", where=Where(path, 1))
    if len(rows) > most:
        raise BadInput(f"the table has more than {most} rows", where=Where(path))
    return rows


def _text(raw: bytes, path: Path) -> Iterator[tuple[int, list[str]]]:
    if raw.startswith(b"\xd0\xcf\x11\xe0"):
        remedy = "Save it as .xlsx or CSV."
        raise BadInput("this is a workbook of an old kind", where=Where(path), remedy=remedy)
    _, _, text = decode(raw, path)
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text))
    at = 1
    try:
        for cells in reader:
            yield at, [cell.strip() for cell in cells]
            at = reader.line_num + 1
    except csv.Error as error:
        what = "the line cannot be taken apart into cells"
        raise BadInput(what, where=Where(path, at), why=str(error)) from None


def _separator(text: str) -> str:
    """The separator by which most lines have equally many cells, and more than one."""
    lines = [line for line in text.splitlines() if line.strip()][:50]

    def score(separator: str) -> tuple[int, int]:
        try:
            counts = Counter(len(cells) for cells in csv.reader(lines, delimiter=separator))
        except csv.Error:
            return 0, 0
        cells, often = max(counts.items(), key=lambda pair: (pair[0] > 1, pair[1]), default=(1, 0))
        return (often, cells) if cells > 1 else (0, 1)

    return max(_SEPARATORS, key=score)


def _workbook(raw: bytes, path: Path, most: int) -> list[tuple[int, list[str]]]:
    where = Where(path)
    try:
        import openpyxl
    except ImportError:
        what = "a workbook needs openpyxl, which is not installed"
        remedy = "Install it with `pip install openpyxl`, or save the sheet as CSV."
        raise BadInput(what, where=where, remedy=remedy) from None
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as archive:
            unpacked = sum(each.file_size for each in archive.infolist())
        if unpacked > _LARGEST_UNPACKED:
            raise BadInput("the workbook is far too large", where=where)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles and forms, which say nothing here
            book = openpyxl.load_workbook(io.BytesIO(raw), read_only=True, data_only=True)
            sheets = (sheet.iter_rows(values_only=True) for sheet in book.worksheets)
            return _first_filled(sheets, most)
    except BadInput:
        raise
    except Exception as error:  # the reader raises whatever its parsers do
        why = f"{type(error).__name__}: {error}".lower()
        remedy = "Save the sheet as CSV."
        raise BadInput("the workbook cannot be read", where=where, why=why, remedy=remedy) from None


def _first_filled(
    sheets: Iterable[Iterable[tuple[object, ...]]], most: int
) -> list[tuple[int, list[str]]]:
    for sheet in sheets:
        rows: list[tuple[int, list[str]]] = []
        for line, cells in enumerate(sheet, start=1):
            if len(rows) > most:
                break
            rows.append((line, [_said(cell) for cell in cells[:_MOST_COLUMNS]]))
        if any(any(cells) for _, cells in rows):
            return rows
    return []


def _said(cell: object) -> str:
    """What a cell of a workbook shows, as text."""
    if cell is None or isinstance(cell, bool):
        return ""
    if isinstance(cell, float | int):
        return f"{cell:.10g}"
    if isinstance(cell, datetime.datetime):
        return cell.date().isoformat()
    if isinstance(cell, datetime.date):
        return cell.isoformat()
    return str(cell).strip()
