"""The shelf: what the bar has, from a table that a spreadsheet can edit."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, timedelta
from pathlib import Path
from typing import Concatenate, ParamSpec, TypeVar

from pydantic import Field

from solver.errors import BadInput, BadInputs, Where
from solver.files.checked import Model, Text, gather
from solver.files.near_words import near_words
from solver.files.sheet import Sheet, parse_sheet, read_sheet
from solver.pantry.dates import read_date
from solver.pantry.fruit import Fruit
from solver.pantry.ingredient import OVERRIDES, Ingredient
from solver.pantry.kept import counts_pieces, kept, pieces, size_of_one
from solver.pantry.library import Library, fold
from solver.pantry.lots import Lot, read_lots
from solver.pantry.text_types import Amount, Date, Lots, Money, Overrides, Stock
from solver.pantry.unit_price import UnitPrice
from solver.printable import printable, short
from solver.quantities import Measures, parse, parse_number, parse_pour, show_number

Args = ParamSpec("Args")
Got = TypeVar("Got")


class Columns(Model):
    """The columns of shelf.csv that mean something, in their usual order; others are kept."""

    ingredient: Text = Field(description="What it is: a key, name or alias.")
    label: Text | None = Field(
        default=None,
        description="What the bar calls it: another name that it answers to, and goes by on cards.",
    )
    bottle: Amount | None = Field(
        default=None, description="The size of one bottle, or its weight."
    )
    price: Money | None = Field(
        default=None, description="What one bottle costs, in the bar's currency."
    )
    on_hand: Stock | None = Field(
        default=None,
        description="What is left; unsaid, it is not counted: drinks may pour it, plans buy it.",
    )
    opened: Date | None = Field(default=None, description="The day it was opened, or made.")
    use_by: Date | None = Field(default=None, description="The last day to pour it.")
    newer: Lots | None = Field(
        default=None,
        description="What of it was made later than opened says: poured after the rest.",
    )
    case: Text | None = Field(default=None, description="How many bottles come in a case.")
    supplier: Text | None = Field(default=None, description="Who delivers it.")
    overrides: Overrides | None = Field(
        default=None,
        description="What the label or a reading says, where the library says otherwise.",
    )
    note: Text | None = Field(default=None, description="Anything worth remembering.")


COLUMNS = tuple(Columns.model_fields)
USE_BY = re.compile(r"(?:; )?\buse by (?P<date>\d+[./-]\d+[./-]\d+)", re.IGNORECASE)
"""How a note says it, where the sheet has no column for it."""
MOST_IN_CASE = 1000
"""Bottles beyond which a case is a slip."""
MOST_LETTERS = 80
"""Of a label: what a line of a card and of a list has room for."""
_CRUMB = 0.15
"""mL or g; what is less of a batch beside newer ones is rounding."""


@dataclass(frozen=True)
class Stocked:
    """One row of the shelf.

    `bottle` and `on_hand` are in the ingredient's own unit (mL, or g of what is weighed), `price`
    in the bar's currency for one bottle; None where the shelf does not say. `opened` is the day it
    was opened or made, `dated` the last day that somebody wrote on it; `newer` are batches among
    what is on hand that have dates of their own. `case` is how many bottles are bought together,
    and `supplier` from whom. `label` is the bar's own name for it, which its ingredient has too.
    `worked_out` is what one mL (or g) costs where the shelf has no price;
    `fruit` what a juice is pressed from when it is asked for, of which no row of the shelf tells.
    """

    ingredient: Ingredient
    bottle: float | None = None
    price: float | None = None
    on_hand: float | None = None
    line: int = 0
    opened: date | None = None
    note: str = ""
    dated: date | None = None
    case: int = 1
    supplier: str = ""
    newer: tuple[Lot, ...] = ()
    label: str = ""
    worked_out: UnitPrice | None = None
    fruit: Fruit | None = None

    @property
    def lots(self) -> tuple[Stocked, ...]:
        """The batches that are there, each as a row of its own, the first to be poured first.

        Where less is on hand than they come to, it is the newest that are there.
        """
        if not self.newer or self.on_hand is None:
            return (self,)
        left = self.on_hand
        found: list[Stocked] = []
        for lot in reversed(self.newer):
            amount = min(left, lot.amount)
            left -= amount
            if amount > _CRUMB or not found:
                found.append(self._only(replace(lot, amount=amount)))
        if left > _CRUMB:
            found.append(replace(self, on_hand=left, newer=()))
        return tuple(reversed(found))

    def _only(self, lot: Lot) -> Stocked:
        return replace(self, on_hand=lot.amount, opened=lot.made, dated=lot.use_by, newer=())

    def good(self, today: date) -> Stocked | None:
        """The row without the batches of which the last day is over; None where all of it is."""
        return together(lot for lot in self.lots if not lot.past(today))

    @property
    def use_by(self) -> date | None:
        """The last day to pour it: as dated, or opened and its days of life, whichever is first.

        None where nobody has said.
        """
        days = self.ingredient.life_days
        lasts = None
        if self.opened is not None and days is not None:
            room = (date.max - self.opened).days
            lasts = self.opened + timedelta(days=min(int(days), room))
        return min((day for day in (self.dated, lasts) if day is not None), default=None)

    def past(self, today: date) -> bool:
        """Whether its last day is over."""
        return self.use_by is not None and self.use_by < today

    @property
    def price_per_unit(self) -> float | None:
        """Price of one mL (or g): by price and bottle, else as it was worked out."""
        if self.price is not None and self.bottle:
            return self.price / self.bottle
        return self.worked_out.price if self.worked_out else None


def together(lots: Iterable[Stocked]) -> Stocked | None:
    """Batches of one ingredient as one row, in their order; None for none."""
    found = [*lots]
    if len(found) < 2:
        return found[0] if found else None
    return replace(
        found[0],
        on_hand=math.fsum(lot.on_hand or 0.0 for lot in found),
        newer=tuple(Lot(lot.on_hand or 0.0, lot.opened, lot.dated) for lot in found[1:]),
    )


def in_order(stock: Iterable[Stocked]) -> tuple[Stocked, ...]:
    """Stock in the order in which ties are broken: the cheapest by the unit first, then by key.

    It does not depend on the order of the rows that somebody keeps in a file.
    """

    def rank(row: Stocked) -> tuple[float, str]:
        price = row.price_per_unit
        return (math.inf if price is None else price, row.ingredient.key)

    return tuple(sorted(stock, key=rank))


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
        """The row of an ingredient, by its key."""
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
        return _Row(cells, self.library, self.measures, self.currency, {}).stocked(0)

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
        return shelf_in(written, self.library, self.measures, self.currency)

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
            stocked = _Row(row, library, measures, currency, uncooked or {}).stocked(line)
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


@dataclass(frozen=True)
class _Row:
    """Reads the cells of one row; a mistake names its column."""

    cells: Mapping[str, str]
    library: Library
    measures: Measures
    currency: str
    uncooked: Mapping[str, str]

    def stocked(self, line: int) -> Stocked:
        known = self._ingredient()
        label = self._read("label", self._label, known)
        ingredient = self._read("overrides", self._overridden, known.called(label))
        bottle = self._read("bottle", self._bottle, ingredient)
        return Stocked(
            ingredient=ingredient,
            bottle=bottle,
            price=self._read("price", self._price),
            on_hand=self._read("on_hand", self._on_hand, ingredient, bottle),
            line=line,
            opened=self._read("opened", read_date),
            note=self.cells.get("note", ""),
            dated=self._read("use_by", read_date) or self._read("note", _dated_in_note),
            case=self._read("case", _case),
            supplier=self.cells.get("supplier", ""),
            newer=self._read("newer", self._newer, ingredient, bottle),
            label=label,
        )

    def _read(
        self,
        column: str,
        read: Callable[Concatenate[str, Args], Got],
        *args: Args.args,
        **kwargs: Args.kwargs,
    ) -> Got:
        try:
            return read(self.cells.get(column, ""), *args, **kwargs)
        except BadInput as error:
            what = f"{column}: {error.what}"
            raise BadInput(what, why=error.why, remedy=error.remedy, near=error.near) from None

    def _ingredient(self) -> Ingredient:
        name = self.cells["ingredient"]
        if not name:
            raise BadInput("ingredient is empty", remedy="Name the ingredient, or delete the row.")
        recipe = self.uncooked.get(fold(name))
        if recipe is not None:
            what = f"nothing of {short(name)} is in a bottle yet"
            remedy = f"Delete the row: `equipour prep {recipe} --stock` writes it."
            raise BadInput(what, why="the house has only its recipe", remedy=remedy)
        amounts = [self.cells.get(column, "") for column in ("bottle", "on_hand")]
        return kept(name, amounts, self.library) or self.library.find(name)

    def _label(self, text: str, ingredient: Ingredient) -> str:
        """The bar's own name for an ingredient: it must not be another's."""
        label = " ".join(printable(text).split())
        if len(label) > MOST_LETTERS:
            what, why = f"'{short(label)}' is no name", f"it has more than {MOST_LETTERS} letters"
            raise BadInput(what, why=why, remedy="Keep the rest in the column note.")
        other = self.library.get(label)
        recipe = self.uncooked.get(fold(label))
        if recipe is None and (other is None or other.key == ingredient.key):
            return label
        what = f"'{short(label)}' is a name of {recipe or (other or ingredient).key}"
        raise BadInput(what, remedy=f"Call {ingredient.key} by a name that nothing else has.")

    def _price(self, text: str) -> float | None:
        return parse(text, "money", self.measures, currency=self.currency) if text else None

    def _bottle(self, text: str, ingredient: Ingredient) -> float | None:
        if not text:
            return None
        size = self.library.units(
            ingredient,
            parse_pour(size_of_one(text), self.measures, example="700 ml or 1 kg"),
            "700 ml",
        )
        if size == 0:
            raise BadInput("a bottle holds more than nothing", remedy="Write it like 700 ml.")
        return size

    def _on_hand(self, text: str, ingredient: Ingredient, bottle: float | None) -> float | None:
        return self._amount(text, ingredient, bottle) if text else None

    def _amount(self, text: str, ingredient: Ingredient, bottle: float | None) -> float:
        return read_on_hand(text, ingredient, bottle, self.measures, self.library)

    def _newer(self, text: str, ingredient: Ingredient, bottle: float | None) -> tuple[Lot, ...]:
        if text and not self.cells.get("on_hand"):
            remedy = "Fill in on_hand: all that there is of it, these too."
            raise BadInput("batches stand beside an amount that nobody has counted", remedy=remedy)
        return read_lots(text, lambda each: self._amount(each, ingredient, bottle))

    def _overridden(self, text: str, ingredient: Ingredient) -> Ingredient:
        figures: dict[str, float] = {}
        for item in filter(str.strip, re.split(r"[;\n]", text)):
            name, sign, value = (part.strip() for part in item.partition("="))
            if not sign or name not in OVERRIDES or name in figures:
                what = f"'{short(item.strip())}' does not override a figure"
                why = f"{name} is given twice" if name in figures else ""
                near = () if name in figures else near_words(name, OVERRIDES)
                remedy = "Write it like abv=45%; sugar=20 g/100ml."
                raise BadInput(what, why=why, near=near, remedy=remedy)
            figures[name] = read_figure(name, value, self.measures)
        return overridden(ingredient, figures) if figures else ingredient


_BOTTLES = re.compile(r"(?P<count>.*?)\s*(?:bottles?|btls?\.?)", re.IGNORECASE)


def read_on_hand(
    text: str,
    ingredient: Ingredient,
    bottle: float | None,
    measures: Measures,
    library: Library,
) -> float:
    """An amount like "1.5 bottles" or "450 ml" in the ingredient's own unit.

    Raises:
        BadInput: it can't be read, or counts bottles of which nobody knows the size.
    """
    bottles = _BOTTLES.fullmatch(text)
    if text == "0":
        return 0.0
    if bottles is None:
        pour = parse_pour(text, measures, example="1.5 bottles or 450 ml")
        return library.units(ingredient, pour)
    if bottle is None:
        what = f"'{short(text)}' counts bottles of unknown size"
        raise BadInput(what, remedy="Fill in the column 'bottle', like 700 ml.")
    return bottle * parse_number(bottles["count"])


def written_on_hand(amount: float, like: str, row: Stocked) -> str:
    """An amount as a row says it: in bottles or pieces where `like` counts those, else in mL or g.

    To a ten-thousandth of a bottle, a hundredth of a piece or a tenth of a mL or g, never below
    nothing.
    """
    if row.bottle and (_BOTTLES.fullmatch(like) or not like):
        count = show_number(amount / row.bottle, 4)
        return f"{count} {'bottle' if count == '1' else 'bottles'}"
    piece = row.ingredient.piece
    if piece is not None and counts_pieces(like):
        return pieces(show_number(amount / piece.value, 2))
    return f"{show_number(amount)} {row.ingredient.per}"


def read_figure(name: str, text: str, measures: Measures) -> float:
    """A figure that a bar states for its own bottle, in the unit of the ingredient's field.

    Raises:
        BadInput: it can't be read.
    """
    if name == "abv":
        return parse(text, "strength", measures)
    grams_per_100ml = parse(text, "concentration", measures)
    return grams_per_100ml / 100 if name == "density" else grams_per_100ml


def overridden(ingredient: Ingredient, figures: Mapping[str, float]) -> Ingredient:
    """The ingredient as the bar's own bottle has it.

    Raises:
        BadInput: it is weighed, or there is no such liquid.
    """
    if ingredient.per == "g":
        what = f"the figures of {ingredient.name} cannot be overridden here"
        raise BadInput(what, why="it is weighed", remedy="Make it a house ingredient.")
    own = ingredient.with_overrides(figures).model_copy(update={"origin": None})
    own.composition()  # no such liquid may exist: better said here, where the line is known
    return own


def _case(text: str) -> int:
    """How many bottles come in a case: 6, or "6 bottles"."""
    if not text:
        return 1
    count = parse_number(re.sub(r"\s*(?:bottles?|btls?\.?)$", "", text, flags=re.IGNORECASE))
    if count != int(count) or not 1 <= count <= MOST_IN_CASE:
        raise BadInput(f"'{short(text)}' is no number of bottles", remedy="Write it like 6.")
    return int(count)


def _dated_in_note(note: str) -> date | None:
    """The date in a note like "house; use by 2026-05-16"."""
    found = USE_BY.search(note)
    return read_date(found["date"]) if found else None
