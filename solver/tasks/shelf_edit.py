"""Edit rows of the shelf."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from types import MappingProxyType

from solver.errors import BadInput, Where
from solver.files.atomic import FilePlace
from solver.pantry.bar import Bar
from solver.pantry.folders import SHELF_FILE
from solver.pantry.ingredient import Ingredient
from solver.pantry.shelf import Shelf, new_shelf
from solver.pantry.stocked import Stocked
from solver.pantry.stocked_as import (
    ONE,
    by_the_piece,
    counts_pieces,
    is_bare,
    is_one,
    pieces,
    size_of_one,
    stocked_as,
)
from solver.printable import short
from solver.tasks.house_bottle_like import like_in_house
from solver.tasks.shelf_import.cells import count_cell
from solver.tasks.stock.house_figures import HouseFile, with_house


@dataclass(frozen=True)
class Restocked:
    """A shelf after one row was added, changed or removed, not yet written.

    `row` is that row, as it is now, or as it was if removed. `root` is the bar's folder.
    """

    root: Path
    place: FilePlace
    shelf: Shelf
    row: Stocked
    house: HouseFile | None = None


def added(bar: Bar, name: str, cells: Mapping[str, str]) -> Restocked:
    """The shelf with one more bottle; `cells` are its columns as the shelf has them, and its `abv`.

    Raises:
        BadInput, BadInputs: there is no bar, no such ingredient, it is there already, or a cell
            cannot be read.
    """
    root, place, shelf = shelf_of(bar)
    item = _meant(bar, name, cells)
    if (row := shelf.row(item.key)) is not None:
        what = f"{item.key} is on the shelf already"
        remedy = f"Change it with `equipour shelf set {item.key}`."
        raise BadInput(what, where=Where(place.path, row.line), remedy=remedy)
    return _happened(_with(root, place, shelf, item, cells), bar)


def added_like(bar: Bar, name: str, like: str, cells: Mapping[str, str]) -> Restocked:
    """The shelf with a bottle that is poured `like` another, and its new house file.

    Raises:
        BadInput, BadInputs: as `added`, or as `like_in_house`.
    """
    root, place, shelf = shelf_of(bar)
    house = like_in_house(name, like, bar, root, cells.get("abv", ""))
    rest = {column: text for column, text in cells.items() if column != "abv"}
    done = _with(root, place, with_house(shelf, house), house.item, rest)
    return replace(_happened(done, bar), house=house)


def changed(bar: Bar, name: str, cells: Mapping[str, str]) -> Restocked:
    """The shelf with some cells of a bottle changed; an empty value clears the cell.

    Raises:
        BadInput, BadInputs: there is no bar, it is not on the shelf, or a cell cannot be read.
    """
    root, place, shelf = shelf_of(bar)
    row = _row(bar, shelf, name, cells)
    return _happened(_with(root, place, shelf, row.ingredient, cells), bar)


def removed(bar: Bar, name: str) -> Restocked:
    """The shelf without a bottle.

    Raises:
        BadInput: there is no bar, or it is not on the shelf.
    """
    root, place, shelf = shelf_of(bar)
    row = _row(bar, shelf, name)
    return Restocked(root, place, shelf.without(row.ingredient.key), row)


def shelf_of(bar: Bar) -> tuple[Path, FilePlace, Shelf]:
    """The bar's folder, the file of its shelf, and the shelf; an empty shelf if there is none.

    Raises:
        BadInput: there is no bar.
    """
    if bar.root is None:
        remedy = "Make one with `equipour init`, or give one with --bar."
        raise BadInput("there is no bar to put it into", remedy=remedy)
    path = bar.root / SHELF_FILE
    if bar.shelf is not None:
        return bar.root, FilePlace(path, bar.shelf.sheet.version), bar.shelf
    return bar.root, FilePlace(path), new_shelf(path, bar.library, bar.measures, bar.currency)


def _overrides(shelf: Shelf, item: Ingredient, abv: str) -> str:
    """The overrides of an ingredient with another strength; empty if there are none."""
    row = shelf.row(item.key)
    cells = shelf.cells(row) if row else {}
    kept = [
        figure.strip()
        for figure in cells.get("overrides", "").split(";")
        if figure.strip() and not figure.strip().startswith("abv")
    ]
    return "; ".join([f"abv={abv}", *kept] if abv else kept)


def _with(
    root: Path, place: FilePlace, shelf: Shelf, item: Ingredient, cells: Mapping[str, str]
) -> Restocked:
    cells = as_shelf_cells(item, cells, shelf)
    if "abv" in cells:
        overrides = _overrides(shelf, item, cells["abv"])
        rest = {name: text for name, text in cells.items() if name != "abv"}
        cells = {**rest, "overrides": overrides}
    try:
        written = shelf.with_columns(cells).with_cells(item.key, cells)
    except BadInput as error:
        raise error.at(None) from None  # the line is not in the file yet
    row = written.row(item.key)
    if row is None:  # a library in which the key of an ingredient is another's
        raise BadInput(f"{item.key} cannot be put onto the shelf")
    return Restocked(root, place, written, row)


def _happened(done: Restocked, bar: Bar) -> Restocked:
    """The same shelf, once it is checked that nothing was opened on a day to come.

    Raises:
        BadInput: it does.
    """
    bar.happened(done.row.opened)
    return done


def as_shelf_cells(item: Ingredient, cells: Mapping[str, str], shelf: Shelf) -> dict[str, str]:
    """Cells in the shelf's notation.

    A bare number on hand counts bottles or packs, or pieces of what is bought by the piece, whose
    size is then one piece.
    """
    row = shelf.row(item.key)
    size, on_hand = cells.get("bottle", ""), cells.get("on_hand", "")
    there = row is not None and row.bottle is not None
    own = row is not None and item.piece is not None and row.bottle == item.piece.value
    loose = by_the_piece(item, shelf.library) and (
        counts_pieces(size) and is_one(size) if size else own or not there
    )
    written = {**cells, "bottle": size_of_one(size)} if size else dict(cells)
    if loose and not size and row is None and (on_hand or cells.get("price")):
        written["bottle"] = ONE
    if on_hand and on_hand != "0" and is_bare(on_hand):
        written["on_hand"] = pieces(on_hand) if loose else count_cell(on_hand)
    return written


def _meant(bar: Bar, name: str, cells: Mapping[str, str] = MappingProxyType({})) -> Ingredient:
    amounts = [cells.get(column, "") for column in ("bottle", "on_hand")]
    item = stocked_as(name, amounts, bar.library)
    if item is None and (recipe := bar.recipe(name)) is not None:
        what = f"nothing of {short(name)} is in a bottle yet"
        remedy = f"`equipour prep {recipe.key} --stock` puts it onto the shelf."
        raise BadInput(what, why="the house has only its recipe", remedy=remedy)
    return item or bar.library.find(name)


def _row(
    bar: Bar, shelf: Shelf, name: str, cells: Mapping[str, str] = MappingProxyType({})
) -> Stocked:
    item = _meant(bar, name, cells)
    row = shelf.row(item.key)
    if row is None:
        near = [key for key in bar.library.near(name) if shelf.row(key) is not None]
        remedy = f"Add it with `equipour shelf add {item.key}`."
        raise BadInput(f"{item.key} is not on the shelf", near=near, remedy=remedy)
    return row
