"""Read a foreign list of bottles line by line, and put it onto the shelf."""

from __future__ import annotations

import enum
import math
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
from solver.pantry.other_words import in_english
from solver.pantry.shelf import Shelf
from solver.pantry.shelf_row import MOST_LETTERS
from solver.pantry.stocked import Stocked
from solver.pantry.stocked_as import stocked_as
from solver.printable import printable, short
from solver.quantities.sizes import TRADE_ROUNDING
from solver.tasks.house_bottle_like import like_in_house
from solver.tasks.new_bar import starter_bottles
from solver.tasks.shelf_edit import shelf_of
from solver.tasks.shelf_import.cells import (
    size_in,
    strength_cell,
    strength_in,
    without_sizes,
)
from solver.tasks.shelf_import.columns import Head, find_head
from solver.tasks.shelf_import.per_bottle import per_bottle
from solver.tasks.stock.house_figures import HouseFile, with_house

SUMS = frozenset({"total", "subtotal", "sum", "gesamt", "summe", "totale", "totaal", "suma"})
"""What stands before a sum of other lines."""
_OF_ITS_SIZE = frozenset({"price", "on_hand", "case"})
"""What holds for a bottle of one size alone."""
_QUITE_ANOTHER = 10.0
"""% vol by which a bottle of the same name is weaker that is worth a word."""
LEAVE_OUT = ""
"""What a name means that is to be left out."""
NEW_LIKE = "new like "
"""What stands before the ingredient that a name is poured like, where it is one more sort of it."""


@enum.unique
class Fate(enum.Enum):
    """The outcome of a line."""

    NEW = "new"
    CHANGED = "changed"
    THERE = "there already"
    TWICE = "twice in the list"
    LEFT_OUT = "left out"
    UNKNOWN = "not known"
    MISTAKEN = "not read"


@dataclass(frozen=True)
class ListLine:
    """A line of the list: the name, what it was understood as, and the outcome.

    `cells` are for the shelf, by column. `guesses` are keys that an unknown name may mean. `taken`
    states assumptions; `why` is the mistake of the line, or why it is left out. `abv` is the
    strength in % vol that was used, `own_abv` true if the list states it.
    """

    line: int
    name: str
    fate: Fate
    item: Ingredient | None = None
    cells: Mapping[str, str] | None = None
    guesses: tuple[str, ...] = ()
    taken: str = ""
    why: str = ""
    abv: float | None = None
    own_abv: bool = False

    @property
    def written(self) -> bool:
        """Whether it is written to the shelf."""
        return self.fate in (Fate.NEW, Fate.CHANGED)


@dataclass(frozen=True)
class Understood:
    """The result of reading a list: its headings and its lines.

    `houses` are new house files, for bottles like something else.
    """

    head: Head
    lines: tuple[ListLine, ...]
    houses: tuple[HouseFile, ...] = ()

    def those(self, *fates: Fate) -> tuple[ListLine, ...]:
        """The lines with an outcome."""
        return tuple(line for line in self.lines if line.fate in fates)


@dataclass(frozen=True)
class AskedName:
    """How to read a list: `meant` maps names of the list to keys, to LEAVE_OUT, or to NEW_LIKE and
    a key; `columns` are headings by meaning.

    Empty cells of the shelf are filled; with `update`, others are changed, too.
    """

    meant: Mapping[str, str]
    columns: Mapping[str, str]
    update: bool = False


def understand(rows: Sequence[GridRow], bar: Bar, asked: AskedName) -> Understood:
    """Read a list for a bar; the meaning of an unknown name is never guessed.

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


def not_listed(understood: Understood, bar: Bar) -> tuple[str, ...]:
    """Keys of bottles on the shelf that are on no line of the list.

    Raises:
        BadInput: there is no bar.
    """
    _, _, shelf = shelf_of(bar)
    listed = {line.item.key for line in understood.lines if line.item is not None}
    return tuple(row.ingredient.key for row in shelf.rows if row.ingredient.key not in listed)


def untouched(keys: Sequence[str], bar: Bar) -> tuple[str, ...]:
    """Those of a new bar's initial bottles that nobody has changed."""
    _, _, shelf = shelf_of(bar)
    began = starter_bottles()
    rows = [row for row in shelf.rows if row.ingredient.key in began.intersection(keys)]
    said = {row.ingredient.key: {c for c, text in shelf.cells(row).items() if text} for row in rows}
    return tuple(key for key, columns in said.items() if columns <= {"ingredient", "bottle"})


def with_list(understood: Understood, bar: Bar, *, only: bool = False) -> Shelf:
    """The shelf with everything that was understood; with `only`, and nothing else.

    Raises:
        BadInput, BadInputs: it cannot be written as the file stands, or nothing would be left.
    """
    _, _, before = shelf_of(bar)
    shelf = _with_houses(before, understood.houses)
    if only:
        if all(line.item is None for line in understood.lines):
            what = "nothing in the list is known, and the shelf would be empty"
            raise BadInput(what, remedy="Say what its names are with --as.")
        for key in not_listed(understood, bar):
            shelf = shelf.without(key)
    rows = {
        line.item.key: line.cells
        for line in understood.lines
        if line.written and line.item is not None and line.cells is not None
    }
    columns = dict.fromkeys(name for cells in rows.values() for name in cells)
    return shelf.with_columns(columns).with_rows(rows)


