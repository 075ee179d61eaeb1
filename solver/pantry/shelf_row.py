"""A row of shelf.csv: what its columns mean, and what they say."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Concatenate, ParamSpec, TypeVar

from pydantic import Field

from solver.errors import BadInput
from solver.files.checked import Model, Text
from solver.pantry.dated_batches import Lot, read_lots
from solver.pantry.dates import read_date
from solver.pantry.ingredient import Ingredient
from solver.pantry.library import Library, fold
from solver.pantry.on_hand import read_on_hand
from solver.pantry.own_figures import overridden, read_figures
from solver.pantry.stocked import Stocked
from solver.pantry.stocked_as import size_of_one, stocked_as
from solver.pantry.text_types import Amount, Date, Lots, Money, Overrides, Stock
from solver.printable import printable, short
from solver.quantities import Measures, in_digits, parse, parse_number, parse_pour

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
    opened: Date | None = Field(
        default=None, description="The day the open bottle was opened, or all of it was made."
    )
    use_by: Date | None = Field(default=None, description="The last day to pour it.")
    newer: Lots | None = Field(
        default=None,
        description="What of it was made later than opened says: poured after the rest.",
    )
    case: Text | None = Field(default=None, description="How many bottles come in a case.")
    supplier: Text | None = Field(
        default=None, description="Who delivers it: a juice or a syrup is then ordered, not made."
    )
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


@dataclass(frozen=True)
class RowReader:
    """Reads the cells of one row; a mistake names its column.

    `uncooked` are keys of recipes of which nothing is in a bottle yet, by folded name.
    """

    cells: Mapping[str, str]
    library: Library
    measures: Measures
    currency: str
    uncooked: Mapping[str, str]

    def stocked(self, line: int) -> Stocked:
        """What the row says; it stands on that line.

        Raises:
            BadInput: a cell can't be read, or contradicts another.
        """
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
        return stocked_as(name, amounts, self.library) or self.library.find(name)

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
            parse_pour(size_of_one(in_digits(text)), self.measures, example="700 ml or 1 kg"),
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
        figures = read_figures(text, self.measures)
        return overridden(ingredient, figures) if figures else ingredient


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
