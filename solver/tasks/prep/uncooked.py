"""House recipes that were not cooked yet, as ingredients to design with."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import replace

from solver.errors import BadInput, BadInputs
from solver.pantry.bar import Bar
from solver.pantry.library import fold
from solver.pantry.recipe import Recipe
from solver.pantry.stocked import Stocked, in_order
from solver.tasks.prep.prepare import prepare, price_by_recipe


def with_uncooked(bar: Bar, recipes: Iterable[Recipe]) -> Bar:
    """The bar with the expected result of some recipes in stock.

    Their keys are in `uncooked` of the bar; they cost what goes into them, and never run out.

    Raises:
        BadInput, BadInputs: a recipe is wrong.
    """
    for recipe in recipes:
        row = _expected(recipe, bar)
        bar = replace(
            bar,
            library=bar.library.shadowed_by([row.ingredient]),
            stock=in_order((*bar.stock, row)),
            uncooked=bar.uncooked | {recipe.key},
        )
    return bar


def with_written_ahead(bar: Bar) -> Bar:
    """The bar with the expected result of recipes that its specs pour and nobody has cooked yet.

    Specs can then be read, and nothing else pours them. A recipe with a mistake is left out: its
    specs report it.
    """
    return _with_expected(bar, bar.written_ahead)


def with_said_ahead(bar: Bar, pours: Iterable[str]) -> Bar:
    """The bar with the expected result of recipes that typed pours name, as for its specs."""
    lines = [f" {fold(line)}" for line in pours]
    waiting = {key for key in bar.recipes if bar.bottles.by_key(key) is None}
    named = {
        key: bar.recipes[key]
        for name, key in bar.library.house.means.items()
        if key in waiting and any(line.endswith(f" {name}") for line in lines)
    }
    return _with_expected(bar, named.values()) if named else bar


def _with_expected(bar: Bar, recipes: Iterable[Recipe]) -> Bar:
    expected = {**bar.expected}
    for recipe in recipes:
        with suppress(BadInput, BadInputs):
            expected[recipe.key] = _expected(recipe, bar)
    return replace(bar, expected=expected, uncooked=bar.uncooked | expected.keys())


def _expected(recipe: Recipe, bar: Bar) -> Stocked:
    """The expected batch of a recipe as a row of the shelf.

    Raises:
        BadInput, BadInputs: the recipe is wrong.
    """
    prep = prepare(recipe, bar, bar.today)
    return Stocked(prep.ingredient, worked_out=price_by_recipe(prep))
