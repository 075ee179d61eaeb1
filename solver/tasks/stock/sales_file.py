"""Read sales from a till's export: a table of names and numbers in unknown columns."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from solver.errors import BadInput, Where
from solver.files.grid import GridRow, read_grid
from solver.pantry.dates import read_date
from solver.pantry.library import fold
from solver.printable import short
from solver.quantities import parse_number
from solver.tasks.stock.sales_columns import Columns, find_columns

_MOST_ROWS = 100_000
"""Tills may write a line for every drink."""
_TWO_WAYS = re.compile(r"[1-9][0-9]{0,2}[.,][0-9]{3}")
"""As many as 1200, or 1.2: a till may write either."""
_GROUPED = re.compile(r"([1-9][0-9]{0,2}(?:(?P<mark>[.,])[0-9]{3})+)(?!(?P=mark))[.,]([0-9]+)")
"""Thousands with one mark and decimals with the other."""


@dataclass(frozen=True)
class SoldLine:
    """A drink of a file by the till's name, with the number sold; `line` is its first line."""

    name: str
    number: float
    line: int


@dataclass(frozen=True)
class SalesFile:
    """The sales of a file, each name once, and their days; `digest` is of its content.

    `columns` are the headings that were read, by "drink", "sold" and "date"; where it has none and
    is not `headed`, their places, like "column 2". `voided` drinks had a minus.
    """

    path: Path
    lines: tuple[SoldLine, ...]
    days: tuple[date, ...]
    digest: str
    columns: Mapping[str, str] = field(default_factory=dict)
    voided: float = 0.0
    headed: bool = True


def read_sales(path: Path, named: Sequence[str] = ()) -> SalesFile:
    """Read the sales of a file. Voids, with a minus, are subtracted.

    A name may have a negative total: another may be of the same drink. `named` are columns by
    their headings, like "sold=Stk.".

    Raises:
        BadInput: it is no table, its columns can't be told, or a line has no number.
    """
    rows = read_grid(path, _MOST_ROWS)
    columns = find_columns(rows, path, named)
    found: dict[str, SoldLine] = {}
    days: set[date] = set()
    voided = 0.0
    for row in rows[columns.first :]:
        name = _cell(row, columns.drink)
        if not name:
            continue
        try:
            number = _number(_cell(row, columns.number))
            if dated := "" if columns.date is None else _cell(row, columns.date):
                days |= {day for day in [_day(dated)] if day is not None}
        except BadInput as error:
            raise error.at(Where(path, row.line)) from None
        voided -= min(0.0, number)
        line = found.setdefault(fold(name), SoldLine(name, 0.0, row.line))
        found[fold(name)] = SoldLine(line.name, line.number + number, line.line)
    if not any(line.number for line in found.values()):
        raise BadInput("the file says of nothing that it was sold", where=Where(path, 1))
    return SalesFile(
        path=path,
        lines=tuple(found.values()),
        days=tuple(sorted(days)),
        digest=_digest(rows),
        columns=_read(columns),
        voided=voided,
        headed=bool(columns.headings),
    )


def _cell(row: GridRow, place: int) -> str:
    return row.cells[place] if place < len(row.cells) else ""


def _digest(rows: Sequence[GridRow]) -> str:
    """Of what the cells say: blank lines and the separator make no other file of it."""
    said = "\n".join("\t".join(row.cells).rstrip("\t") for row in rows)
    return hashlib.sha256(said.encode()).hexdigest()[:12]


def _read(columns: Columns) -> Mapping[str, str]:
    """The headings that were read, or the places, by what they say."""
    places = {"drink": columns.drink, "sold": columns.number, "date": columns.date}
    heads = columns.headings
    return {
        word: heads[at] if heads else f"column {at + 1}"
        for word, at in places.items()
        if at is not None
    }


def _number(text: str) -> float:
    """The number sold; 0 for an empty cell.

    Raises:
        BadInput: it is no number, can be read two ways, or is a fraction of a drink.
    """
    if not text:
        return 0.0
    bare = text.removeprefix("-").removeprefix("\N{MINUS SIGN}").strip()
    sign = 1 if bare == text else -1
    if _TWO_WAYS.fullmatch(bare):
        what = f"'{short(text)}' can be read two ways"
        why = "a comma or point may mark decimals or thousands"
        raise BadInput(what, why=why, remedy="Write whole drinks without a mark, like 3 or 1000.")
    if grouped := _GROUPED.fullmatch(bare):
        bare = f"{re.sub('[.,]', '', grouped[1])}.{grouped[3]}"
    value = parse_number(bare)
    if not value.is_integer():
        remedy = "Drinks are sold whole: is this the column that says how many?"
        raise BadInput(f"'{short(text)}' is a fraction of a drink", remedy=remedy)
    return sign * value


def _day(text: str) -> date | None:
    """The day of a date, which may include a time; None if there is none."""
    return read_date(text.replace("T", " ").split()[0])
