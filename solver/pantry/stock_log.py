"""The log of the shelf: every cell that a command changed, from what, to what, and why.

A table that a spreadsheet opens, in the bar's folder; commands add to its end and change nothing
above it. Its columns:

- `entry`: a number for all that one command changed;
- `date`: the day it is counted for;
- `what`: in, out, count, open, sold, made or undo;
- `ingredient`, `cell`: the row of the shelf and its column; the cell `row` is the row as a whole,
  and `house.sugar` a figure in the house file of what was made;
- `before`, `after`: what stood there, and what stands there now, as written;
- `undoes`: the entry that it takes back;
- `why`: what somebody said;
- `file`: which file of sales was read, by its name, and a digest that tells it from others.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from solver.errors import BadInput, Where
from solver.files.atomic import FileChange, FilePlace
from solver.files.read import ABSENT
from solver.files.sheet import Sheet, parse_sheet, read_sheet
from solver.printable import printable, short

COLUMNS = (
    "entry", "date", "what", "ingredient", "cell", "before", "after", "undoes", "why",
    "file",
)  # fmt: skip
WHAT = ("in", "out", "count", "open", "sold", "made", "undo")
ROW = "row"
"""The cell of a row that was added, or removed again."""
HOUSE = "house."
"""How the cell begins that is a figure in a house file, and not on the shelf."""
_FORMULA = ("=", "+", "-", "@")
"""What a spreadsheet would take for a formula."""


@dataclass(frozen=True)
class Move:
    """One cell of the shelf that changed: `ingredient` is a key, the texts are as written."""

    ingredient: str
    cell: str
    before: str
    after: str


@dataclass(frozen=True)
class LogEntry:
    """All that one command changed; `undoes` is the number of the entry that it takes back, `file`
    the sales that it read."""

    number: int
    day: date
    what: str
    moves: tuple[Move, ...]
    why: str = ""
    undoes: int | None = None
    file: str = ""


@dataclass(frozen=True)
class StockLog:
    """The entries of a bar's log, oldest first; `sheet` None where nothing was ever written."""

    path: Path
    entries: tuple[LogEntry, ...] = ()
    sheet: Sheet | None = None

    @property
    def next_number(self) -> int:
        """The number of an entry to come."""
        return max((entry.number for entry in self.entries), default=0) + 1

    def entry(self, number: int) -> LogEntry | None:
        """The entry of that number."""
        return next((entry for entry in self.entries if entry.number == number), None)

    def undone(self, number: int) -> bool:
        """Whether an entry was taken back, and that not taken back again."""
        return any(e.undoes == number and not self.undone(e.number) for e in self.entries)

    @property
    def latest(self) -> LogEntry | None:
        """The last entry that stands and takes nothing back."""
        standing = (e for e in reversed(self.entries) if e.undoes is None)
        return next((e for e in standing if not self.undone(e.number)), None)

    def with_entry(self, entry: LogEntry) -> FileChange:
        """The log with one more entry, as a file to be written."""
        version = self.sheet.version if self.sheet else ABSENT
        return FileChange(FilePlace(self.path, version), self._sheet_with(entry).render())

    def and_entry(self, entry: LogEntry) -> StockLog:
        """The log as it will be once one more entry is written."""
        return replace(self, entries=(*self.entries, entry), sheet=self._sheet_with(entry))

    def _sheet_with(self, entry: LogEntry) -> Sheet:
        head = (",".join(COLUMNS) + "\n").encode()
        sheet = self.sheet or parse_sheet(head, self.path, "entry", COLUMNS)
        for move in entry.moves:
            sheet = sheet.with_row(_cells(entry, move))
        return sheet


def read_log(path: Path) -> StockLog:
    """The log in a file; an empty one where there is none.

    Raises:
        BadInput: a line of it can't be read.
    """
    if not os.path.lexists(path):
        return StockLog(path)
    sheet = read_sheet(path, "entry", COLUMNS)
    found: dict[int, LogEntry] = {}
    for line, cells in sheet.rows():
        try:
            entry = _entry(cells)
        except (ValueError, KeyError):
            what = "the line is no entry of a stock log"
            remedy = "Put it back as it was: the log is written by commands alone."
            raise BadInput(what, where=Where(path, line), remedy=remedy) from None
        earlier = found.setdefault(entry.number, replace(entry, moves=()))
        found[entry.number] = replace(earlier, moves=(*earlier.moves, *entry.moves))
    return StockLog(path, tuple(found.values()), sheet)


def changed(
    before: Mapping[str, str] | None, after: Mapping[str, str], key: str, cells: Iterable[str]
) -> tuple[Move, ...]:
    """The moves between two states of a row; `before` None where the row is new."""
    moves = () if before is not None else (Move(key, ROW, "", "added"),)
    was = before or {}
    differ = (cell for cell in cells if was.get(cell, "") != after.get(cell, ""))
    return (*moves, *(Move(key, c, was.get(c, ""), after.get(c, "")) for c in differ))


def _cells(entry: LogEntry, move: Move) -> dict[str, str]:
    why = printable(entry.why)
    return {
        "entry": str(entry.number),
        "date": entry.day.isoformat(),
        "what": entry.what,
        "ingredient": move.ingredient,
        "cell": move.cell,
        "before": move.before,
        "after": move.after,
        "undoes": "" if entry.undoes is None else str(entry.undoes),
        "why": _harmless(why),
        "file": _harmless(printable(entry.file)),
    }


def _harmless(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA) else text


def _entry(cells: Mapping[str, str]) -> LogEntry:
    """The entry that a line is of, with its one move.

    Raises:
        ValueError, KeyError: it is none.
    """
    what, cell = cells["what"], cells["cell"]
    if what not in WHAT or not cell:
        raise ValueError(short(what))
    undoes = cells["undoes"]
    number, undone = int(cells["entry"]), int(undoes) if undoes else None
    if number < 1 or (undone is not None and not 0 < undone < number):
        raise ValueError(number)
    move = Move(cells["ingredient"], cell, cells["before"], cells["after"])
    day = date.fromisoformat(cells["date"])
    said, file = cells.get("why", ""), cells.get("file", "")
    return LogEntry(number, day, what, (move,), said, undone, file)
