"""When something that the house makes is ready: the days that its recipe lets it stand."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Final

from solver.pantry.recipe import Recipe
from solver.pantry.stocked import Stocked
from solver.quantities import Measures, parse

KITCHEN_DAY_H: Final = 9.0
"""Hours from when a kitchen begins until a bar opens: common practice, no source."""


def days_to_wait(recipe: Recipe, measures: Measures) -> int:
    """Days after the one on which it is begun until it is ready when the bar opens; 0: that day.

    Raises:
        BadInput: a time can't be read.
    """
    minutes = [
        parse(step.time, "time", measures) for step in recipe.table.steps if step.time is not None
    ]
    return max(0, math.ceil((math.fsum(minutes) / 60 - KITCHEN_DAY_H) / 24))


def with_waits(row: Stocked, recipes: Mapping[str, Recipe], measures: Measures) -> Stocked:
    """A row that knows how many days what is in it has to stand.

    Raises:
        BadInput: a time of its recipe can't be read.
    """
    recipe = recipes.get(row.ingredient.key)
    days = 0 if recipe is None else days_to_wait(recipe, measures)
    return replace(row, waits=days) if days else row
