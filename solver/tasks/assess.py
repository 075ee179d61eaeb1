"""Assess a drink that exists: what its pours are in the glass."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.errors import BadInput
from solver.mixture.blend import Finished
from solver.mixture.drink import finish
from solver.mixture.melt import TECHNIQUES
from solver.pantry.bar import Bar
from solver.pantry.checked import short
from solver.pantry.ingredient import Ingredient
from solver.quantities import parse_pour
from solver.tasks.request import curve_of


@dataclass(frozen=True)
class Assessment:
    """The pours (mL, or g of what is weighed), and what they are before ice and in the glass."""

    pours: tuple[tuple[Ingredient, float], ...]
    technique: str
    before: Finished
    finished: Finished
    melt_ml: float


def assess(lines: tuple[str, ...], technique: str, bar: Bar) -> Assessment:
    """Assess pours written like "2 oz rye-whiskey"; the bar's own figures for a bottle count.

    Raises:
        BadInput: a pour or the technique is not known.
    """
    if technique not in TECHNIQUES:
        what = f"'{technique}' is not a technique known here"
        raise BadInput(what, remedy=f"Known: {', '.join(TECHNIQUES)}.")
    pours = tuple(_pour(line, bar) for line in lines)
    total = np.sum([ingredient.composition() * amount for ingredient, amount in pours], axis=0)
    mixed = finish(total, None, curve_of(technique, bar))
    return Assessment(pours, technique, mixed.before, mixed.finished, float(mixed.melt_ml))


def _pour(line: str, bar: Bar) -> tuple[Ingredient, float]:
    """The longest ending of the line that names an ingredient is it; the rest is the amount."""
    words = line.split()
    for cut in range(1, len(words)):
        name = " ".join(words[cut:])
        if name in bar.library:
            found = bar.library.find(name)
            stocked = bar.stocked(found.key)
            ingredient = stocked.ingredient if stocked else found
            return ingredient, ingredient.units(parse_pour(" ".join(words[:cut]), bar.measures))
    remedy = "Write it like '2 oz rye-whiskey'."
    if line in bar.library:
        raise BadInput(f"'{short(line)}' is poured without an amount", remedy=remedy)
    what = f"'{short(line)}' is not a pour of anything known here"
    near = bar.library.near(words[-1]) if words else ()
    raise BadInput(what, near=near, remedy=remedy)
