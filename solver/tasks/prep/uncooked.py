"""House recipes that were not cooked yet, as something to design with."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from dataclasses import replace

from solver.errors import BadInput, BadInputs
from solver.pantry.bar import Bar
from solver.pantry.recipe import Recipe
from solver.pantry.stocked import Stocked, in_order
from solver.tasks.prep.prepare import prepare, price_by_recipe


def with_uncooked(bar: Bar, recipes: Iterable[Recipe]) -> Bar:
    """The bar as if what some recipes make were there, as each recipe expects it.

    What was put in stands in `uncooked` of the bar, costs what goes into it, and never runs out.

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
    """The bar with what its specs pour and nobody has cooked yet, as each recipe expects it.

    Specs can be read then, and nothing else pours it. A recipe with a mistake is left aside: its
    specs are told with their own.
    """
    expected: dict[str, Stocked] = {}
    for recipe in bar.written_ahead:
        with suppress(BadInput, BadInputs):
            expected[recipe.key] = _expected(recipe, bar)
    return replace(bar, expected=expected, uncooked=bar.uncooked | expected.keys())


def _expected(recipe: Recipe, bar: Bar) -> Stocked:
    """A batch of a recipe as a row of the shelf.

    Raises:
        BadInput, BadInputs: the recipe is wrong.
    """
    prep = prepare(recipe, bar, bar.today)
    return Stocked(prep.ingredient, worked_out=price_by_recipe(prep))
