"""What has to have a price for something to have one: at the root of it."""

from __future__ import annotations

from dataclasses import replace

from solver.errors import BadInput
from solver.pantry.bar import Bar
from solver.pantry.recipe_inputs import house_key
from solver.pantry.stocked import Stocked


def unpriced(bar: Bar, *keys: str) -> tuple[str, ...]:
    """Keys of what has to have a price for some ingredients to have one, each once.

    Themselves, their fruit, or what goes into them by their recipes, to any depth; none where all
    have one.
    """
    return tuple(dict.fromkeys(root for key in keys for root in _within(bar, key)))


def unpriced_names(bar: Bar, *keys: str) -> tuple[str, ...]:
    """The names of what `unpriced` finds."""
    found = unpriced(bar, *keys)
    return tuple(item.name if (item := bar.library.get(key)) else key for key in found)


def unpriced_inputs(bar: Bar, key: str) -> tuple[str, ...]:
    """As `unpriced`, of what the recipe of a house ingredient puts in."""
    names = (name for _, name, _ in bar.recipes[key].named())
    inputs = (
        house_key(name, bar.recipes, bar.library) or bar.library.find(name).key for name in names
    )
    return unpriced(bar, *inputs)


def priced_alone(bar: Bar) -> tuple[Bar, tuple[str, ...]]:
    """The bar without what has no price, and the keys of that; water is free.

    Raises:
        BadInput: nothing has one.
    """

    def is_priced(row: Stocked) -> bool:
        return row.price_per_unit is not None or row.ingredient.is_kind("water")

    kept = tuple(filter(is_priced, bar.stock))
    if all(row.ingredient.is_kind("water") for row in kept):
        remedy = "Give one, like `equipour shelf set gin --size 70cl --price 22`."
        raise BadInput("nothing here has a price", remedy=remedy)
    gone = tuple(row.ingredient.key for row in bar.stock if not is_priced(row))
    return replace(bar, stock=kept), gone


def _within(bar: Bar, key: str) -> tuple[str, ...]:
    row, item = bar.stocked(key), bar.library.get(key)
    if (row and row.price_per_unit is not None) or (item and item.is_kind("water")):
        return ()
    if row is not None and row.fruit is not None:
        return (row.fruit.key,)
    if key not in bar.recipes:
        return (key,)
    return unpriced_inputs(bar, key) or (key,)
