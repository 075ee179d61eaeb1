"""What a stranger's list of bottles says, line by line, and the shelf with it."""

from __future__ import annotations

import enum
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from pathlib import Path

from solver.errors import BadInput
from solver.files.grid import GridRow
from solver.files.near_words import near_words
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import fold
from solver.pantry.shelf import Shelf, Stocked
from solver.printable import printable, short
from solver.tasks.shelf_edit import shelf_of
from solver.tasks.shelf_import.cells import (
    price_cell,
    size_cell,
    size_in,
    stock_cell,
    strength_cell,
    strength_in,
    without_sizes,
)
from solver.tasks.shelf_import.columns import Head, find_head
from solver.tasks.shelf_like import like_in_house
from solver.tasks.stock.house import HouseFile, with_house

SUMS = frozenset({"total", "subtotal", "sum", "gesamt", "summe", "totale", "totaal", "suma"})
"""What stands before a sum of other lines."""
LEAVE_OUT = ""
"""What a name means that is to be left out."""
NEW_LIKE = "new like "
"""What stands before the ingredient that a name is poured like, where it is one more sort of it."""


@enum.unique
class Fate(enum.Enum):
    """What comes of a line."""

    NEW = "new"
    CHANGED = "changed"
    THERE = "there already"
    TWICE = "twice in the list"
    LEFT_OUT = "left out"
    UNKNOWN = "not known"
    MISTAKEN = "not read"


@dataclass(frozen=True)
class ListLine:
    """A line of the list: what it calls a bottle, what that was taken for, and what comes of it.

    `cells` are what a shelf says of it, by column. `guesses` are keys that the name may mean where
    it is not known. `taken` says what was assumed, `why` what is wrong with the line.
    """

    line: int
    name: str
    fate: Fate
    item: Ingredient | None = None
    cells: Mapping[str, str] | None = None
    guesses: tuple[str, ...] = ()
    taken: str = ""
    why: str = ""

    @property
    def written(self) -> bool:
        """Whether it goes onto the shelf."""
        return self.fate in (Fate.NEW, Fate.CHANGED)


@dataclass(frozen=True)
class Understood:
    """What was understood of a list: its headings and its lines.

    `houses` are files of what is new in the house, like something else.
    """

    head: Head
    lines: tuple[ListLine, ...]
    houses: tuple[HouseFile, ...] = ()

    def those(self, *fates: Fate) -> tuple[ListLine, ...]:
        """The lines that such comes of."""
        return tuple(line for line in self.lines if line.fate in fates)


@dataclass(frozen=True)
class AskedName:
    """How a list is to be read: `meant` are keys by the names of the list, LEAVE_OUT for none, or
    NEW_LIKE and a key;
    `columns` headings by what they say. What a row of the shelf leaves empty is filled in; with
    `update` what it says is changed, too.
    """

    meant: Mapping[str, str]
    columns: Mapping[str, str]
    update: bool = False


def understand(rows: Sequence[GridRow], bar: Bar, asked: AskedName) -> Understood:
    """What a list says, read for a bar; nothing is guessed of a name that is not known.

    Raises:
        BadInput: there is no bar, no column has the names, or a name in `asked` is not in the list
            or means nothing here.
    """
    root, _, shelf = shelf_of(bar)
    head = find_head(rows, asked.columns)
    told = {fold(name): _meant(name, key, bar, root) for name, key in asked.meant.items()}
    new = {each.key: each for each in told.values() if isinstance(each, HouseFile)}
    houses = tuple(new.values())
    meant = {name: _item_of(each) for name, each in told.items()}
    shelf = _with_houses(shelf, houses)
    reader = _Reader(head, bar, shelf, meant, asked.update)
    lines: list[ListLine] = []
    seen: dict[str, int] = {}
    for row in rows[head.first :]:
        line = reader.line(row)
        if line is None:
            continue
        if line.written and line.item is not None:
            first = seen.setdefault(line.item.key, line.line)
            if first != line.line:
                why = f"{line.item.key} is on line {first} of it"
                line = ListLine(line.line, line.name, Fate.TWICE, line.item, why=why)
        lines.append(line)
    names = {fold(name): name for line in lines for name in (line.name, without_sizes(line.name))}
    for name in asked.meant:
        if fold(name) not in names:
            what = f"'{short(name)}' is not in the list"
            raise BadInput(what, near=[names[near] for near in near_words(fold(name), names)])
    written = {line.item.key for line in lines if line.written and line.item is not None}
    return Understood(head, tuple(lines), tuple(each for each in houses if each.key in written))


def with_list(understood: Understood, bar: Bar) -> Shelf:
    """The shelf with everything that was understood.

    Raises:
        BadInput, BadInputs: it cannot be written as the file stands.
    """
    _, _, before = shelf_of(bar)
    shelf = _with_houses(before, understood.houses)
    rows = {
        line.item.key: line.cells
        for line in understood.lines
        if line.written and line.item is not None and line.cells is not None
    }
    columns = dict.fromkeys(name for cells in rows.values() for name in cells)
    return shelf.with_columns(columns).with_rows(rows)


