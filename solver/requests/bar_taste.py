"""What a bar says of its own ingredients and drinks, from its files."""

from __future__ import annotations

from solver.files.checked import FileReading
from solver.harmony.taste import BarTaste, OwnDrink, Tasted
from solver.harmony.words import said_of
from solver.pantry.bar import Bar
from solver.pantry.spec import Spec


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
            tuple((pour.part, pour.ingredient.key) for pour in book.pours[spec.name]),
        )
        for spec in book.specs
    )
    tasted = tuple(note for spec in book.specs for note in _tastings(spec, bar))
    own = [stocked.ingredient for stocked in bar.stock]
    return BarTaste(drinks, tasted, said_of(own, bar.library, bar.measures))


def _tastings(spec: Spec, bar: Bar) -> list[Tasted]:
    """The tastings of a spec, each of what was poured then.

    Raises:
        BadInput, BadInputs: something that was poured is not known any more, with its line.
    """
    reading = FileReading(spec)
    found: list[Tasted] = []
    for index, note in enumerate(spec.tasted):
        where: list[str | int] = ["tasted", index, "poured"]
        said = note.poured or tuple(pour.ingredient for pour in spec.pours)
        items = [reading.take(where, None, bar.bottles.find, name) for name in said]
        found.append(Tasted(frozenset(item.key for item in items if item), note.score))
    reading.finish()
    return found
