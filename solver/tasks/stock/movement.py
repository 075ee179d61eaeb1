"""A movement of stock: changes of the shelf and the log, written together."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from solver.errors import BadInput
from solver.files.atomic import FileChange, FilePlace, prepared
from solver.files.folders import make_folder
from solver.pantry.bar import Bar
from solver.pantry.folders import STOCK_LOG
from solver.pantry.shelf import Shelf
from solver.pantry.stock_log import HOUSE, LogEntry, Move, StockLog, changed, read_log
from solver.pantry.stocked import Stocked
from solver.tasks.stock.house_figures import HouseFile, with_house


@dataclass(frozen=True)
class StockMoved:
    """A row of the shelf before and after; None if there is none."""

    key: str
    before: Stocked | None
    after: Stocked | None

    @property
    def row(self) -> Stocked:
        """The row after, or else before."""
        found = self.after or self.before
        if found is None:
            raise ValueError(self.key)  # a movement is of a row that was or is there
        return found

    @property
    def more(self) -> float | None:
        """The increase in the ingredient's own unit; None if unknown."""
        was = self.before.on_hand if self.before else 0.0
        now = self.after.on_hand if self.after else 0.0
        return None if was is None or now is None else now - was


@dataclass(frozen=True)
class Movement:
    """The changes of a command to the shelf, and the entry of the log.

    `houses` are house files that change with it.
    """

    entry: LogEntry
    before: Shelf
    after: Shelf
    log: StockLog
    houses: tuple[HouseFile, ...] = ()

    @property
    def rows(self) -> tuple[StockMoved, ...]:
        """The rows that change, in the order of the entry."""
        keys = dict.fromkeys(
            move.ingredient for move in self.entry.moves if not move.cell.startswith(HOUSE)
        )
        return tuple(StockMoved(key, self.before.row(key), self.after.row(key)) for key in keys)

    def prepared(self, bar: Bar) -> AbstractContextManager[Callable[[], None]]:
        """Prepare all files on disk, and return a call that puts all of them in place, or none.

        Raises:
            BadInput: a file can't be written, or is not what it was.
        """
        sheet = self.before.sheet
        shelf = FileChange(FilePlace(sheet.path, sheet.version), self.after.sheet.render())
        files = (*(house.change for house in self.houses), shelf, self.log.with_entry(self.entry))
        for house in self.houses:
            make_folder(house.path.parent)
        return prepared(bar.root or sheet.path.parent, files)

    @property
    def paths(self) -> tuple[Path, ...]:
        """The paths of the files that are written."""
        return (*(house.path for house in self.houses), self.before.sheet.path, self.log.path)


def shelf_of(bar: Bar) -> Shelf:
    """The bar's shelf.

    Raises:
        BadInput: the bar has none.
    """
    if bar.shelf is None or bar.root is None:
        remedy = "Make shelf.csv beside bar.toml: its first line is ingredient,bottle,on_hand."
        raise BadInput("the bar has no shelf", remedy=remedy)
    return bar.shelf


def log_of(bar: Bar) -> StockLog:
    """The log of a bar's shelf.

    Raises:
        BadInput: the bar has no shelf, or a line of the log can't be read.
    """
    return read_log(shelf_of(bar).sheet.path.with_name(STOCK_LOG))


def moving(
    bar: Bar,
    what: str,
    cells: Mapping[str, Mapping[str, str]],
    day: date,
    why: str = "",
    file: str = "",
    house: HouseFile | None = None,
    log: StockLog | None = None,
) -> Movement:
    """The movement that writes some cells of the shelf, by ingredient and column.

    `house` is the file of what was made, written with it; `log` is the shelf's log, if it was read
    already.

    Raises:
        BadInput, BadInputs: a cell would be a mistake, nothing would change, or the day is still
            to come.
    """
    day = bar.happened(day)
    before, log = shelf_of(bar), log or log_of(bar)
    columns = [column for row in cells.values() for column in row]
    read = before if house is None else with_house(before, house)
    after = read.with_columns(columns).with_rows(cells)
    moves: list[Move] = []
    for key in cells:
        was, now = before.row(key), after.row(key)
        old = None if was is None else before.cells(was)
        moves += changed(old, after.cells(now) if now else {}, key, cells[key])
    moves += house.moves if house else ()
    if not moves:
        raise BadInput("nothing would change", remedy="The shelf says so already.")
    entry = LogEntry(log.next_number, day, what, tuple(moves), why, file=file)
    return Movement(entry, before, after, log, (house,) if house else ())
