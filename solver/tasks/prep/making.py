"""How much of everything makes a wanted amount: a recipe scaled by what it yielded."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from solver.errors import BadInput
from solver.kitchen.batch import mass_g, measured
from solver.kitchen.cooking import Cooking
from solver.quantities import Measures, parse_pour
from solver.tasks.prep.prepare import Prep

FINE_BELOW_G = 10.0
"""Below this a scale that shows tenths of a gram is used."""


@dataclass(frozen=True)
class Making:
    """Grams of each input, in the order of the recipe, and what is expected to come out of them."""

    asked: str
    grams: tuple[float, ...]
    volume_ml: float
    mass_g: float


def making(prep: Prep, asked: str, measures: Measures) -> Making:
    """The inputs for an amount as written, "1.5 L" or "2 kg", in whole grams.

    The losses grow with the batch: a wider pan or a longer simmer would change them.

    Raises:
        BadInput: the amount can't be read or is nothing.
    """
    pour = parse_pour(asked, measures, example="1.5 L or 2 kg")
    if pour.unit == "piece" or pour.value <= 0:
        what = f"'{asked}' is no amount to make"
        raise BadInput(what, remedy="Write it like 1.5 L or 2 kg.")
    whole = prep.figures.mass_g if pour.unit == "g" else prep.figures.volume_ml
    cooking = prep.numbers.cooking.scaled(pour.value / whole.value)
    inputs = tuple(replace(item, grams=scale_grams(item.grams)) for item in cooking.inputs)
    out = Cooking(inputs, cooking.steps).run(prep.fit.scores[np.newaxis]).batch
    return Making(
        asked=pour.said,
        grams=tuple(item.grams for item in inputs),
        volume_ml=float(measured(out).volume_ml[0]),
        mass_g=float(mass_g(out)[0]),
    )


def scale_grams(grams: float) -> float:
    """What a scale can weigh: whole grams, or tenths below ten."""
    return round(grams, 1) if grams < FINE_BELOW_G else float(round(grams))
