"""Putting a batch into stock: its figures into its house file, its bottle onto the shelf.

Both texts are made and read back before either file is touched.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from solver.errors import BadInput
from solver.files.atomic import Change, Place, prepared
from solver.files.toml import TomlText, parse_toml
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import load_library, read_ingredient
from solver.pantry.shelf import USE_BY, Shelf
from solver.tasks.prep.house_file import figure_values, restated
from solver.tasks.prep.prepare import Prep


@dataclass(frozen=True)
class Stocked:
    """What is written: the house file, the shelf, and the stock in mL that the batch replaces.

    `new_columns` are those that the shelf did not have.
    """

    house: Path
    shelf: Path
    replaced_ml: float | None
    new_columns: tuple[str, ...] = ()


@dataclass(frozen=True)
class Stocking:
    """A batch on its way into stock: what is to be written, and what that says."""

    changes: tuple[Change, Change]
    stocked: Stocked


def stocking(prep: Prep, bar: Bar) -> Stocking:
    """What putting the batch into stock would write.

    Raises:
        BadInput, BadInputs: the bar has no shelf, or a file would not be what it should be.
    """
    shelf = shelf_of(bar)
    file, sheet = prep.recipe.file, shelf.sheet
    values = figure_values(prep.ingredient, prep.told, file.data[prep.recipe.key])
    text = restated(file, prep.recipe.key, values)
    new = TomlText(file.path, text, parse_toml(text, file.path))
    row = shelf.row(prep.recipe.key)
    made = Made(prep.figures.volume_ml.value, prep.made, prep.use_by, prep.cost)
    shelf = on_shelf(made, read_ingredient(prep.recipe.key, new), shelf)
    return Stocking(
        (
            Change(Place(file.path, file.version), file.encoded(text)),
            Change(Place(sheet.path, sheet.version), shelf.sheet.render()),
        ),
        Stocked(
            house=file.path,
            shelf=sheet.path,
            replaced_ml=row.on_hand if row else None,
            new_columns=shelf.sheet.columns[len(sheet.columns) :],
        ),
    )


def on_its_way(ready: Stocking, bar: Bar) -> AbstractContextManager[Callable[[], None]]:
    """Have it on disk, for a call that puts it in place; without it nothing is written.

    Raises:
        BadInput: a file can't be written, or is not what it was.
    """
    return prepared(bar.root or ready.stocked.shelf.parent, ready.changes)


def shelf_of(bar: Bar) -> Shelf:
    """The shelf that something is put on.

    Raises:
        BadInput: the bar has none.
    """
    if bar.shelf is None:
        what = "the bar has no shelf to put it on"
        remedy = (
            "Make shelf.csv beside bar.toml: its first line is ingredient,bottle,price,on_hand."
        )
        raise BadInput(what, remedy=remedy)
    return bar.shelf


@dataclass(frozen=True)
class Made:
    """What was made, for the shelf: how much, its dates, and what all of it cost if that is known.

    `bottle_ml` is the size of the bottles that it is in; None: one that holds it all.
    """

    volume_ml: float
    made: date
    use_by: date
    cost: float | None
    bottle_ml: float | None = None


def on_shelf(made: Made, written: Ingredient, shelf: Shelf) -> Shelf:
    """The shelf with what was made: what is on hand, its dates, and what a bottle of it costs."""
    library = load_library().shadowed_by([written, *_others(shelf, written)])
    renewed = Shelf(shelf.rows, shelf.sheet, library, shelf.measures, shelf.currency)
    row = shelf.row(written.key)
    cells = {"on_hand": f"{made.volume_ml:.0f} ml", "opened": made.made.isoformat()}
    bottle = row.bottle if row and row.bottle else None
    if bottle is None:
        bottle = float(round(made.bottle_ml or made.volume_ml))
        cells["bottle"] = f"{bottle:.0f} ml"
    if made.cost is not None:
        cells["price"] = f"{made.cost * bottle / made.volume_ml:.2f}"
    note = USE_BY.sub("", row.note if row else "").strip("; ")
    if "use_by" in shelf.sheet.columns:
        cells["use_by"], cells["note"] = made.use_by.isoformat(), note
    else:
        use_by = f"use by {made.use_by.isoformat()}"
        cells["note"] = f"{note}; {use_by}" if note else use_by
    if row is not None and "overrides" in shelf.sheet.columns:
        cells["overrides"] = ""
    return renewed.with_columns(cells).with_cells(written.key, cells)


def _others(shelf: Shelf, written: Ingredient) -> list[Ingredient]:
    return [item for item in shelf.library if item.key != written.key]
