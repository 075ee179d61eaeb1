"""What fruit gives: juice by the piece, and pieces of garnish; and what eggs are separated into."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated, Any, Final, Protocol

from pydantic import Field

from solver.files.checked import Key, Model, Text, check
from solver.files.toml import read_toml
from solver.pantry.figure import Figure
from solver.pantry.folders import YIELDS
from solver.pantry.ingredient import Ingredient

WHOLE_EGG: Final = "whole-egg"
EGG_PARTS: Final = ("egg-white", "egg-yolk")
_SEPARATED: Final = Figure(
    value=1.0, basis="practice", source="common practice, no source: what is separated is poured"
)


class Ingredients(Protocol):
    """Ingredients that are found by key, name or alias: a library."""

    def get(self, text: str) -> Ingredient | None:
        """The ingredient that is called so; None where there is none."""

    def __iter__(self) -> Iterator[Ingredient]:
        """Every ingredient, in order."""


class _Yield(Model):
    """What one fruit gives, as written; `juice` in mL."""

    gives: Key
    juice: Figure
    cuts: Mapping[Text, Annotated[int, Field(ge=1)]]


class _Yields(Model):
    """What yields/fruit.toml holds; `usable` is a share."""

    usable: Figure
    fruit: Mapping[Key, _Yield]


@dataclass(frozen=True)
class Fruit:
    """A fruit that is bought by the piece, and what one piece gives.

    Eggs give their parts as fruit gives its juice. `weight` is one piece as bought in its own unit,
    `juice` mL of strained juice from it, `usable` the share of what was pressed that is poured
    before it is too old. `cuts` is how many pieces of garnish it makes, by the word for the cut, in
    the one form of `pantry.word_forms`.
    """

    ingredient: Ingredient
    gives: str
    weight: Figure
    juice: Figure
    usable: Figure
    cuts: Mapping[str, int]

    @property
    def key(self) -> str:
        """Its own key, like "whole-limes"."""
        return self.ingredient.key

    def pieces(self, poured_ml: float) -> float:
        """How many to press so that so much juice can be poured, what is left at close with it.

        A share of a piece counts: whoever buys rounds up.
        """
        return poured_ml / (self.juice.value * self.usable.value)

    def units(self, poured_ml: float) -> float:
        """The same in its own unit."""
        return self.pieces(poured_ml) * self.weight.value


def fruit_by_juice(library: Ingredients) -> Mapping[str, Fruit]:
    """The fruit that each juice is pressed from, by the key of the juice ("lime-juice").

    What a house states of a fruit's weight in its own file counts. A fruit that has no weight of a
    piece there is left out.
    """
    written = _written()
    found: dict[str, Fruit] = {}
    for key, each in written.fruit.items():
        item = library.get(key)
        if item is not None and item.per == "g" and item.piece is not None:
            found[each.gives] = Fruit(
                ingredient=item,
                gives=each.gives,
                weight=item.piece,
                juice=each.juice,
                usable=written.usable,
                cuts=each.cuts,
            )
    return found


def egg_by_part(library: Ingredients) -> Mapping[str, Fruit]:
    """Whole eggs by the key of what they are separated into: the white, or the yolk.

    One piece gives one of each, as large as each says of itself.
    """
    whole = library.get(WHOLE_EGG)
    parts = [part for part in map(library.get, EGG_PARTS) if part is not None]
    return {
        part.key: Fruit(whole, part.key, whole.piece, part.piece, _SEPARATED, cuts={})
        for part in parts
        if whole is not None and whole.piece is not None and part.piece is not None
    }


def given_by_pieces(library: Ingredients) -> Mapping[str, Fruit]:
    """What is pressed or separated out of pieces, by its key: juices, and parts of eggs."""
    return {**fruit_by_juice(library), **egg_by_part(library)}


@cache
def _written() -> _Yields:
    """The built-in yields."""
    file = read_toml(YIELDS / "fruit.toml")
    return check(_Yields, _without_units(file.data), file)


def _without_units(data: Mapping[str, Any]) -> dict[str, Any]:
    """The file's tables in the shape of the models."""
    fruit = {
        key: {**table, "juice": as_figure(table["juice"], "ml")}
        for key, table in data["fruit"].items()
    }
    return {**data, "usable": as_figure(data["usable"], "share"), "fruit": fruit}


def as_figure(table: Mapping[str, Any], unit: str) -> dict[str, Any]:
    """A figure in the shape of its model: the unit, which is a key of its own, out of it."""
    return {("value" if key == unit else key): value for key, value in table.items()}
