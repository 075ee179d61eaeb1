"""Tables for spreadsheets: CSV as RFC 4180 has it, in which no text is taken for a formula."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from solver.printable import printable

Cell = str | float | int | bool | None
"""What a cell holds: a number as it is, None where nothing is known."""

FORMULA = ("=", "+", "-", "@", "＝", "＋", "－", "＠")
"""How a text begins that a spreadsheet takes for a formula: an apostrophe before it says that it is
text."""
DECIMALS = 4
"""Of a number in a table: finer than anybody measures, and short enough to read."""
END = "\r\n"
"""The end of a line: RFC 4180, section 2, 1."""


def csv_table(heads: Sequence[str], rows: Iterable[Sequence[Cell]]) -> str:
    """A table with a line of heads; every line, the last one too, ends with `END`."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator=END)
    writer.writerow(heads)
    writer.writerows([_cell(cell) for cell in row] for row in rows)
    return text.getvalue()


def _cell(cell: Cell) -> str:
    """A cell as text: control characters written out, and an apostrophe before what would count."""
    if cell is None:
        return ""
    if isinstance(cell, bool):
        return "yes" if cell else "no"
    if not isinstance(cell, str):
        return f"{round(cell, DECIMALS):.15g}"
    text = printable(cell)
    return f"'{text}" if text.lstrip().startswith(FORMULA) else text