def _meant(name: str, key: str, bar: Bar, root: Path) -> Ingredient | HouseFile | None:
    """What the user said a name means: an ingredient, a new house file, or None to leave it out."""
    if not name.strip():
        raise BadInput("a name of the list is empty", remedy="Write it like --as 'Old Tom=gin'.")
    if key.casefold().startswith(NEW_LIKE):
        like = key[len(NEW_LIKE) :]
        made = bar.library.get(without_sizes(name))
        if made is not None and made.like == bar.library.find(like).key:
            return made  # from when the list was read before
        return like_in_house(without_sizes(name), like, bar, root)
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
        """Read a line; None if it names no bottle."""
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
        item = self._item(name, said)
        if item is None:
            unknown = self.bar.library.unknown(without_sizes(name))
            # What is near a number is near it by chance.
            near = unknown.near if any(sign.isalpha() for sign in name) else ()
            return ListLine(row.line, name, Fate.UNKNOWN, guesses=near, why=unknown.remedy)
        there = self.shelf.row(item.key)
        why = ""
        try:
            cells, taken = self._cells(name, said, item)
            listed = self.shelf.as_row({"ingredient": item.key, **cells})
            self.bar.happened(listed.opened)
            if there is not None and not self.update:
                cells, size_was, why = self._filling(there, listed, cells)
                taken = ", ".join(filter(None, (taken, size_was)))
        except BadInput as error:
            return ListLine(row.line, name, Fate.MISTAKEN, item, why=error.sentence())
        known = item.answers_to(name) or self._known(name, said) is item
        if there is None and not known and "label" not in cells:
            cells.setdefault("note", name.lstrip("=+-@"))
        fate = Fate.NEW if there is None else Fate.CHANGED if cells else Fate.THERE
        own = bool(said.get("abv") or strength_in(name))
        if not own and item.abv.value:
            taken = ", ".join(filter(None, (taken, self._other_strength(name, item))))
        abv = listed.ingredient.abv.value
        return ListLine(
            row.line, name, fate, item, cells, taken=taken, why=why, abv=abv, own_abv=own
        )

    def _other_strength(self, name: str, item: Ingredient) -> str:
        """A note if a bottle is much weaker than the ingredient of that name, as cheap triple
        sec."""
        said = fold(without_sizes(name))
        for other in self.bar.library:
            names = (other.name, *other.aliases)
            alike = other.kind == item.kind and any(said in fold(each) for each in names)
            if alike and item.abv.value - other.abv.value >= _QUITE_ANOTHER:
                low, high = other.abv.low or other.abv.value, other.abv.high or other.abv.value
                return (
                    f"{item.abv.value:g}% taken; {other.name} has {low:g} to {high:g}: put the "
                    "label's figure in overrides"
                )
        return ""

    def _label(self, name: str, item: Ingredient) -> str:
        """The bar's own name for a bottle; empty if it has it already, or it is another's."""
        label = without_sizes(name).lstrip("=+-@ ")
        own = any(sign.isalpha() for sign in label) and not item.answers_to(label)
        own = own and len(label) <= MOST_LETTERS  # the note has it then
        return label if own and self.bar.library.get(label) in (None, item) else ""

    def _filling(
        self, there: Stocked, listed: Stocked, cells: Mapping[str, str]
    ) -> tuple[dict[str, str], str, str]:
        """What a list adds to a row, what it changes of its size, and what is left out and why.

        Price and count of a bottle of another size are taken with that size if the row has neither;
        beside the row's own they would be wrong.
        """
        written = self.shelf.cells(there)
        empty = {column: text for column, text in cells.items() if not written.get(column)}
        if not there.bottle or not listed.bottle:
            return empty, "", ""
        if math.isclose(there.bottle, listed.bottle, rel_tol=TRADE_ROUNDING):
            return empty, "", ""  # 33.8 fl oz is the bottle of a litre
        if there.price is None and there.on_hand is None:
            if _OF_ITS_SIZE.isdisjoint(empty):
                return empty, "", ""
            return {**empty, "bottle": cells["bottle"]}, f"size was {written['bottle']}", ""
        kept = {column: text for column, text in empty.items() if column not in _OF_ITS_SIZE}
        why = f"{written['bottle']} on the shelf, {cells['bottle']} in the list"
        return kept, "", why

    def _item(self, name: str, said: Mapping[str, str]) -> Ingredient | None:
        bare = without_sizes(name)
        for told in (name, bare):
            if (item := self.meant.get(fold(told))) is not None:
                return item
        sized = {**said, "bottle": said.get("bottle", "") or size_in(name) or self.head.unit}
        return self._known(name, sized) or self._known(bare, sized) or self._translated(bare, sized)

    def _translated(self, name: str, said: Mapping[str, str]) -> Ingredient | None:
        """The ingredient of a name in another language, unless a house ingredient has that name."""
        english = None if self.bar.recipe(name) else in_english(name)
        return self._known(english, said) if english else None

    def _known(self, name: str, said: Mapping[str, str]) -> Ingredient | None:
        amounts = [said.get("bottle", ""), said.get("on_hand", "")]
        return stocked_as(name, amounts, self.bar.library)

    def _cells(
        self, name: str, said: Mapping[str, str], item: Ingredient
    ) -> tuple[dict[str, str], str]:
        """Cells of a shelf for a bottle, by column, and the assumptions made.

        Raises:
            BadInput: something of it cannot be read.
        """
        one = per_bottle(name, said, item, self.head, self.bar)
        cells = {
            **one.cells,
            "opened": said.get("opened", ""),
            "use_by": said.get("use_by", ""),
            "overrides": strength_cell(said.get("abv", "") or strength_in(name), item),
            "supplier": said.get("supplier", "").lstrip("=+-@ "),
            "note": said.get("note", "").lstrip("=+-@"),
            "label": self._label(name, item),
        }
        return {column: text for column, text in cells.items() if text}, one.taken
