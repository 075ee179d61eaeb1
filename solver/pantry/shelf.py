"""The shelf: what the bar has, from a table that a spreadsheet can edit."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from solver.errors import BadInput, BadInputs, Where
from solver.files.checked import gather
from solver.files.sheet import Sheet, parse_sheet, read_sheet
from solver.pantry.library import Library, fold
from solver.pantry.shelf_row import COLUMNS, RowReader
from solver.pantry.stocked import Stocked
from solver.printable import short
from solver.quantities import Measures


@dataclass(frozen=True)
class Shelf:
    """The rows of a shelf, and the sheet that they stand in.

    `library`, `measures` and `currency` are what its words mean.
    """

    rows: tuple[Stocked, ...]
    sheet: Sheet
    library: Library
    measures: Measures
    currency: str = ""

    def row(self, ingredient: str) -> Stocked | None:
        """The row of an ingredient, by its key; None if there is none."""
        return next((row for row in self.rows if row.ingredient.key == ingredient), None)

    def with_cells(self, ingredient: str, cells: Mapping[str, str]) -> Shelf:
        """The shelf with some cells of an ingredient's row changed, or with a row for it added.

        Raises:
            BadInput, BadInputs: what is to be written would be a mistake, or has no column.
        """
        return self.with_rows({ingredient: cells})

    def with_rows(self, rows: Mapping[str, Mapping[str, str]]) -> Shelf:
        """The shelf with some cells of several ingredients' rows changed, or with rows added.

        Raises:
            BadInput, BadInputs: as `with_cells`.
        """
        sheet = self.sheet
        for ingredient, cells in rows.items():
            row = self.row(ingredient)
            if row is not None:
                sheet = sheet.with_cells(row.line, cells)
            else:
                sheet = sheet.with_row({"ingredient": ingredient, **cells})
        return self._read_again(sheet)

    def as_row(self, cells: Mapping[str, str]) -> Stocked:
        """What a row with these cells would say, wherever it stands.

        Raises:
            BadInput: it would be a mistake.
        """
        return RowReader(cells, self.library, self.measures, self.currency, {}).stocked(0)

    def without(self, ingredient: str) -> Shelf:
        """The shelf without an ingredient's row, by its key; as it is where there is none."""
        row = self.row(ingredient)
        return self if row is None else self._read_again(self.sheet.without_row(row.line))

    def cells(self, row: Stocked) -> Mapping[str, str]:
        """What stands in each column of one of its rows."""
        return next(cells for line, cells in self.sheet.rows() if line == row.line)

    def _read_again(self, sheet: Sheet) -> Shelf:
        """The same shelf in another sheet, read as it would be written."""
        written = parse_sheet(sheet.render(), sheet.path, "ingredient", COLUMNS)
        found = shelf_in(written, self.library, self.measures, self.currency)
        return replace(found, rows=tuple(map(self._as_known, found.rows)))

    def _as_known(self, row: Stocked) -> Stocked:
        """A row with what is known of it from elsewhere, as before."""
        before = self.row(row.ingredient.key)
        return row if before is None else row.like(before)

    def with_columns(self, names: Iterable[str]) -> Shelf:
        """The shelf with a column for every name that has none yet."""
        return replace(self, sheet=self.sheet.with_columns(names))


def read_shelf(
    path: Path,
    library: Library,
    measures: Measures,
    currency: str = "",
    uncooked: Mapping[str, str] | None = None,
) -> Shelf:
    """The shelf in a file; see `solver.files.sheet` for the dialects.

    `uncooked` are keys of recipes of which nothing is in a bottle yet, by folded name.

    Raises:
        BadInput, BadInputs: everything that is wrong with it, each with its line.
    """
    sheet = read_sheet(path, "ingredient", COLUMNS)
    return shelf_in(sheet, library, measures, currency, uncooked)


def new_shelf(path: Path, library: Library, measures: Measures, currency: str = "") -> Shelf:
    """A shelf with nothing on it, to be written to `path`."""
    sheet = parse_sheet((",".join(COLUMNS) + "\n").encode(), path, "ingredient", COLUMNS)
    return shelf_in(sheet, library, measures, currency)


def shelf_in(
    sheet: Sheet,
    library: Library,
    measures: Measures,
    currency: str = "",
    uncooked: Mapping[str, str] | None = None,
) -> Shelf:
    """The shelf that stands in a sheet; `uncooked` as in `read_shelf`.

    Raises:
        BadInput, BadInputs: everything that is wrong with it, each with its line.
    """
    found: dict[str, Stocked] = {}
    labels: dict[str, Stocked] = {}
    mistakes: list[BadInput | BadInputs] = []
    for line, row in sheet.rows():
        where = Where(sheet.path, line)
        try:
            stocked = RowReader(row, library, measures, currency, uncooked or {}).stocked(line)
            earlier = found.setdefault(stocked.ingredient.key, stocked)
            if earlier is not stocked:
                what = f"{stocked.ingredient.key} is on the shelf twice"
                remedy = "Keep one row; make a house ingredient for a bottle that differs."
                raise BadInput(what, why=f"first on line {earlier.line}", remedy=remedy)
            _claim_label(stocked, labels)
        except BadInput as error:
            mistakes.append(error.at(where))
    gather(mistakes)
    return Shelf(tuple(found.values()), sheet, library, measures, currency)


def _claim_label(row: Stocked, labels: dict[str, Stocked]) -> None:
    """Note whose a label is; two rows share none."""
    first = labels.setdefault(fold(row.label), row) if row.label else row
    if first is not row:
        what = f"label: '{short(row.label)}' calls {first.ingredient.key} so already"
        raise BadInput(what, remedy=f"Call {row.ingredient.key} otherwise.")
