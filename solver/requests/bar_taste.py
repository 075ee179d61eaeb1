"""What a bar says of its own ingredients and drinks, from its files."""

from __future__ import annotations

from solver.harmony.taste import BarTaste, OwnDrink
from solver.harmony.words import said_of
from solver.pantry.bar import Bar


def taste_of(bar: Bar) -> BarTaste:
    """What a bar says of its own ingredients and drinks.

    A spec that cannot be read says nothing: `bar.book` tells what is wrong with it.

    Raises:
        BadInput, BadInputs: a word of what goes with what is not understood; with its line.
    """
    book = bar.book
    drinks = tuple(
        OwnDrink(
            spec.profile or "",
            tuple((pour.part or "", pour.ingredient.key) for pour in book.pours[spec.name]),
        )
        for spec in book.specs
    )
    own = [stocked.ingredient for stocked in bar.stock]
    return BarTaste(drinks=drinks, said=said_of(own, bar.library, bar.measures))