def _meant(name: str, key: str, bar: Bar, root: Path) -> Ingredient | HouseFile | None:
    """What a name was said to be: an ingredient, one more sort of one, or to be left out."""
    if not name.strip():
        raise BadInput("a name of the list is empty", remedy="Write it like --as 'Old Tom=gin'.")
    if key.casefold().startswith(NEW_LIKE):
        return like_in_house(without_sizes(name), key[len(NEW_LIKE) :], bar, root)
    return None if key == LEAVE_OUT else bar.library.find(key)


def _item_of(meant: Ingredient | HouseFile | None) -> Ingredient | None:
    return meant.item if isinstance(meant, HouseFile) else meant


def _with_houses(shelf: Shelf, houses: Sequence[HouseFile]) -> Shelf:
    return reduce(with_house, houses, shelf)


@dataclass(frozen=True)
class _Reader:
    """Reads the lines of a list."""

    head: Head
    bar: Bar
    shelf: Shelf
    meant: Mapping[str, Ingredient | None]
    update: bool

    def line(self, row: GridRow) -> ListLine | None:
        """What a line says; None where it names no bottle."""
        said = {
            meaning: printable(row.cells[place]) if place < len(row.cells) else ""
            for meaning, place in self.head.places.items()
        }
        name = " ".join(said.pop("ingredient").split())
        # A name may be a number, as some bottles' are: such a line is not dropped unsaid.
        if not any(sign.isalnum() for sign in name) or fold(name).rstrip(":") in SUMS:
            return None
        for told in (fold(name), fold(without_sizes(name))):
            if told in self.meant and self.meant[told] is None:
                return ListLine(row.line, name, Fate.LEFT_OUT)
        item = self._item(name)
        if item is None:
            unknown = self.bar.library.unknown(without_sizes(name))
            # What is near a number is near it by chance.
            near = unknown.near if any(sign.isalpha() for sign in name) else ()
            return ListLine(row.line, name, Fate.UNKNOWN, guesses=near, why=unknown.remedy)
        there = self.shelf.row(item.key)
        try:
            cells, taken = self._cells(name, said, item)
            listed = self.shelf.as_row({"ingredient": item.key, **cells})
            if there is not None and not self.update:
                cells = self._filling(there, listed, cells)
        except BadInput as error:
            return ListLine(row.line, name, Fate.MISTAKEN, item, why=error.sentence())
        if there is None and not item.answers_to(name) and "label" not in cells:
            cells.setdefault("note", name.lstrip("=+-@"))
        fate = Fate.NEW if there is None else Fate.CHANGED if cells else Fate.THERE
        return ListLine(row.line, name, fate, item, cells, taken=taken)

    def _label(self, name: str, item: Ingredient) -> str:
        """The bar's own name for a bottle; empty where it has it already, or it is another's."""
        label = without_sizes(name).lstrip("=+-@ ")
        own = any(sign.isalpha() for sign in label) and not item.answers_to(label)
        return label if own and self.bar.library.get(label) in (None, item) else ""

    def _filling(self, there: Stocked, listed: Stocked, cells: Mapping[str, str]) -> dict[str, str]:
        """What a list adds to a row without changing anything in it.

        Nothing, where it is of a bottle of another size: its price would be of that.
        """
        if there.bottle and listed.bottle and there.bottle != listed.bottle:
            return {}
        written = self.shelf.cells(there)
        return {column: text for column, text in cells.items() if not written.get(column)}

    def _item(self, name: str) -> Ingredient | None:
        bare = without_sizes(name)
        for told in (name, bare):
            if (item := self.meant.get(fold(told))) is not None:
                return item
        return self.bar.library.get(name) or self.bar.library.get(bare)

    def _cells(
        self, name: str, said: Mapping[str, str], item: Ingredient
    ) -> tuple[dict[str, str], str]:
        """What a shelf says of a bottle, by column, and what was taken for granted of it.

        Raises:
            BadInput: something of it cannot be read.
        """
        written = said.get("bottle", "") or size_in(name)
        size, taken = size_cell(written, self.head.unit if said.get("bottle") else "")
        cells = {
            "bottle": size,
            "price": price_cell(said.get("price", ""), self.bar.currency),
            "on_hand": stock_cell(said.get("on_hand", "")),
            "opened": said.get("opened", ""),
            "use_by": said.get("use_by", ""),
            "overrides": strength_cell(said.get("abv", "") or strength_in(name), item),
            "note": said.get("note", "").lstrip("=+-@"),
            "label": self._label(name, item),
        }
        return {column: text for column, text in cells.items() if text}, taken
