"""House recipes that were not cooked yet, as something to design with."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from solver.pantry.bar import Bar
from solver.pantry.recipe import Recipe
from solver.pantry.shelf import Stocked, in_order
from solver.tasks.prep.prepare import prepare, price_by_recipe


def with_uncooked(bar: Bar, recipes: Iterable[Recipe]) -> Bar:
    """The bar as if what some recipes make were there, as each recipe expects it.

    What was put in stands in `uncooked` of the bar, costs what goes into it, and never runs out.

    Raises:
        BadInput, BadInputs: a recipe is wrong.
    """
    for recipe in recipes:
        prep = prepare(recipe, bar, bar.today)
        row = Stocked(prep.ingredient, worked_out=price_by_recipe(prep))
        bar = replace(
            bar,
            library=bar.library.shadowed_by([prep.ingredient]),
            stock=in_order((*bar.stock, row)),
            uncooked=bar.uncooked | {recipe.key},
        )
    return bar
