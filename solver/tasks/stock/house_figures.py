"""The house file of something made: its figures are logged like cells of the shelf."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from solver.files.atomic import FileChange, FilePlace
from solver.files.read import ABSENT
from solver.files.toml import TomlText, parse_toml, read_toml
from solver.pantry.bar import Bar
from solver.pantry.house_file import cell_texts, restated, value_of
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import is_stated, load_library, read_ingredient
from solver.pantry.shelf import Shelf
from solver.pantry.stock_log import HOUSE, Move


@dataclass(frozen=True)
class HouseFile:
    """A house file with changed figures: its content, the resulting ingredient, and the
    differences.

    `file` is the file with them, and its bytes as they still are on disk; `stated` is None if it
    states no ingredient any more, only the recipe.
    """

    file: TomlText
    key: str
    change: FileChange
    stated: Ingredient | None
    moves: tuple[Move, ...]

    @property
    def path(self) -> Path:
        """Where it is."""
        return self.file.path

    @property
    def item(self) -> Ingredient:
        """The ingredient that it states."""
        if self.stated is None:
            raise ValueError(self.path)  # whoever has put nothing into it asks for nothing
        return self.stated


def house_file(file: TomlText, key: str, values: Mapping[str, Any]) -> HouseFile:
    """The file with other values in the table of `key`; None removes a value.

    Raises:
        BadInput: as `restated`, or it would state no ingredient.
    """
    text = restated(file, key, values)
    new = TomlText(file.path, text, parse_toml(text, file.path))
    item = read_ingredient(key, new) if is_stated(new.data[key]) else None
    version = file.version if file.raw else ABSENT
    change = FileChange(FilePlace(file.path, version), file.encoded(text))
    return HouseFile(
        replace(new, raw=file.raw), key, change, item, _moves(file, text, key) if file.raw else ()
    )


def _moves(file: TomlText, text: str, key: str) -> tuple[Move, ...]:
    was, now = cell_texts(file.text, key), cell_texts(text, key)
    return tuple(
        Move(key, f"{HOUSE}{name}", was.get(name, ""), now.get(name, ""))
        for name in dict.fromkeys((*was, *now))
        if was.get(name) != now.get(name)
    )


def house_back(
    key: str, moves: Sequence[Move], bar: Bar, changed: HouseFile | None = None
) -> HouseFile | None:
    """The house file with its figures before some moves of the log; None if none goes back.

    A figure that was changed since, by a later batch, is kept. `changed` is the file where it is
    to be changed already.

    Raises:
        BadInput: as `house_file`.
    """
    file = changed.file if changed else _file_of(key, bar)
    if file is None:
        return None
    now = cell_texts(file.text, key)
    before = {
        move.cell.removeprefix(HOUSE): move.before
        for move in moves
        if now.get(move.cell.removeprefix(HOUSE), "") == move.after
    }
    values = {name: value_of(text) if text else None for name, text in before.items()}
    return house_file(file, key, values) if values else None


def _file_of(key: str, bar: Bar) -> TomlText | None:
    if key in bar.recipes:
        return bar.recipes[key].file
    item = bar.library.get(key)
    return None if item is None or item.origin is None else read_toml(item.origin)


def with_house(shelf: Shelf, house: HouseFile) -> Shelf:
    """The shelf, read with the ingredient of the house file."""
    library = [item for item in shelf.library if item.key != house.key]
    own = [house.stated] if house.stated else []
    return replace(shelf, library=load_library().shadowed_by([*library, *own]))
