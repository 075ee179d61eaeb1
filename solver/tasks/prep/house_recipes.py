"""The house ingredients of a drink for its card: recipe, days, cautions."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.drinks.card import House
from solver.errors import BadInput, BadInputs
from solver.mixture.blend import SUGAR, WATER
from solver.mixture.keeping import water_activity
from solver.mixture.numeric import ratio
from solver.pantry.bar import Bar
from solver.pantry.ingredient import Ingredient
from solver.pantry.pour import Pour
from solver.pantry.recipe import Recipe
from solver.pantry.recipe_inputs import everything_in
from solver.tasks.prep.prepare import prepare
from solver.tasks.prep.shelf_life import ALWAYS, Keeping, keeping_of


def house_of(lines: Sequence[Pour], bar: Bar) -> tuple[House, ...]:
    """The house ingredients of a drink, each once, followed by those that go into it. Empty if
    none."""
    found: dict[str, House] = {}
    for line in lines:
        for item in (line.ingredient, *_below(line.ingredient, bar)):
            own = item.key in bar.house or item.key in bar.recipes
            if own and item.key not in found:
                found[item.key] = _house(item, bar)
    return tuple(found.values())


def keeping_as_stated(item: Ingredient, bar: Bar) -> Keeping:
    """How long a house ingredient keeps by the figures of its file, and its hazards."""
    recipe = bar.recipes.get(item.key)
    composition = np.asarray(bar.composition(item))
    sweet = composition[SUGAR] + composition[WATER]
    return keeping_of(
        (item, *_below(item, bar)),
        strained=recipe is not None and recipe.table.strains,
        brix=float(100.0 * ratio(composition[SUGAR], sweet)),
        sugar_g_100ml=item.sugar.value,
        acid_g_100ml=item.acid.value,
        abv_pct=item.abv.value,
        activity=float(water_activity(composition)),
    )


def _below(item: Ingredient, bar: Bar) -> tuple[Ingredient, ...]:
    return everything_in(item.key, bar.inputs, bar.library, {*bar.recipes, *bar.house})


def _house(item: Ingredient, bar: Bar) -> House:
    keeping, stocked, recipe = (
        keeping_as_stated(item, bar),
        bar.stocked(item.key),
        bar.recipes.get(item.key),
    )
    told = bar.told_of(item).kitchen_cautions
    hazards = (each for each in keeping.hazards if each != ALWAYS)
    return House(
        ingredient=item,
        recipe=recipe,
        expected_ml=None if recipe is None else _expected_ml(recipe, bar),
        days=keeping.life.days if item.life is None else int(item.life.value),
        use_by=stocked.use_by if stocked else None,
        cautions=tuple(dict.fromkeys((*told, *hazards))),
    )


def _expected_ml(recipe: Recipe, bar: Bar) -> float | None:
    """The expected yield of a recipe that was not measured; None if it was, or cannot be
    computed."""
    measured = recipe.table.measured
    if measured.weight or measured.volume:
        return None
    try:
        return prepare(recipe, bar, bar.today).figures.volume_ml.value
    except (BadInput, BadInputs):
        return None
