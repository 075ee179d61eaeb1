"""Read a thing and an amount of it, in either order."""

from __future__ import annotations

from typing import Final

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.fruit import fruit_by_juice
from solver.pantry.ingredient import Ingredient
from solver.pantry.spec_lines import begins_with_number
from solver.pantry.stocked_as import (
    by_the_piece,
    counts_pieces,
    is_bare,
    pieces,
    stocked_as,
)
from solver.quantities import in_digits, split_count

_LONGEST: Final = 6
"""Words of an amount: "2 1/2 bottles and 300 ml"."""


def item_and_amount(name: str, amount: str, bar: Bar) -> tuple[Ingredient, str]:
    """The ingredient, and the amount in the shelf's notation.

    Either may come first. Pieces of a juice are those of its fruit; a bare number counts pieces of
    what comes in pieces and not in bottles.

    Raises:
        BadInput: it is not known, or no amount is given.
    """
    turned = None if name in bar.bottles else _turned(in_digits(f"{name} {amount}").split(), bar)
    if turned is None and (begins_with_number(name) or not name.strip()):
        raise _unknown(f"{name} {amount}".split(), bar)
    name, amount = turned or (name, amount)
    amount = _of_itself(name, in_digits(amount), bar)
    bar.bottles.refuse_either(name)
    item = stocked_as(name, [amount], bar.bottles) or bar.bottles.find(name)
    if not amount.strip():
        remedy = f"Write it like {item.key} {_example(item, bar)}."
        raise BadInput(f"how much of {item.name} is not said", remedy=remedy)
    return _by_the_piece(item, " ".join(amount.split()), bar)


def _of_itself(name: str, amount: str, bar: Bar) -> str:
    """The number alone of an amount whose unit is the thing itself: "6 eggs" of eggs are 6."""
    number, _, unit = amount.partition(" ")
    item = bar.bottles.get(unit) if unit and begins_with_number(number) else None
    return number if item is not None and item is bar.bottles.get(name) else amount


def _turned(words: list[str], bar: Bar) -> tuple[str, str] | None:
    """Name and amount of words that begin with the amount: "12 eggs", "2 bottles of gin"."""
    if not (words and begins_with_number(words[0])):
        return None
    for cut in range(1, min(_LONGEST, len(words) - 1) + 1):
        name = " ".join(words[cut:]).removeprefix("of ")
        if name in bar.bottles:
            return name, " ".join(words[:cut])
    return None


def _unknown(words: list[str], bar: Bar) -> BadInput:
    what = " ".join(words[1:])  # without the number
    if not what:
        remedy = "Name it first: rye-whiskey 2 bottles."
        return BadInput("nothing says what there is so much of", remedy=remedy)
    return bar.bottles.unknown(what)


def _by_the_piece(item: Ingredient, amount: str, bar: Bar) -> tuple[Ingredient, str]:
    named = counts_pieces(amount)
    taken = split_count(amount)
    if taken is None or item.piece is None or not (named or is_bare(amount)):
        return item, amount
    row = bar.stocked(item.key)
    bottled = row is not None and row.bottle not in {None, item.piece.value}
    loose = not bottled or by_the_piece(item, bar.bottles)
    return item, pieces(taken[0]) if loose or named else amount


def _example(item: Ingredient, bar: Bar) -> str:
    loose = item.piece is not None or item.key in fruit_by_juice(bar.bottles)
    return "12 pieces" if loose else "2 bottles"
