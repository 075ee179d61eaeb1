"""Scale a recipe to a wanted amount by its yield."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from solver.kitchen.batch import mass_g, measured
from solver.kitchen.cooking import Cooking
from solver.tasks.prep.amount_to_make import AmountToMake
from solver.tasks.prep.prepare import Prep

FINE_BELOW = 10.0
"""Below so many steps a scale that shows tenths of a step is used."""


@dataclass(frozen=True)
class ScaledRecipe:
    """Grams of each input in the order of the recipe, and the expected yield."""

    asked: str
    grams: tuple[float, ...]
    volume_ml: float
    mass_g: float


def scaled_recipe(prep: Prep, asked: AmountToMake) -> ScaledRecipe:
    """The inputs for an amount, in whole grams.

    Losses scale with the batch: a wider pan or a longer simmer would change them.
    """
    whole = prep.figures
    times = asked.factor(whole.volume_ml.value, whole.mass_g.value)
    cooking = prep.numbers.cooking.scaled(times)
    inputs = tuple(replace(item, grams=scale_grams(item.grams)) for item in cooking.inputs)
    out = Cooking(inputs, cooking.steps).run(prep.fit.scores[np.newaxis]).batch
    return ScaledRecipe(
        asked=asked.said,
        grams=tuple(item.grams for item in inputs),
        volume_ml=float(measured(out).volume_ml[0]),
        mass_g=float(mass_g(out)[0]),
    )


def scale_grams(grams: float, step: float = 1.0) -> float:
    """Grams as a scale shows them: whole, or tenths below ten; likewise with another step."""
    fine = step / 10 if grams < FINE_BELOW * step else step
    return round(round(grams / fine) * fine, 6)
